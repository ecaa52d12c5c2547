// @ts-check
// Remembering in the chart where its swatches lie, for the next photo of it.
import * as api from '../server/api.js';
import { $ } from '../common/dom.js';
import { all, byCorners } from '../marking/steps.js';

/** @import { Store } from '../state/store.js' */

const kept = 'The chart now knows where its swatches are: the next photo needs only its four corners. Save keeps that.';

export class Remember {
  /**
   * @param {Store} store
   * @param {(e: unknown) => void} fail
   */
  constructor(store, fail) {
    this.store = store;
    this.fail = fail;
    $('remember').onclick = () => this.begin();
    store.on(() => { if (store.remembering) this.whenCornered(); });
  }

  // begin asks for the chart's corners, when they are not marked yet.
  begin() {
    const { store } = this;
    store.remembering = true;
    store.selected = null;
    if (!this.whenCornered()) store.tell('target');
  }

  // whenCornered goes on once all four corners are marked, and says whether they are.
  whenCornered() {
    const there = this.store.doc.corners.length === 4;
    if (there) this.keep();
    return there;
  }

  async keep() {
    const { store } = this, { id } = store.opened;
    store.remembering = false;
    try {
      store.use((await api.layout(id, store.work())).chart);
      store.tell('chart');
      store.say(kept);
    } catch (e) {
      this.fail(e);
    }
  }
}

/**
 * canRemember is whether all swatches of a flat chart are marked whose places it does not know.
 * @param {Store} store
 */
export function canRemember(store) {
  if (store.chart?.layout && byCorners(store)) return false;
  return all(store).filter((s) => s.kind === 'swatch').every((s) => s.id) && store.doc.curved.length === 0;
}
