// @ts-check
// The photos of one strip: they are listed with their times, and one can be added, shown
// and taken out. Whether photos can be of one strip is said by the server.
import * as api from '../server/api.js';
import { $, button, el, say } from '../common/dom.js';
import { ask } from '../common/question.js';
import { sentence, told } from '../common/words.js';
import { local, stamp } from '../sample/time.js';
import { filled, marksFile } from '../state/files.js';
import { ofStrip, shotOf, stripWork } from '../state/shots.js';
import { again, showDue } from './due.js';
import { When } from './when.js';

/** @import { Photo, ShotWork } from '../server/api.js' */
/** @import { Doc } from '../state/files.js' */
/** @import { Shot } from '../state/shots.js' */
/** @import { Store } from '../state/store.js' */
/** @import { View } from '../photo/view.js' */

const wait = 120; // milliseconds after a change
const untimed = 'no-time'; // the one fault of a photo that the page asks about

export class Shots {
  /**
   * @param {Store} store
   * @param {View} view
   */
  constructor(store, view) {
    this.store = store;
    this.view = view;
    this.timer = 0;
    this.clock = 0;
    this.asked = ''; // what was asked last
    /** @type {string[]} when each photo was taken, in words */
    this.times = [];
    this.when = new When(store);
    for (const id of ['shot-file', 'shot-camera']) this.chooser($(id, HTMLInputElement));
    store.on((what) => { if (what === 'doc' || what === 'chart' || what === 'shots') this.soon(); });
  }

  /** @param {HTMLInputElement} input */
  chooser(input) {
    input.onchange = () => {
      const files = [...(input.files || [])];
      input.value = '';
      this.store.during(() => this.add(files));
    };
  }

  soon() {
    this.draw();
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.tell(), wait);
  }

  // shown is whether there can be several photos: a dip is known, or there are.
  get shown() {
    const { photo, chart, shots, doc } = this.store;
    return Boolean(photo && chart && (shots.length > 1 || doc.sample.dipped));
  }

  /**
   * ask asks what is known of photos.
   * @param {Shot[]} shots
   * @param {ShotWork[]} [more]
   */
  ask(shots, more = []) {
    const { chosen, doc } = this.store;
    const photos = [...stripWork(shots, chosen), ...more];
    return api.strip({ photos, chart: chosen, dipped: doc.sample.dipped || '', now: stamp(local(new Date())) });
  }

  // tell tells when photos were taken and which are still to be taken.
  async tell(anew = false) {
    const { store } = this;
    if (!this.shown) return;
    const now = JSON.stringify([store.chart, store.shots.map(({ photo, doc }) => [photo?.id, doc.sample])]);
    if (now === this.asked && !anew) return;
    this.asked = now;
    clearTimeout(this.clock);
    const known = await this.ask(store.shots).catch(() => null);
    if (now !== this.asked || !known) return;
    this.times = known.photos;
    showDue($('shots-due'), known.due);
    say($('shots-all'), known.in_time ? 'Every pad that has a time has a photo taken in it.' : '');
    this.clock = again(known.until, () => this.tell(true));
    this.draw();
  }

  /** @param {File[]} files */
  async add(files) {
    const { store } = this, before = store.shots.length, { shots } = store;
    this.say('');
    try {
      for (const file of files) if (!(await this.addOne(file, shots))) break;
    } catch (e) {
      this.say(told(e));
    }
    if (shots === store.shots && shots.length > before) this.show(shots[before]);
  }

  /**
   * addOne adds a photo, unless it cannot be of this strip, and says whether it did.
   * @param {File} file
   * @param {Shot[]} shots
   */
  async addOne(file, shots) {
    const { store } = this, { chosen } = store;
    const photo = await api.send(file, shots.map((s) => s.photo?.id ?? ''));
    const doc = this.docOf(photo), marks = { ...marksFile(doc, chosen), chart: photo.marks?.chart || chosen.chart };
    const known = await this.ask(shots, [{ id: photo.id, marks }]);
    if (shots !== store.shots) return false;
    if (known.fault && known.fault !== untimed) {
      this.say(`${sentence(known.why)} It was not added.`);
      return false;
    }
    shots.push(shotOf(photo, doc));
    return true;
  }

  /**
   * docOf is what came with a photo, and what is said of its strip already.
   * @param {Photo} photo
   * @returns {Doc}
   */
  docOf(photo) {
    const { store } = this, doc = store.docOf(photo.marks), strip = ofStrip(store.doc.sample), own = filled(doc.sample) || {};
    doc.sample = { ...strip, ...own, kit: { ...strip.kit, ...own.kit } };
    return doc;
  }

  /**
   * show goes to a photo of the strip.
   * @param {Shot} shot
   */
  show(shot) {
    this.go(shot);
    $('stage').focus({ preventScroll: true });
    scrollTo({ top: 0 });
  }

  /** @param {Shot} shot */
  go(shot) {
    const { photo } = shot;
    if (!photo || shot === this.store.shot) return;
    this.view.show(photo);
    this.store.go(shot);
  }

  /**
   * open goes to the photo of that number.
   * @param {string} id
   */
  open(id) {
    const shot = this.store.shots.find((s) => s.photo?.id === id);
    if (shot) this.show(shot);
  }

  /** @param {Shot} shot */
  async takeOut(shot) {
    const { store } = this, { shots } = store, name = `photo ${shots.indexOf(shot) + 1}`;
    const lost = el('p', {}, 'Its marks go with it. What was saved of it stays where it is.');
    if (shot.doc.regions.length && !(await ask(`Take ${name} out?`, [lost], 'Take it out'))) return;
    const i = shots.indexOf(shot);
    if (shots !== store.shots || i < 0 || shots.length < 2) return;
    shots.splice(i, 1);
    this.say('');
    if (shot === store.shot) this.go(shots[Math.min(i, shots.length - 1)]);
    else store.tell('doc');
    store.tell('shots');
    const current = document.querySelector('#shots-list button[aria-current]');
    (current instanceof HTMLElement ? current : $('shot-file')).focus();
  }

  draw() {
    const { store } = this, { shots } = store;
    $('shots-part').hidden = !this.shown;
    if (!this.shown) return;
    const at = document.activeElement, focused = at instanceof HTMLElement && $('shots-list').contains(at) ? at.dataset.act : '';
    $('shots-list').replaceChildren(...shots.map((s, i) => this.item(s, i)));
    if (focused) [...$('shots-list').querySelectorAll('button')].find((b) => b.dataset.act === focused)?.focus();
    this.when.draw();
  }

  /**
   * item is a photo in the list.
   * @param {Shot} shot
   * @param {number} i
   */
  item(shot, i) {
    const { shots } = this.store, name = `Photo ${i + 1}`, when = this.times[i] ? `, ${this.times[i]}` : '';
    const left = shots.length > 1 && (shot.doc.unchecked || !shot.doc.regions.length) ? '; to be looked at' : '';
    if (shots.length < 2) return el('li', {}, `${name}${when}`);
    const current = shot === this.store.shot;
    return el('li', {},
      button(`${name}${when}${left}`, () => this.go(shot), { class: 'shot', 'data-act': `show ${i}`, 'aria-current': current || null }),
      button('Take out', () => this.takeOut(shot), { 'data-act': `out ${i}`, 'aria-label': `Take out photo ${i + 1}` }));
  }

  /** @param {string} text */
  say(text) { $('shots-said').textContent = text; }
}
