// Further photos for the record: chosen or taken, listed, and removed again.
import { $, el } from '../common/dom.js';

const kinds = [['label', 'Bottle label'], ['tap', 'Tap or place'], ['meter', 'Meter'], ['other', 'Other']];

export class Attached {
  constructor(caps, say) {
    Object.assign(this, { caps, say, files: [] });
    $('attach-buttons').replaceChildren(...kinds.map(([kind, words]) => el('label', { class: 'button file', for: `attach-${kind}` }, words,
      el('input', { type: 'file', id: `attach-${kind}`, accept: 'image/*', multiple: true, onchange: (e) => this.add(kind, e.target) }))));
    $('attach-caps').textContent = `At most ${caps.most} files, each up to ${mega(caps.bytes)}, ${mega(caps.total)} together. They are kept as they are; a position in them is kept too.`;
    this.draw();
  }

  add(kind, input) {
    const refused = [];
    for (const file of input.files) {
      const why = this.refusal(file);
      if (why) refused.push(`${file.name} ${why}.`);
      else this.files.push({ kind, file });
    }
    input.value = '';
    this.say(refused.join(' '));
    this.draw();
  }

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
    $('attach-list').replaceChildren(...this.files.map((f, i) => el('li', {},
      `${kinds.find(([k]) => k === f.kind)[1]}: ${f.file.name}, ${megabytes(f.file.size)} `,
      el('button', { type: 'button', class: 'where', 'aria-label': `Remove ${f.file.name}`, onclick: () => this.remove(i) }, 'Remove'))));
  }

  remove(i) {
    this.files.splice(i, 1);
    this.draw();
    const next = $('attach-list').querySelectorAll('button')[Math.min(i, this.files.length - 1)];
    (next || $('attach-label')).focus();
  }
}

const mega = (n) => `${Math.floor(n / 2 ** 20)} MB`;
const megabytes = (n) => (n < 1e6 ? `${Math.ceil(n / 1e3)} KB` : `${(n / 1e6).toFixed(1)} MB`);
