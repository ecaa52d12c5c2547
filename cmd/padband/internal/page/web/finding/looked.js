// @ts-check
// Who has looked at the outlines that were found, and what can be done after that.
import { canRemember } from '../chart/remember.js';
import { $, button, el } from '../common/dom.js';
import { movedNames } from '../state/moved.js';

/** @import { Find } from './find.js' */
/** @import { Remember } from '../chart/remember.js' */
/** @import { Doc, Looked } from '../state/files.js' */
/** @import { Store } from '../state/store.js' */

export class WhoLooked {
  /**
   * @param {Store} store
   * @param {Find} find
   * @param {Remember} remember
   */
  constructor(store, find, remember) {
    this.store = store;
    this.find = find;
    this.remember = remember;
    this.drawn = '';
    store.on((what) => { if (what !== 'over') this.draw(); });
  }

  draw() {
    const { doc, chart } = this.store, text = chart && doc.looked && !doc.unchecked ? words(doc, doc.looked) : '';
    const remember = Boolean(text) && !chart?.layout && canRemember(this.store), now = JSON.stringify([text, remember]);
    if (now === this.drawn) return;
    this.drawn = now;
    $('looked').hidden = !text;
    $('looked').replaceChildren(el('p', {}, text), el('p', { class: 'row' },
      button('Look again', () => this.find.again(), { id: 'look-again' }),
      remember ? button('Remember where the swatches are', () => this.remember.begin(), { id: 'remember-found' }) : null));
  }
}

/**
 * words say who looked, when, and what was moved.
 * @param {Doc} doc
 * @param {Looked} looked
 */
function words(doc, { by = doc.sample.reader, at }) {
  const moved = movedNames(doc).length, when = at.slice(0, 'yyyy-mm-ddThh:mm'.length).replace('T', ' ');
  const what = moved ? `${moved} of them moved or marked anew` : 'none of them moved';
  return `The program found the outlines; ${by || 'a person'} looked at them, ${when}; ${what}.`;
}
