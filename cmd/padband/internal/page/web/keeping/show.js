// @ts-check
// The reading as a page to show or hand on: shared where the browser can, else downloaded.
import * as api from '../server/api.js';
import { $ } from '../common/dom.js';
import { told } from '../common/words.js';
import { hand } from './save.js';

/** @import { Store } from '../state/store.js' */

const kind = 'text/html';

export class Show {
  /** @param {Store} store */
  constructor(store) {
    this.store = store;
    /** @type {{file: File, version: string} | null} the page that was made last, of a version */
    this.made = null;
    $('show').textContent = canShare() ? 'Share a page' : 'Download a page';
    $('show').onclick = () => this.press();
    store.on((what) => {
      if (what !== 'over') $('show').hidden = !store.answer?.html;
      if (what === 'doc') this.say(''); // it was of other marks
    });
  }

  async press() {
    const { store } = this, version = JSON.stringify([store.opened.id, store.work()]);
    try {
      if (this.made?.version !== version) {
        const { name, text } = await api.shown(store.opened.id, store.work());
        this.made = { file: new File([text], name, { type: kind }), version };
      }
      await this.give(this.made.file);
    } catch (e) {
      this.say(told(e));
    }
  }

  /** @param {File} file */
  async give(file) {
    if (!canShare()) {
      hand(file.name, file);
      return this.say(`Handed to the browser: ${file.name}. Anyone can open it; it holds pictures of pads and swatches, not the photo.`);
    }
    try {
      await navigator.share({ files: [file], title: file.name });
      this.say(`${file.name} was handed on.`);
    } catch (e) {
      if (e instanceof Error && e.name === 'AbortError') return this.say('');
      if (e instanceof Error && e.name === 'NotAllowedError') return this.say('The page is ready. Press once more to share it.');
      throw e;
    }
  }

  /** @param {string} text */
  say(text) { $('shown').textContent = text; }
}

// canShare is whether this browser hands pages on to other programs.
function canShare() {
  return Boolean(navigator.canShare?.({ files: [new File([''], 'a.html', { type: kind })] }));
}
