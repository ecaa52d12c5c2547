// @ts-check
// Choosing the chart: one that padband knows, or a new one described in words.
import * as api from '../server/api.js';
import { isWhite } from '../state/files.js';
import { $, el } from '../common/dom.js';
import { byHand } from '../finding/outlines.js';
import { Describe } from './describe.js';

/** @import { ChartInfo } from '../server/api.js' */
/** @import { Chart, Doc } from '../state/files.js' */
/** @import { Store } from '../state/store.js' */

export class ChartPick {
  /**
   * @param {Store} store
   * @param {() => void} taken a chart was chosen
   * @param {(e: unknown) => void} fail
   */
  constructor(store, taken, fail) {
    this.store = store;
    this.taken = taken;
    this.fail = fail;
    /** @type {ChartInfo[]} the charts to choose from */
    this.list = [];
    this.before = ''; // the name of the chart that was chosen last
    this.listed = false; // the list has come
    this.describing = false; // a new chart is being described instead
    this.chosen = false; // a chart was chosen before
    this.form = new Describe($('chart-form', HTMLFormElement), (chart) => this.take(chart), () => this.open());
    $('other-chart').onclick = () => this.ask();
    store.on((what) => { if (what !== 'over') this.draw(); });
  }

  // photo takes the chart that came with a photo, or goes on with the one in use.
  photo() {
    const { store } = this;
    store.use(store.opened.chart || store.chart);
    this.before = store.chart ? store.chart.chart : '';
  }

  // begin goes on with the chart that is there, when it goes with the photo, or asks for one.
  begin() {
    const { chart, opened } = this.store;
    if (chart && (opened.chart || !opened.marks)) this.take(chart);
    else this.ask();
  }

  // ask asks for another chart.
  ask() {
    this.listed = false;
    this.store.use(null);
    this.store.tell('chart');
    this.open();
  }

  // open shows the charts when they have come.
  async open() {
    this.list = await api.charts().catch((e) => { this.fail(e); return this.list; });
    this.listed = true;
    this.describing = false;
    $('chart-pick').replaceChildren(...this.list.map((c) => this.choice(c)), this.another());
    this.draw();
  }

  draw() {
    const { chart } = this.store;
    $('chart-part').hidden = !this.listed || chart !== null;
    $('chart-form').hidden = !this.describing;
    $('chart-pick').hidden = this.describing;
    $('result-part').hidden = chart === null || this.store.doc.unchecked;
    $('sample-part').hidden = $('marks-part').hidden = !this.chosen;
    if (chart) $('plan-link', HTMLAnchorElement).href = api.plan(chart.chart);
  }

  /** @param {ChartInfo} c */
  choice(c) {
    return el('button', { type: 'button', class: 'choice', 'data-chart': c.name, onclick: () => this.fetch(c.name) },
      el('b', {}, c.title || c.name),
      el('span', {}, c.analytes.join(', ')),
      el('span', { class: 'quiet' }, `${fromWhere(c.from)}${c.layout ? '; flat, marked by its four corners' : ''}`));
  }

  another() {
    return el('button', { type: 'button', class: 'choice', id: 'chart-new', onclick: () => this.describe() },
      el('b', {}, 'Another chart'),
      el('span', {}, 'Type what is printed on it, once. Save keeps it for the next photo.'));
  }

  describe() {
    this.describing = true;
    this.draw();
    this.form.begin();
  }

  /** @param {string} name */
  async fetch(name) {
    try {
      this.take(await api.chart(name));
    } catch (e) {
      this.fail(e);
    }
  }

  /**
   * take takes a chart. The marks of another one's pads and swatches go.
   * @param {Chart} chart
   */
  take(chart) {
    const { store } = this, other = this.before && this.before !== chart.chart;
    this.before = chart.chart;
    this.chosen = true;
    store.use(chart);
    this.taken();
    scrollTo({ top: 0 }); // the list of charts was long, and the photo is above
    if (!other) return store.tell('doc');
    for (const s of store.others) { // one strip has one chart
      s.doc = structuredClone(s.doc);
      withoutChart(s.doc);
    }
    store.change(withoutChart);
  }
}

/**
 * withoutChart takes away what belongs to another chart.
 * @param {Doc} d
 */
function withoutChart(d) {
  if (d.unchecked || d.looked) byHand(d); // they were found by the other chart
  d.regions = d.regions.filter((r) => isWhite(r.role));
  d.skipped = [];
  d.curved = [];
  d.byHand = false;
}

/** @param {string} from */
function fromWhere(from) {
  switch (from) {
    case 'bundled': return 'comes with padband';
    case 'folder': return 'saved in the folder';
    case 'this page': return 'described here';
    default: return from;
  }
}
