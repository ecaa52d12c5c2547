// @ts-check
// The reading, made anew by the server after each change.
import * as api from '../server/api.js';
import { $, button, say } from '../common/dom.js';
import { told } from '../common/words.js';
import { isAborted } from '../server/call.js';
import { marksAt, marksOfReading } from './places.js';

/** @import { Answer } from '../server/api.js' */
/** @import { Marking } from '../marking/marking.js' */
/** @import { Store } from '../state/store.js' */
/** @import { Sample } from '../sample/form.js' */
/** @import { Against } from './against.js' */
/** @import { Place } from './places.js' */

const wait = 250; // milliseconds after a change
const least = 200; // CSS pixels of a reading that show its value
const longestName = 60; // characters of a warning in a button's name

export class Reading {
  /**
   * @param {Store} store
   * @param {Marking} marking
   * @param {Against} against
   * @param {Sample} sample
   * @param {(photo: string) => void} open shows another photo of the strip
   */
  constructor(store, marking, against, sample, open) {
    this.store = store;
    this.open = open;
    /** @type {Place[]} where to point once the photo that was opened for it is read */
    this.later = [];
    this.sample = sample;
    this.marking = marking;
    this.against = against;
    /** @type {string[]} marks that stay lit: of the warning that was asked for last */
    this.pinned = [];
    /** @type {Set<string>} analytes whose figures are unfolded */
    this.unfolded = new Set();
    /** @type {Answer | null} the answer that is drawn */
    this.drawn = null;
    this.said = ''; // what is read aloud
    /** @type {AbortController | null} the call under way */
    this.call = null;
    this.timer = 0;
    store.on((what) => {
      if (what === 'doc' || what === 'chart' || what === 'against') this.changed();
      if (what === 'doc' || what === 'reading') this.draw();
    });
  }

  // changed asks for a new reading soon, and drops one under way.
  changed() {
    clearTimeout(this.timer);
    this.call?.abort();
    if (!this.store.photo || !this.store.chart) return;
    if (this.store.doc.unchecked) return this.none();
    this.timer = setTimeout(() => this.ask(), wait);
  }

  // none shows no reading: nobody has looked at the outlines yet.
  none() {
    const { store } = this, had = store.answer;
    store.complete = false;
    store.answer = null;
    if (had) store.tell('reading');
  }

  /** @returns {Promise<void>} */
  async ask() {
    const { store } = this, call = (this.call = new AbortController());
    $('result-part').setAttribute('aria-busy', 'true');
    try {
      this.take(await api.reading(store.opened.id, store.work(), call.signal));
    } catch (e) {
      if (isAborted(e)) return;
      if (this.against.refused(e)) return this.ask();
      this.failed(e);
    } finally {
      if (call === this.call) $('result-part').removeAttribute('aria-busy');
    }
  }

  /** @param {Answer} answer */
  take(answer) {
    const { store } = this, placed = answer.placed || [], before = store.complete;
    const moved = JSON.stringify(placed) !== JSON.stringify(store.placed);
    this.sample.refused(null);
    store.problem = '';
    store.answer = answer;
    store.placed = placed;
    store.complete = Boolean(answer.json && answer.complete);
    store.over.lit = new Set();
    this.pinned = [];
    if (moved) store.tell('placed');
    store.tell('reading');
    if (!before && store.complete && !this.pending(answer).length && !store.over.draft) this.reveal();
    if (this.later.length) this.point(this.later.splice(0));
  }

  // reveal brings the value into sight when all is marked: on a narrow screen it stands below the
  // photo, and below what is said of further photos while one is due.
  reveal() {
    const { top, bottom } = $('reading').getBoundingClientRect(), due = $('shots-due').checkVisibility();
    const shown = Math.min(bottom, top + least);
    if (top < 0 || shown > innerHeight) $(due ? 'shots-part' : 'result-part').scrollIntoView({ block: 'start' });
  }

  /**
   * failed keeps the last reading off the page: it is not of these marks.
   * @param {unknown} e
   */
  failed(e) {
    this.sample.refused(e);
    this.store.complete = false;
    this.store.answer = null;
    this.store.problem = told(e);
    this.store.tell('reading');
  }

  draw() {
    const { answer } = this.store;
    if (answer !== this.drawn) this.drawAnswer(answer);
    this.drawn = answer;
  }

  /** @param {Answer | null} answer */
  drawAnswer(answer) {
    const nodes = answer ? this.nodes(answer) : [];
    $('reading').replaceChildren(...nodes);
    $('pending').textContent = answer ? [pendingWords(this.pending(answer)), ...(answer.left || [])].filter(Boolean).join(' ') : '';
    if (answer?.say) this.said = answer.say;
    say($('say'), this.said);
    if (answer?.html) $('against-form').hidden = false; // before there is a reading it would only be in the way
  }

  /**
   * nodes are the reading as the server wrote it, and what a person can do there.
   * @param {Answer} answer
   */
  nodes(answer) {
    const { body } = new DOMParser().parseFromString(answer.html || '', 'text/html');
    this.withoutPending(body, answer);
    for (const d of body.querySelectorAll('details')) this.folding(d);
    for (const li of body.querySelectorAll('li')) this.pointing(li);
    for (const s of body.querySelectorAll('section')) this.lighting(s);
    return body.childNodes;
  }

  /**
   * pending are the analytes that cannot be read yet.
   * @param {Answer} answer
   */
  pending(answer) { return (answer.pending || []).filter((p) => !this.store.doc.skipped.includes(p.analyte)); }

  /**
   * withoutPending takes out of the reading what the page says itself: what is not marked yet.
   * @param {HTMLElement} body
   * @param {Answer} answer
   */
  withoutPending(body, answer) {
    const names = this.pending(answer).map((p) => p.analyte);
    for (const s of body.querySelectorAll('.reading-left')) {
      for (const li of s.querySelectorAll('li')) {
        if (li.dataset.code === 'no-pad' && names.includes(li.dataset.analyte ?? '')) li.remove();
      }
      if (!s.querySelector('li')) s.remove();
    }
  }

  /**
   * folding keeps unfolded what a person unfolded.
   * @param {HTMLDetailsElement} d
   */
  folding(d) {
    const of = ownerOf(d);
    d.open = this.unfolded.has(of);
    d.addEventListener('toggle', () => {
      if (d.open) this.unfolded.add(of);
      else this.unfolded.delete(of);
    });
  }

  /**
   * pointing lets a warning show where on the photo it lies.
   * @param {HTMLElement} li
   */
  pointing(li) {
    if (!li.dataset.where) return;
    /** @type {Place[]} */
    const places = JSON.parse(li.dataset.where);
    const where = places.filter((p) => p.kind !== 'photo');
    if (!where.length) return;
    const name = `Show on the photo: ${(li.textContent || '').slice(0, longestName)}`;
    li.append(' ', button('Show on the photo', () => this.point(where, this.photoOf(li)), { class: 'where', 'aria-label': name }));
  }

  /**
   * lighting lights a reading's marks while it is looked at.
   * @param {HTMLElement} section
   */
  lighting(section) {
    const { analyte, bracket } = section.dataset;
    if (analyte === undefined) return;
    const values = bracket ? bracket.split(' ').map(Number) : [];
    const light = () => { if (this.isHere(this.photoOf(section))) this.lightUp(marksOfReading(this.store, analyte, values)); };
    const back = () => this.lightUp(this.pinned);
    section.addEventListener('pointerenter', light);
    section.addEventListener('pointerleave', back);
    section.addEventListener('focusin', light);
    section.addEventListener('focusout', back);
  }

  /** @param {string[]} marks */
  lightUp(marks) { this.store.show({ lit: new Set(marks) }); }

  /**
   * photoOf is the photo of several that an element of the reading is from.
   * @param {Element} e
   */
  photoOf(e) {
    const at = e.closest('[data-photo]'), number = at instanceof HTMLElement ? Number(at.dataset.photo) : -1;
    return this.store.answer?.photos?.[number] ?? '';
  }

  /** @param {string} photo */
  isHere(photo) { return !photo || photo === this.store.photo?.id; }

  /**
   * point lights up where a warning lies; on another photo of the strip once that is shown.
   * @param {Place[]} where
   * @param {string} [photo]
   */
  point(where, photo = '') {
    if (!this.isHere(photo)) {
      this.later = where;
      return this.open(photo);
    }
    this.pinned = where.flatMap((p) => marksAt(this.store, p));
    this.lightUp(this.pinned);
    if (this.pinned.length) this.marking.reveal(this.pinned[0]);
    $('stage').scrollIntoView({ block: 'nearest' });
  }
}

/** @param {{analyte: string, text: string}[]} list */
function pendingWords(list) {
  return list.length ? `Not read yet: ${list.map((p) => `${p.analyte} (${p.text})`).join('; ')}.` : '';
}

/**
 * ownerOf is the analyte that an element of the reading is about.
 * @param {Element} e
 */
function ownerOf(e) {
  const at = e.closest('[data-analyte]');
  return at instanceof HTMLElement ? at.dataset.analyte ?? '' : '';
}
