// @ts-check
// What is said where the finger is: a refusal, or how a mark came about. It is
// read aloud at once, and stands beside its place until the next press.
import { button, el } from '../common/dom.js';

/** @import { Note, Store } from '../state/store.js' */
/** @import { View } from './view.js' */

const gap = 26; // CSS pixels from the place to the note

export class NoteBox {
  /**
   * @param {HTMLElement} box
   * @param {Store} store
   * @param {View} view
   */
  constructor(box, store, view) {
    this.box = box;
    this.store = store;
    this.view = view;
    /** @type {Note | null} the note that is shown */
    this.shown = null;
    store.on(() => this.draw());
    view.on(() => this.place());
  }

  draw() {
    const { note } = this.store.over;
    if (note === this.shown) return;
    this.shown = note;
    if (!note) return this.box.replaceChildren();
    const answers = note.answers.map((a) => button(a.words, a.do, a.first ? { class: 'first' } : {}));
    this.box.replaceChildren(el('p', {}, note.text), ...(answers.length ? [el('p', { class: 'row' }, ...answers)] : []));
    this.place();
  }

  // place puts the note under its place of the photo, or above it where there is more room.
  place() {
    if (!this.shown) return;
    const { view, box } = this, [x, y] = view.toSurface(this.shown.at), w = box.offsetWidth, h = box.offsetHeight;
    const left = Math.max(4, Math.min(view.width - w - 4, x - w / 2));
    const below = y + gap + h <= view.height - 4, top = below ? y + gap : y - gap - h;
    box.style.transform = `translate(${left}px, ${Math.max(4, Math.min(view.height - h - 4, top))}px)`;
  }
}
