// @ts-check
// Opening a photo: chosen, taken or dropped; and leaving it.
import * as api from '../server/api.js';
import { $, el } from '../common/dom.js';
import { ask } from '../common/question.js';
import { sentence } from '../common/words.js';

/** @import { Photo } from '../server/api.js' */
/** @import { Store } from '../state/store.js' */

/**
 * What the page does with another photo.
 * @typedef {object} Doer
 * @property {(photo: Photo) => void} take
 * @property {(e: unknown) => void} fail
 * @property {() => boolean} unsaved whether leaving the photo loses something beside its marks
 */

export class Open {
  /**
   * @param {Store} store
   * @param {Doer} next
   */
  constructor(store, next) {
    this.store = store;
    this.next = next;
    this.inside = 0; // elements that a dragged file is over
    /** @type {Photo | null} the photo whose notes are drawn */
    this.drawn = null;
    this.choosers();
    this.drops();
    window.addEventListener('beforeunload', (e) => { if (this.unsaved()) e.preventDefault(); });
    store.on((what) => { if (what === 'doc') this.draw(); });
  }

  choosers() {
    for (const id of ['photo-file', 'photo-camera']) {
      const input = $(id, HTMLInputElement);
      input.onchange = () => {
        const file = input.files?.[0];
        input.value = '';
        this.open(file);
      };
    }
    $('other-photo').onclick = () => $('photo-file').click();
  }

  drops() {
    document.addEventListener('dragenter', (e) => { if (carriesFile(e)) this.dragged(this.inside + 1); });
    document.addEventListener('dragleave', (e) => { if (carriesFile(e)) this.dragged(this.inside - 1); });
    document.addEventListener('dragover', (e) => { if (carriesFile(e)) e.preventDefault(); });
    document.addEventListener('drop', (e) => {
      if (!carriesFile(e)) return;
      e.preventDefault();
      this.dragged(0);
      this.open(e.dataTransfer?.files[0]);
    });
  }

  /** @param {number} inside */
  dragged(inside) {
    this.inside = Math.max(0, inside);
    $('drop').hidden = this.inside === 0;
  }

  // unsaved asks what would be lost, once what is still being typed was told.
  unsaved() {
    const at = document.activeElement;
    if (at instanceof HTMLElement && 'form' in at && at.form) {
      at.blur(); // which tells of a change
      at.focus({ preventScroll: true });
    }
    return this.store.unsaved || this.next.unsaved();
  }

  // mayLeave asks, where something would be lost.
  async mayLeave() {
    if (!this.unsaved()) return true;
    const lost = this.store.unsaved ? 'Marks that were not saved are lost.'
      : 'What was said and added for a record that is not kept is lost.';
    return ask('Leave this photo?', [el('p', {}, lost)], 'Open the other photo');
  }

  /** @param {File | undefined} file */
  async open(file) {
    if (!file || !(await this.mayLeave())) return;
    await this.store.during(() => this.send(file));
  }

  /** @param {File} file */
  async send(file) {
    const left = this.store.version();
    this.store.problem = '';
    this.store.tell('told');
    try {
      const photo = await api.send(file);
      if (this.store.version() === left || (await this.mayLeave())) this.next.take(photo);
    } catch (e) {
      this.next.fail(e);
    }
  }

  draw() {
    const { photo } = this.store;
    if (!photo || photo === this.drawn) return;
    this.drawn = photo;
    document.body.dataset.part = 'work';
    $('start-part').hidden = true;
    $('work-part').hidden = false;
    $('other-photo').hidden = false;
    $('photo-name').textContent = photo.name;
    $('photo-notes').replaceChildren(...notes(photo));
  }
}

/** @param {Photo} p */
function notes(p) {
  const lines = [`${p.format}, ${p.width} x ${p.height}, colours: ${p.profile}; ${p.came}.`];
  if (p.taken) lines.push(`Taken ${p.taken.replace('T', ' ')}.`);
  lines.push(...(p.notes || []).map(sentence));
  if (p.marks_problem) lines.push(sentence(p.marks_problem));
  const said = lines.map((line) => el('p', {}, line));
  const about = el('details', { open: Boolean(p.marks_problem) }, el('summary', {}, 'About this photo'), ...said);
  if (!p.position) return [about];
  const position = 'This photo carries the place where it was taken. Think of that before you hand it on.';
  return [el('p', { class: 'position' }, position), about];
}

/** @param {DragEvent} e */
const carriesFile = (e) => Boolean(e.dataTransfer?.types.includes('Files'));
