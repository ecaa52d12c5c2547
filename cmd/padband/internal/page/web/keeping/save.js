// @ts-check
// Saving marks, chart and reading beside the photo, or handing them out as downloads.
import * as api from '../server/api.js';
import { $, el } from '../common/dom.js';
import { ask } from '../common/question.js';
import { told } from '../common/words.js';
import { Refusal } from '../server/call.js';

/** @import { Shot } from '../state/shots.js' */
/** @import { Store } from '../state/store.js' */

const conflict = 409; // the status of a refusal because files are there

export class Save {
  /** @param {Store} store */
  constructor(store) {
    this.store = store;
    this.turn = Promise.resolve(); // ends with the save under way
    /** @type {{text: string, version: string} | null} what was said of the version that is safe */
    this.good = null;
    this.seen = store.version();
    $('save').onclick = () => this.press();
    $('download').onclick = () => this.download();
    store.on((what) => { if (what !== 'over') this.changed(); });
  }

  // photo begins anew for another photo.
  photo() {
    this.good = null;
    this.say('');
  }

  // press saves once the save before it has ended: the files hold what was saved last.
  press() {
    const { shots } = this.store;
    this.turn = this.turn.then(() => this.save(shots, false));
  }

  /**
   * save writes the files of a strip's photos; with over, also over others that are there.
   * @param {Shot[]} shots
   * @param {boolean} over
   */
  async save(shots, over) {
    if (shots !== this.store.shots) return; // another strip was opened meanwhile
    const version = this.store.taken();
    try {
      const done = await api.save(this.store.opened.id, this.store.work(), over);
      if (shots !== this.store.shots) return;
      this.store.saved = version;
      this.done(`Saved in ${done.folder}: ${done.files.join(', ')}.`, version);
    } catch (e) {
      if (shots !== this.store.shots) return;
      if (e instanceof Refusal && e.status === conflict && !over) await this.replace(shots, e.exists);
      else this.say(told(e));
    }
  }

  /**
   * replace asks whether files that are there are to be written over.
   * @param {Shot[]} shots
   * @param {string[]} names
   */
  async replace(shots, names) {
    const list = el('ul', {}, ...names.map((n) => el('li', {}, n)));
    const yes = await ask('Replace what is there?', [el('p', {}, 'These files are there already:'), list], 'Replace them');
    if (yes) await this.save(shots, true);
    else this.say('Nothing was saved.');
  }

  async download() {
    const { opened, shots } = this.store, version = this.store.taken();
    try {
      const { files } = await api.files(opened.id, this.store.work());
      for (const f of files) hand(f.name, new Blob([f.text], { type: 'application/json' }));
      if (shots !== this.store.shots) return;
      this.store.handed.push(version);
      const names = files.map((f) => f.name).join(', ');
      this.done(`Handed to the browser: ${names}. Keep them in one folder with the photo.`, version);
    } catch (e) {
      this.say(told(e));
    }
  }

  /**
   * done says that a version is safe, and whether it is the one on the page.
   * @param {string} text
   * @param {string} version
   */
  done(text, version) {
    this.good = { text, version };
    this.say(version === this.store.version() ? text : `${text} What was changed since is not in them.`);
  }

  // changed takes back what was said of another version.
  changed() {
    const { chart, doc } = this.store, now = this.store.version();
    $('save-part').hidden = !chart || !doc.regions.length || doc.unchecked;
    if (now === this.seen) return;
    this.seen = now;
    this.say(this.good?.version === now ? this.good.text : '');
  }

  /** @param {string} text */
  say(text) { $('saved').textContent = text; }
}

/**
 * hand gives the browser a file to keep.
 * @param {string} name
 * @param {Blob} data
 */
export function hand(name, data) {
  const url = URL.createObjectURL(data);
  const a = el('a', { href: url, download: name });
  document.body.append(a);
  a.click();
  a.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10000);
}
