// @ts-check
// When to take the photos of a strip that was dipped and has no photo yet: told by the
// clock, for the chart that is in use or was used last.
import * as api from '../server/api.js';
import { $, el } from '../common/dom.js';
import { local, stamp } from '../sample/time.js';

/** @import { Dip } from '../sample/dip.js' */
/** @import { ChartInfo } from '../server/api.js' */
/** @import { Chart } from '../state/files.js' */
/** @import { Store } from '../state/store.js' */

const place = 'padband chart';

export class Due {
  /**
   * @param {Store} store
   * @param {Dip} dip
   */
  constructor(store, dip) {
    this.store = store;
    this.dip = dip;
    this.timer = 0;
    /** @type {ChartInfo[]} */
    this.charts = [];
    this.list = el('ul', { id: 'dip-due', class: 'due', hidden: true });
    this.select = el('select', { id: 'dip-chart' });
    this.select.onchange = () => { this.choose(this.select.value); };
    this.box = el('div', { hidden: true },
      el('p', { class: 'field' }, el('label', { for: 'dip-chart' }, 'When its photos are due, by the chart'), this.select),
      el('div', { role: 'status' }, this.list));
    $('dip').after(this.box);
    store.on((what) => {
      if (what === 'chart' || what === 'doc') this.remember(store.chart?.chart);
      if (what === 'dip' || what === 'shots') this.ask();
    });
    this.ask();
  }

  /** @param {string} [chart] its name */
  remember(chart) {
    try {
      if (chart) localStorage.setItem(place, chart);
    } catch { /* the next run asks for it */ }
  }

  get last() {
    try {
      return localStorage.getItem(place) || '';
    } catch {
      return '';
    }
  }

  /**
   * choose tells for another chart; a photo that is opened next goes on with it.
   * @param {string} name
   */
  async choose(name) {
    this.remember(name);
    if (!this.store.photo) this.store.use(name ? await api.chart(name).catch(() => null) : null);
    await this.ask();
  }

  async ask() {
    clearTimeout(this.timer);
    const { store, dip } = this, at = dip.waits;
    this.box.hidden = !at;
    $(store.photo ? 'dip-next' : 'dip').after(this.box);
    if (!at) return this.list.replaceChildren();
    if (!this.charts.length) await this.options();
    const chart = this.last ? await api.chart(this.last).catch(() => null) : null;
    this.select.value = chart?.chart || '';
    if (chart && at === dip.waits) await this.tell(chart, at);
  }

  async options() {
    this.charts = await api.charts().catch(() => []);
    this.select.replaceChildren(el('option', { value: '' }, 'choose the chart'),
      ...this.charts.map((c) => el('option', { value: c.name }, c.title || c.name)));
  }

  /**
   * @param {Chart} chart
   * @param {string} dipped
   */
  async tell(chart, dipped) {
    const now = stamp(local(new Date()));
    const told = await api.strip({ photos: [], chart, dipped, now }).catch(() => null);
    if (!told || dipped !== this.dip.waits) return;
    showDue(this.list, told.due);
    this.timer = again(told.until, () => this.ask());
  }
}

/**
 * showDue lists photos that are to be taken; what is read aloud is not said again.
 * @param {HTMLElement} list
 * @param {string[]} due
 */
export function showDue(list, due) {
  if (list.textContent !== due.join('')) list.replaceChildren(...due.map((text) => el('li', {}, text)));
  list.hidden = !due.length;
}

/**
 * again asks anew once the first photo that is due is past.
 * @param {string} until
 * @param {() => void} ask
 */
export const again = (until, ask) => (until ? window.setTimeout(ask, Math.max(1000, Date.parse(until) - Date.now())) : 0);
