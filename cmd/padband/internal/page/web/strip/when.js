// @ts-check
// When a photo of a strip was taken, asked where the photo does not say it itself.
import { $, button, el, field, isInput } from '../common/dom.js';
import { local, stamp, typedPart } from '../sample/time.js';

/** @import { Store } from '../state/store.js' */

export class When {
  /** @param {Store} store */
  constructor(store) {
    this.store = store;
    this.about = el('p', {});
    const typed = field('Taken at', 'shot-taken', { type: 'datetime-local', step: 1 }, "by the same clock as the dip's time");
    this.input = typed.querySelector('input');
    this.box = $('shots-when');
    const now = button('Taken just now', () => this.take(local(new Date())), { id: 'shot-now' });
    this.box.replaceChildren(this.about, typed, el('p', {}, now));
    this.box.onchange = (e) => { if (isInput(e.target)) this.take(e.target.value); };
  }

  /** @param {string} typed */
  take(typed) {
    this.store.change(({ sample }) => { sample.taken = typed && stamp(typed, sample.taken); });
  }

  draw() {
    const { store } = this, { photo, shots, shot, doc } = store, inside = this.box.contains(document.activeElement);
    const asks = shots.length > 1 && photo && !photo.taken;
    this.box.hidden = !asks;
    if (!asks) return;
    this.about.textContent = `When was photo ${shots.indexOf(shot) + 1} taken? The photo itself does not say it.`;
    if (this.input && (!inside || doc.sample.taken)) this.input.value = typedPart(doc.sample.taken);
  }
}
