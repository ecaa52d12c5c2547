// Saving marks, chart and reading beside the photo, or handing them out as downloads.
import * as api from '../server/api.js';
import { $, ask, el } from '../common/dom.js';
import { sentence } from '../marking/marking.js';

export class Save {
  constructor(store) {
    Object.assign(this, { store, turn: Promise.resolve(), good: null, seen: store.version() });
    $('save').onclick = () => this.press();
    $('download').onclick = () => this.download();
    store.on(() => this.changed());
  }

  // photo begins anew for another photo.
  photo() {
    this.good = null;
    this.say('');
  }

  // press saves once the save before it has ended: the files hold what was saved last.
  press() {
    const { photo } = this.store;
    this.turn = this.turn.then(() => this.save(photo, false));
  }

  // save writes the files of a photo; with over, also over others that are there.
  async save(photo, over) {
    if (photo !== this.store.photo) return; // another one was opened meanwhile
    const version = this.store.taken();
    try {
      const done = await api.save(photo.id, this.store.marks(), this.store.chart, over);
      if (photo !== this.store.photo) return;
      this.store.saved = version;
      this.done(`Saved in ${done.folder}: ${done.files.join(', ')}.`, version);
    } catch (e) {
      if (photo !== this.store.photo) return;
      if (e.status !== 409 || over) return this.say(sentence(e.message));
      const list = el('ul', {}, ...(e.exists || []).map((n) => el('li', {}, n)));
      const yes = await ask('Replace what is there?', [el('p', {}, 'These files are there already:'), list], 'Replace them');
      if (yes) await this.save(photo, true);
      else this.say('Nothing was saved.');
    }
  }

  async download() {
    const { photo } = this.store, version = this.store.taken();
    try {
      const { files } = await api.files(photo.id, this.store.marks(), this.store.chart);
      for (const f of files) hand(f.name, f.text);
      if (photo !== this.store.photo) return;
      this.store.handed.push(version);
      this.done(`Handed to the browser: ${files.map((f) => f.name).join(', ')}. Keep them in one folder with the photo.`, version);
    } catch (e) {
      this.say(sentence(e.message));
    }
  }

  // done says that a version is safe, and whether it is the one on the page.
  done(text, version) {
    this.good = { text, version };
    this.say(version === this.store.version() ? text : `${text} What was changed since is not in them.`);
  }

  // changed takes back what was said of another version.
  changed() {
    const now = this.store.version();
    if (now === this.seen) return;
    this.seen = now;
    this.say(this.good && this.good.version === now ? this.good.text : '');
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
