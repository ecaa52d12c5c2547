// Saving marks, chart and reading beside the photo, or handing them out as downloads.
import * as api from './api.js';
import { $, ask, el } from './dom.js';
import { sentence } from './marking.js';

export class Keep {
  constructor(store) {
    this.store = store;
    $('save').onclick = () => this.save(false);
    $('download').onclick = () => this.download();
  }

  async save(force) {
    const { photo, chart } = this.store;
    try {
      const done = await api.save(photo.id, this.store.marks(), chart, force);
      this.say(`Saved in ${done.folder}: ${done.files.join(', ')}.`);
    } catch (e) {
      if (e.status !== 409 || force) return this.say(sentence(e.message));
      const list = el('ul', {}, ...(e.exists || []).map((n) => el('li', {}, n)));
      const yes = await ask('Replace what is there?', [el('p', {}, 'These files are there already:'), list], 'Replace them');
      if (yes) await this.save(true);
      else this.say('Nothing was saved.');
    }
  }

  async download() {
    try {
      const { files } = await api.files(this.store.photo.id, this.store.marks(), this.store.chart);
      for (const f of files) hand(f.name, f.text);
      this.say(`Handed to the browser: ${files.map((f) => f.name).join(', ')}. Keep them in one folder with the photo.`);
    } catch (e) {
      this.say(sentence(e.message));
    }
  }

  say(text) { $('saved').textContent = text; }
}

function hand(name, text) {
  const url = URL.createObjectURL(new Blob([text], { type: 'application/json' }));
  const a = el('a', { href: url, download: name });
  document.body.append(a);
  a.click();
  a.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10000);
}
