// @ts-check
// Outlines that the program finds by itself, as soon as a photo and its chart are there
// and nothing is marked. They stand on the photo until a person has looked at them, and
// nothing is read before.
import * as api from '../server/api.js';
import { told } from '../common/words.js';
import { local, stamp } from '../sample/time.js';
import { answer, byHand, exchangePads, isThere, nameOf, number, padOrder, take } from './outlines.js';
import { turnRow } from '../marking/turn.js';
import { lookedAt } from '../strip/looked.js';

/** @import { Choice, Outline, Question } from '../server/api.js' */
/** @import { Marking } from '../marking/marking.js' */
/** @import { MarksFile, Region } from '../state/files.js' */
/** @import { Store } from '../state/store.js' */

const looking = 'The program looks for the strip and the chart. You can mark meanwhile.';

export class Find {
  /**
   * @param {Store} store
   * @param {Marking} marking
   */
  constructor(store, marking) {
    this.store = store;
    this.marking = marking;
    this.on = false; // the program looks for outlines
    this.asked = ''; // the photo and the chart that were looked at last
    /** @type {Outline} what was found there */
    this.outline = { marks: null, questions: [], why_not: '' };
    this.timer = 0;
    store.on((what) => { if (what === 'doc' || what === 'chart') this.soon(); });
  }

  // begin looks for outlines from now on.
  begin() {
    this.on = true;
    this.soon();
  }

  // soon looks once all that begins with a photo was told.
  soon() {
    clearTimeout(this.timer);
    if (this.on) this.timer = setTimeout(() => this.look(), 0);
  }

  // look asks once for each photo and chart.
  look() {
    const { photo, chart, doc } = this.store;
    if (!photo || !chart) return;
    const now = JSON.stringify([photo.id, chart.chart, chart.analytes.map((a) => [a.name, a.swatches.map((s) => s.value)])]);
    if (now === this.asked) return;
    this.asked = now;
    this.outline = { marks: null, questions: [], why_not: '' };
    if (doc.unchecked || isBare(this.store)) this.store.during(() => this.ask(now));
  }

  /** @param {string} now */
  async ask(now) {
    const { store } = this;
    if (!store.doc.unchecked) store.say(looking);
    try {
      const outline = await api.outline(store.opened.id, store.chosen, lookedAt(store));
      if (now === this.asked) this.came(outline);
    } catch (e) {
      if (now === this.asked && store.told === looking) store.say(told(e));
    }
  }

  /**
   * came takes what was found, unless a person has begun to mark.
   * @param {Outline} outline
   */
  came(outline) {
    const { store } = this;
    if (store.doc.unchecked) return this.goOn(outline);
    if (!isBare(store)) return;
    const { marks } = outline;
    this.outline = outline;
    if (!marks) return this.nothing();
    const { unsaved } = store;
    store.change((d) => take(d, store.chosen, marks, () => store.newId()));
    if (!unsaved) store.handed.push(store.version()); // nobody did anything yet
    store.tell('found');
  }

  // nothing says why there are no outlines.
  nothing() {
    this.store.say(this.why);
    this.store.tell('found');
  }

  // why is why all is to be marked by hand; empty where it is not.
  get why() {
    const { marks, why_not: why } = this.outline;
    return marks || !why ? '' : `${why} Mark by hand; if it is another chart, choose that under "Marks and steps".`;
  }

  /**
   * goOn takes the questions about outlines that were there before: of a file, or of a
   * page that was loaded again.
   * @param {Outline} outline
   */
  goOn(outline) {
    const { store } = this, { marks } = outline;
    if (marks && (store.doc.answered > 0 || isOf(store.doc.regions, marks))) this.outline = outline;
    store.tell('found');
  }

  // question is the next one that is open.
  get question() {
    const { doc } = this.store;
    return doc.unchecked ? this.outline.questions[doc.answered] ?? null : null;
  }

  /**
   * choose answers the question.
   * @param {Question} q
   * @param {Choice} c
   */
  choose(q, c) {
    const { store } = this, first = this.outline.marks;
    if (c.code === 'none-of-all' || !first) return this.hand();
    store.change((d) => {
      const before = d.regions;
      d.answered++;
      d.asked = less(d.asked, q.code);
      if (c === q.answers[0]) return;
      answer(d, first, c.marks, () => store.newId());
      number(d, store.chosen, q.code === 'rows' ? before : []);
    });
    store.tell('found');
  }

  // hand takes the outlines away, to be marked by hand.
  hand() {
    const { store } = this;
    store.selected = null;
    store.change((d) => byHand(d));
    store.say('The outlines are taken away, but for those that you moved. Undo brings them back.');
    document.getElementById('stage')?.focus();
  }

  /**
   * turn exchanges the values of a row.
   * @param {string} analyte
   */
  turn(analyte) {
    const a = this.store.chosen.analytes.find((x) => x.name === analyte);
    if (a) this.store.change((d) => turnRow(d, a));
  }

  /**
   * exchange gives the pads of two analytes to each other's rows.
   * @param {string} a
   * @param {string} b
   */
  exchange(a, b) { this.store.change((d) => exchangePads(d, this.store.chosen, a, b)); }

  // again lets a person look again at what was taken for right.
  again() {
    this.store.change((d) => {
      d.unchecked = true;
      d.answered = this.outline.questions.length;
    });
    this.store.tell('found');
  }

  // yes says that a person has looked at the outlines, and keeps with the chart what that tells of it.
  async yes() {
    const { store } = this, { opened } = store, doc = store.doc;
    const { rows } = await api.rows(opened.id, store.work()).catch(() => ({ rows: [] }));
    if (doc !== store.doc || opened !== store.photo) return;
    const chart = this.marking.order.looked(rows), order = padOrder(doc, chart);
    if (order && JSON.stringify(order) !== JSON.stringify(chart.strip)) chart.strip = order;
    if (JSON.stringify(chart) !== JSON.stringify(store.chart)) store.use(chart);
    store.change((d) => {
      const moved = d.looked?.moved;
      d.unchecked = false;
      d.asked = [];
      d.looked = { at: stamp(local(new Date())), ...(moved ? { moved } : {}) };
    });
    store.tell('chart');
    store.tell('found');
  }
}

/**
 * less is the codes without one of a kind.
 * @param {string[]} all
 * @param {string} code
 */
function less(all, code) {
  const at = all.indexOf(code);
  return all.filter((_, i) => i !== at);
}

/**
 * isBare is whether nothing is marked.
 * @param {Store} store
 */
function isBare({ doc }) { return !doc.regions.length && !doc.corners.length; }

/**
 * isOf is whether the pads and swatches of a file are those that were found.
 * @param {Region[]} regions
 * @param {MarksFile} marks
 */
function isOf(regions, marks) {
  const found = new Map((marks.regions || []).map((m) => [nameOf(m), m]));
  return regions.every((r) => !r.analyte || (isThere(r, found.get(nameOf(r)))));
}
