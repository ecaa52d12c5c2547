// @ts-check
// The moment of the dip, kept before there is a photo. Nothing is asked between the
// dip and the photo; the photo that is opened next takes the time over.
import { $, button, el } from '../common/dom.js';
import { local, stamp } from './time.js';

/** @import { Photo } from '../server/api.js' */
/** @import { Store } from '../state/store.js' */

/**
 * A dip that was told: when, the photo that took it over, and one that was open before it.
 * @typedef {{at: string, photo: string, before: string}} Dipped
 */

const place = 'padband dip';
export const longest = 2 * 60 * 60 * 1000; // milliseconds from a dip to its photo: no strip is read later (common practice, no source)

export class Dip {
  /** @param {Store} store */
  constructor(store) {
    this.store = store;
    this.dipped = remembered();
    this.why = ''; // why the photo does not take the time over
    this.draw();
    store.on((what) => { if (what === 'doc') this.draw(); });
  }

  // now keeps this moment for the next photo.
  now() {
    const { photo } = this.store;
    this.keep({ at: stamp(local(new Date())), photo: '', before: photo ? nameOf(photo) : '' });
  }

  /** @param {Dipped | null} dipped */
  keep(dipped) {
    this.dipped = dipped;
    this.why = '';
    try {
      if (dipped) localStorage.setItem(place, JSON.stringify(dipped));
      else localStorage.removeItem(place);
    } catch { /* it is kept while the page is open */ }
    this.draw();
    this.store.tell('dip');
  }

  // waits is the time that waits for a photo, or nothing.
  get waits() { return this.dipped && !this.dipped.photo ? this.dipped.at : ''; }

  /**
   * photo has the photo that was opened take the time over, where it can be its own.
   * @param {Photo} photo
   */
  photo(photo) {
    const { dipped } = this;
    this.why = '';
    if (!dipped || this.store.doc.sample.dipped || dipped.before === nameOf(photo)) return this.draw();
    if (dipped.photo && dipped.photo !== nameOf(photo)) this.why = 'another photo has it already';
    else this.why = misfit(dipped, photo);
    if (this.why) return this.draw();
    this.use();
  }

  // use takes the time over into the sample of the photo.
  use() {
    const { dipped } = this;
    if (!dipped) return;
    this.set(dipped.at);
    this.keep({ ...dipped, photo: nameOf(this.store.opened) });
  }

  // leave takes the time away from the photo, and forgets it.
  leave() {
    if (this.dipped && this.store.doc.sample.dipped === this.dipped.at) this.set('');
    this.keep(null);
  }

  /**
   * set puts the time into the sample. It is kept here too, so leaving the photo loses nothing by it.
   * @param {string} at
   */
  set(at) {
    const { store } = this, { unsaved } = store;
    store.change((d) => { d.sample.dipped = at; });
    if (!unsaved) store.saved = store.version();
  }

  draw() {
    const open = Boolean(this.store.photo);
    $('dip').replaceChildren(...(open ? [] : this.before()));
    $('dip-used').replaceChildren(...this.after());
    $('dip-next').replaceChildren(...(open ? this.before() : []));
  }

  // before is what stands beside the choice of a photo, and below a reading for the next strip.
  before() {
    const { dipped, store } = this, waits = dipped && !dipped.photo, press = () => { this.now(); $('dip-now').focus(); };
    const words = waits ? `Dipped at ${clock(dipped.at)}. The next photo takes this time over.` : '';
    const said = el('p', { id: 'dip-said', role: 'status' }, words);
    const now = button(waits ? 'Dipped now, another strip' : 'Dipped now', press, { id: 'dip-now' });
    if (waits) return [said, el('p', { class: 'row' }, now, button('Forget it', () => this.leave(), { id: 'dip-forget' }))];
    const when = store.photo ? 'For the next strip: press it' : 'Press it';
    return [said, el('p', { class: 'row' }, now,
      el('span', { class: 'quiet' }, `${when} as the strip goes into the water. The time is kept for its photo.`))];
  }

  // after is what stands above the reading of a photo.
  after() {
    const { dipped, why, store } = this;
    if (!dipped || !store.photo) return [];
    if (store.doc.sample.dipped === dipped.at) {
      const not = button('Not this strip', () => this.leave(), { class: 'where', id: 'dip-leave' });
      return [el('p', {}, `Dipped at ${clock(dipped.at)}, as you pressed. `, not)];
    }
    if (!why || store.doc.sample.dipped) return [];
    const anyway = button('It is of this strip', () => this.use(), { class: 'where', id: 'dip-use' });
    return [el('p', {}, `The dip at ${clock(dipped.at)} is not used for this photo: ${why}. `, anyway, ' ',
      button('Forget it', () => this.leave(), { class: 'where' }))];
  }
}

/**
 * remembered is the dip that was told before the page was loaded, unless it is too old.
 * @returns {Dipped | null}
 */
function remembered() {
  try {
    const kept = JSON.parse(localStorage.getItem(place) || 'null');
    if (![kept?.at, kept?.photo, kept?.before].every((v) => typeof v === 'string')) return null;
    const age = Date.now() - Date.parse(kept.at);
    return age >= 0 && age <= longest ? { at: kept.at, photo: kept.photo, before: kept.before } : null;
  } catch {
    return null;
  }
}

/**
 * misfit is why a photo cannot be of a dip; empty where it can.
 * @param {Dipped} dipped
 * @param {Photo} photo
 */
function misfit(dipped, photo) {
  const after = (photo.taken ? Date.parse(photo.taken) : Date.now()) - Date.parse(dipped.at);
  const taken = photo.taken ? `it was taken at ${photo.taken.slice(0, 'yyyy-mm-ddThh:mm:ss'.length).replace('T', ' ')}` : 'it was opened';
  if (after < 0) return `${taken}, before the dip`;
  return after > longest ? `${taken}, hours after the dip` : '';
}

/**
 * nameOf tells one photo from another over a reload.
 * @param {Photo} p
 */
export const nameOf = (p) => `${p.name} ${p.width} ${p.height} ${p.taken}`;

/**
 * clock is the time of day of a stamp.
 * @param {string} at
 */
const clock = (at) => at.slice('yyyy-mm-ddT'.length, 'yyyy-mm-ddThh:mm:ss'.length);
