// @ts-check
// Looking at outlines that the program found: a question with its answers, and under
// it each pad cut out with its own row of swatches in order, one analyte a line.
import * as api from '../server/api.js';
import { $, button, say } from '../common/dom.js';
import { cellsUnmarked } from '../marking/cells.js';
import { answerWords, doubtful, doubts } from './answers.js';
import { lineOf } from './line.js';
import { previewOf } from './preview.js';

/** @import { Choice, Question } from '../server/api.js' */
/** @import { Find } from './find.js' */
/** @import { Doing } from './line.js' */
/** @import { Store } from '../state/store.js' */

const wait = 120; // milliseconds after a change, as while an outline is dragged
const tooSoon = 350; // milliseconds
const asked = 'Is each outline on its patch, each pad beside its own row, and each row in order?';

export class LookAt {
  /**
   * @param {Store} store
   * @param {Find} find
   */
  constructor(store, find) {
    this.store = store;
    this.find = find;
    this.timer = 0;
    this.drawn = ''; // the question that is drawn
    this.shownAt = 0;
    this.choosing = ''; // the analyte whose pad is being given to another row
    /** @type {Map<string, HTMLElement>} pictures that are there, to be shown again */
    this.pictures = new Map();
    /** @type {Map<string, string>} how rows contradict the chart, by their analyte */
    this.against = new Map();
    this.seen = ''; // the marks that were held against the chart last
    store.on((what) => {
      if (what === 'doc' || what === 'chart') this.soon();
      if (what === 'found') this.show();
    });
  }

  // soon draws once a drag rests; what was looked at goes at once.
  soon() {
    clearTimeout(this.timer);
    if (this.store.doc.unchecked) this.timer = setTimeout(() => this.draw(), wait);
    else this.leave();
  }

  // leave takes the question away, and the focus that was in it to what comes next.
  leave() {
    const inside = $('found-part').contains(document.activeElement), title = $('result-title');
    this.draw();
    if (inside) (title.checkVisibility() ? title : $('stage')).focus({ preventScroll: true });
  }

  // show draws what was found or answered, and leads to the question.
  show() {
    const at = document.activeElement, idle = !at || at === document.body || at.id === 'stage' || !at.checkVisibility();
    const here = $('found-part').contains(at);
    this.choosing = '';
    this.draw();
    say($('found-said'), this.store.doc.unchecked ? this.said() : this.find.why);
    if (!this.store.doc.unchecked) return;
    if (idle || here) $('found-title').focus();
  }

  // said is what was found, to be heard.
  said() {
    const { regions, corners } = this.store.doc, { why_not: why } = this.find.outline;
    /** @param {string} role */
    const count = (role) => regions.filter((r) => r.role === role).length;
    const swatches = corners.length === 4 && !count('swatch') ? "the chart's four corners" : many(count('swatch'), 'swatch', 'swatches');
    const found = [many(count('pad'), 'pad'), swatches, many(count('white'), 'white area')];
    return `Found: ${found.join(', ')}. ${why} Nothing is read before you have looked at them.`;
  }

  draw() {
    clearTimeout(this.timer);
    const { store } = this, { photo, chart, doc } = store, shown = Boolean(photo && chart && doc.unchecked);
    if (shown && $('found-part').hidden) this.drawn = '';
    $('found-part').hidden = !shown;
    document.body.toggleAttribute('data-looking', shown);
    if (!shown) return this.pictures.clear();
    this.drawQuestion(this.find.question);
    this.drawRows();
    this.contradictions();
  }

  /** @param {Question | null} q */
  drawQuestion(q) {
    const { doc, opened } = this.store, now = JSON.stringify([opened.id, doc.answered, doc.asked, q]);
    if (now === this.drawn) return;
    this.drawn = now;
    this.shownAt = performance.now();
    $('found-title').textContent = q ? q.text : doubts(doc.asked) + asked;
    say($('found-why'), this.find.outline.why_not);
    $('found-answers').replaceChildren(...(q ? q.answers.map((c, i) => this.answer(q, c, i)) : [this.yes()]));
    if (!document.getElementById('found-hand')) $('found-answers').append(this.press('By hand', () => this.find.hand(), 'found-hand'));
  }

  /**
   * answer is the button of an answer.
   * @param {Question} q
   * @param {Choice} c
   * @param {number} i
   */
  answer(q, c, i) {
    const id = c.code === 'none-of-all' ? 'found-hand' : `found-answer-${i}`;
    const { opened, chosen } = this.store, b = this.press(answerWords(q, c), () => this.find.choose(q, c), id);
    const picture = previewOf(opened, chosen, q, c);
    if (picture) b.prepend(picture);
    b.classList.toggle('with-preview', Boolean(picture));
    return b;
  }

  // yes is the button that says that all was looked at.
  yes() {
    const b = this.press('Yes, these are right', () => this.find.yes(), 'found-yes');
    b.classList.add('first');
    return b;
  }

  /**
   * press is a button that does nothing while it has just come under the finger.
   * @param {string} text
   * @param {() => void} act
   * @param {string} id
   */
  press(text, act, id) {
    return button(text, () => { if (performance.now() - this.shownAt > tooSoon) act(); }, { id });
  }

  drawRows() {
    const { store } = this, { doc, opened } = store, at = document.activeElement, box = $('found-rows');
    const focused = at instanceof HTMLElement && box.contains(at) ? at.dataset.act : undefined;
    const { question } = this.find, asked = question ? doubtful(question) : new Set();
    const rows = store.chosen.analytes.filter((a) => !doc.skipped.includes(a.name));
    box.replaceChildren(...rows.map((a) => lineOf(a, { doc, rows, cells: cellsUnmarked(store), photo: opened, asked, do: this.doing() })));
    const again = focused && [...box.querySelectorAll('button')].find((b) => b.dataset.act === focused);
    if (again) again.focus();
    else if (focused) $('found-title').focus();
  }

  /** @returns {Doing} */
  doing() {
    const { find, store } = this;
    return {
      choosing: this.choosing,
      against: this.against,
      picture: (key, make) => this.picture(key, make),
      turn: (a) => find.turn(a),
      choose: (a) => { this.choosing = this.choosing === a ? '' : a; this.drawRows(); },
      exchange: (a, b) => { this.choosing = ''; find.exchange(a, b); },
      select: (id) => { store.select(id); find.marking.reveal(id); },
    };
  }

  /**
   * picture is one that is there already, or a new one.
   * @param {string} key
   * @param {() => HTMLElement} make
   */
  picture(key, make) {
    const have = this.pictures.get(key) || make();
    this.pictures.set(key, have);
    return have;
  }

  // contradictions asks how the rows as they are marked contradict the chart.
  async contradictions() {
    const { store } = this, now = JSON.stringify([store.opened.id, store.doc.regions, store.doc.corners, store.chart]);
    if (now === this.seen) return;
    this.seen = now;
    const { rows, placed } = await api.rows(store.opened.id, store.work()).catch(() => ({ rows: [], placed: [] }));
    if (now !== this.seen || !store.doc.unchecked) return;
    store.placed = placed; // swatches that only the chart's corners place are looked at too
    store.tell('placed');
    const { order } = this.find.marking;
    this.against = new Map(rows.filter((r) => order.contradicts(r)).map((r) => [r.analyte, order.why(r)]));
    this.drawRows();
  }
}

/**
 * @param {number} n
 * @param {string} one
 * @param {string} [more]
 */
const many = (n, one, more = `${one}s`) => `${n || 'no'} ${n === 1 ? one : more}`;
