// @ts-check
// Further photos for the record: chosen or taken, listed, and removed again.
import { $, button, el } from '../common/dom.js';

/** @import { Keeping } from '../server/api.js' */

/** @typedef {{kind: string, file: File}} Further */

const kinds = [['label', 'Bottle label'], ['tap', 'Tap or place'], ['meter', 'Meter'], ['other', 'Other']];

export class Attached {
  /**
   * @param {Keeping} caps how much a record takes
   * @param {(text: string) => void} say
   */
  constructor(caps, say) {
    this.caps = caps;
    this.say = say;
    /** @type {Further[]} */
    this.files = [];
    $('attach-buttons').replaceChildren(...kinds.map(([kind, words]) => this.chooser(kind, words)));
    $('attach-caps').textContent = `At most ${caps.most} files, each up to ${mega(caps.bytes)}, ${mega(caps.total)} together. `
      + 'They are kept as they are; a position in them is kept too.';
    this.draw();
  }

  /**
   * @param {string} kind
   * @param {string} words
   */
  chooser(kind, words) {
    const id = `attach-${kind}`;
    /** @type {HTMLInputElement} */
    const input = el('input', { type: 'file', id, accept: 'image/*', multiple: true, onchange: () => this.add(kind, input) });
    return el('label', { class: 'button file', for: id }, words, input);
  }

  /**
   * @param {string} kind
   * @param {HTMLInputElement} input
   */
  add(kind, input) {
    const refused = [];
    for (const file of input.files || []) {
      const why = this.refusal(file);
      if (why) refused.push(`${file.name} ${why}.`);
      else this.files.push({ kind, file });
    }
    input.value = '';
    this.say(refused.join(' '));
    this.draw();
  }

  /** @param {File} file */
  refusal(file) {
    if (this.files.length >= this.caps.most) return `was not added: ${this.caps.most} files are the most`;
    if (!file.size) return 'was not added: it is empty';
    if (file.size > this.caps.bytes) return `was not added: it is over ${mega(this.caps.bytes)}`;
    if (this.size + file.size > this.caps.total) return `was not added: together they would be over ${mega(this.caps.total)}`;
    return '';
  }

  get size() { return this.files.reduce((n, f) => n + f.file.size, 0); }

  clear() {
    this.files = [];
    this.draw();
  }

  draw() {
    $('attach-list').hidden = !this.files.length;
    $('attach-list').replaceChildren(...this.files.map((f, i) => this.item(f, i)));
  }

  /**
   * @param {Further} further
   * @param {number} i
   */
  item({ kind, file }, i) {
    const words = kinds.find(([k]) => k === kind)?.[1];
    return el('li', {}, `${words}: ${file.name}, ${megabytes(file.size)} `,
      button('Remove', () => this.remove(i), { class: 'where', 'aria-label': `Remove ${file.name}` }));
  }

  /** @param {number} i */
  remove(i) {
    this.files.splice(i, 1);
    this.draw();
    const next = $('attach-list').querySelectorAll('button')[Math.min(i, this.files.length - 1)];
    (next || $('attach-label')).focus();
  }
}

/** @param {number} n */
const mega = (n) => `${Math.floor(n / 2 ** 20)} MB`;

/** @param {number} n */
const megabytes = (n) => (n < 1e6 ? `${Math.ceil(n / 1e3)} KB` : `${(n / 1e6).toFixed(1)} MB`);
