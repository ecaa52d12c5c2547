// @ts-check
// How the water looked before the dip, kept before there is a photo. The photo that
// is opened next takes it over, where it can be of the same water.
import { $, button, el } from '../common/dom.js';
import { longest, nameOf } from './dip.js';
import { answer, asked, looked, noteOnWater, water } from './said.js';
import { local, stamp } from './time.js';

/** @import { Photo } from '../server/api.js' */
/** @import { Store } from '../state/store.js' */

/**
 * What was said of the water: when, and the photo that took it over.
 * @typedef {{water: string, at: string, photo: string}} Said
 */

const place = 'padband water';

export class Look {
  /** @param {Store} store */
  constructor(store) {
    this.store = store;
    this.said = remembered();
    this.why = ''; // why the photo does not take it over
    this.question = asked(water, { name: 'next-water', asks: `Before the dip: ${water.asks[0].toLowerCase()}${water.asks.slice(1)}` });
    this.question.onchange = (e) => { if (e.target instanceof HTMLInputElement) this.take(e.target.value); };
    $('look').append(this.question);
    this.draw();
    store.on((what) => { if (what === 'doc') this.draw(); });
  }

  /**
   * take keeps what was said for the next photo.
   * @param {string} said
   */
  take(said) { this.keep(said ? { water: said, at: stamp(local(new Date())), photo: '' } : null); }

  /** @param {Said | null} said */
  keep(said) {
    this.said = said;
    this.why = '';
    try {
      if (said) localStorage.setItem(place, JSON.stringify(said));
      else localStorage.removeItem(place);
    } catch { /* it is kept while the page is open */ }
    this.draw();
  }

  /**
   * photo has the photo that was opened take it over, where it can be of the same water.
   * @param {Photo} photo
   */
  photo(photo) {
    const { said, store } = this;
    this.why = '';
    if (!said || store.doc.sample.water || said.photo === nameOf(photo)) return this.draw();
    if (said.photo) this.why = 'another photo has it already';
    else if (apart(said, photo) > longest) this.why = 'hours lie between the two';
    if (this.why) return this.draw();
    this.use();
  }

  // use takes it over into the sample of the photo.
  use() {
    if (!this.said) return;
    this.set(this.said.water);
    this.keep({ ...this.said, photo: nameOf(this.store.opened) });
  }

  // leave takes it away from the photo, and forgets it.
  leave() {
    if (this.said && this.store.doc.sample.water === this.said.water) this.set('');
    this.keep(null);
  }

  /**
   * set puts it into the sample. It is kept here too, so leaving the photo loses nothing by it.
   * @param {string} said
   */
  set(said) {
    const { store } = this, { unsaved } = store;
    store.change((d) => { d.sample.water = said; });
    if (!unsaved) store.saved = store.version();
  }

  draw() {
    const { said } = this, next = said && !said.photo ? said.water : '';
    answer(this.question, next, noteOnWater(next));
    $('look-used').replaceChildren(...this.after());
  }

  // after is what stands above the reading of a photo.
  after() {
    const { said, why, store } = this;
    if (!said || !store.photo) return [];
    const words = looked(said.water);
    if (said.photo === nameOf(store.photo) && store.doc.sample.water === said.water) {
      const not = button('Not this water', () => this.leave(), { class: 'where', id: 'look-leave' });
      return [el('p', {}, `The water: ${words}, as you said before the dip. `, not)];
    }
    if (!why || store.doc.sample.water) return [];
    return [el('p', {}, `The water (${words}) is not used for this photo: ${why}. `,
      button('It is of this water', () => this.use(), { class: 'where', id: 'look-use' }), ' ',
      button('Forget it', () => this.leave(), { class: 'where' }))];
  }
}

/**
 * remembered is what was said before the page was loaded, unless it is too old.
 * @returns {Said | null}
 */
function remembered() {
  try {
    const kept = JSON.parse(localStorage.getItem(place) || 'null');
    const known = water.answers.some(([value]) => value && value === kept?.water);
    if (!known || typeof kept.at !== 'string' || typeof kept.photo !== 'string') return null;
    const age = Date.now() - Date.parse(kept.at);
    return age >= 0 && age <= longest ? { water: kept.water, at: kept.at, photo: kept.photo } : null;
  } catch {
    return null;
  }
}

/**
 * apart are the milliseconds between what was said and a photo; a photo that does not say its time is of now.
 * @param {Said} said
 * @param {Photo} photo
 */
const apart = (said, photo) => Math.abs((photo.taken ? Date.parse(photo.taken) : Date.now()) - Date.parse(said.at));
