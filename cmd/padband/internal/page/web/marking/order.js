// @ts-check
// The order of a row, told once per chart: the cut-outs of its swatches stand with
// their values, and a person says that they run so, or turns them round. The chart
// keeps which end is pale, and a row that contradicts it is asked about again.
import * as api from '../server/api.js';
import { $, button, el } from '../common/dom.js';
import { told } from '../common/words.js';
import { current, isWhole } from './steps.js';
import { turnRow } from './turn.js';

/** @import { RowShown } from '../server/api.js' */
/** @import { Analyte, Palest } from '../state/files.js' */
/** @import { Store } from '../state/store.js' */

/** @type {Record<Palest, Palest>} the end across */
const other = { lowest: 'highest', highest: 'lowest', neither: 'neither' };
const tooSoon = 350; // milliseconds

export class Order {
  /** @param {Store} store */
  constructor(store) {
    this.store = store;
    this.seen = ''; // the rows that the photo was asked about last
    this.photo = ''; // the photo that was looked at last
    /** @type {Set<string>} rows of it whose order needs no more words, though their chart knows no pale end */
    this.sure = new Set();
    /** @type {Map<string, string>} rows whose question was put off, as they were marked */
    this.later = new Map();
    this.dialog = $('order', HTMLDialogElement);
    /** @type {RowShown | null} the row that is asked about */
    this.row = null;
    this.answered = false;
    this.shownAt = 0;
    this.dialog.onclose = () => this.closed();
    store.on((what) => { if (what === 'reading' || what === 'chart') this.look(); });
  }

  // look asks for the rows that are marked whole, once for each state of their marks.
  async look() {
    const { store } = this;
    if (!store.photo || !store.chart || !store.answer?.json || this.dialog.open) return;
    const rows = this.whole(), now = JSON.stringify([store.photo.id, rows.map((a) => [a, this.marksOf(a.name)])]);
    if (!rows.length || now === this.seen) return;
    this.seen = now;
    this.begin(rows);
    try {
      const { rows: shown } = await api.rows(store.photo.id, store.work());
      if (this.seen === now && !this.dialog.open) this.next(shown.filter((r) => this.isOpen(r)));
    } catch (e) {
      store.say(told(e));
    }
  }

  /**
   * begin takes the rows that a photo came with as they are: a person has marked
   * them before.
   * @param {Analyte[]} rows
   */
  begin(rows) {
    const id = this.store.photo?.id ?? '';
    if (id === this.photo) return;
    this.photo = id;
    this.sure = new Set(rows.map((a) => a.name));
  }

  // whole are the analytes that are read and whose swatches are all marked.
  whole() { return this.store.chosen.analytes.filter((a) => isWhole(this.store, a)); }

  /**
   * again asks about a row whose question was put off.
   * @param {string} analyte
   */
  again(analyte) {
    this.later.delete(analyte);
    this.seen = '';
    this.look();
  }

  /** @param {string} analyte */
  marksOf(analyte) {
    const { store } = this;
    const marks = [...store.doc.regions, ...store.placed].filter((r) => r.role === 'swatch' && r.analyte === analyte);
    return JSON.stringify(marks.map((r) => [r.value, r.part, 'shape' in r ? r.shape : r.polygon]));
  }

  /**
   * isOpen is whether a row is to be asked about: the chart does not say its pale
   * end, or the photo contradicts it, or nothing but a look can tell whether a row
   * with colour at both ends was marked backwards.
   * @param {RowShown} row
   */
  isOpen(row) {
    const a = this.analyte(row.analyte);
    if (!a || this.later.get(row.analyte) === this.state(row.analyte)) return false;
    return !a.palest || this.contradicts(row)
      || (a.palest === 'neither' && !this.isPlaced(row.analyte) && !this.sure.has(row.analyte));
  }

  /**
   * state is what a question that was put off waits to change: it comes again when
   * a mark of the row was moved, and once more when all is marked.
   * @param {string} analyte
   */
  state(analyte) { return `${this.marksOf(analyte)} ${current(this.store) === null}`; }

  /**
   * isBackwards is whether the photo shows the pale end where the chart has the
   * other.
   * @param {RowShown} row
   */
  isBackwards(row) { return row.palest !== 'neither' && this.analyte(row.analyte)?.palest === other[row.palest]; }

  /**
   * contradicts is whether the row runs the other way than its chart says, or has
   * the colours of another row.
   * @param {RowShown} row
   */
  contradicts(row) { return row.against !== '' || this.isBackwards(row); }

  /** @param {string} name */
  analyte(name) { return this.store.chart?.analytes.find((a) => a.name === name); }

  /** @param {RowShown[]} rows */
  next([row]) {
    if (!row) return;
    this.row = row;
    this.answered = false;
    this.draw(row);
    this.dialog.showModal();
    this.shownAt = performance.now();
  }

  /** @param {RowShown} row */
  draw(row) {
    const values = row.cells.map((c) => c.label || String(c.value)), parts = [...new Set(row.cells.map((c) => c.part))];
    const from = values[0], to = values[values.length / parts.length - 1];
    $('order-title').textContent = `${row.analyte}: do these run from ${from} to ${to} in this order?`;
    $('order-rows').replaceChildren(...parts.map((part) => el('ol', { class: 'order-row' }, ...cellsOf(row, part))));
    $('order-why').textContent = this.why(row);
    const fixed = this.isPlaced(row.analyte), yes = this.contradicts(row) ? [] : [
      button('Yes', () => this.seenFirst(() => this.yes(row)), { id: 'order-yes' })];
    $('order-buttons').replaceChildren(...yes,
      fixed ? button('No: mark the corners again', () => this.seenFirst(() => this.corners()), { id: 'order-turn' })
        : button('Turn round', () => this.seenFirst(() => this.turn(row)), { id: 'order-turn' }),
      button('Let me move the marks first', () => this.dialog.close(), { id: 'order-later' }));
  }

  /**
   * seenFirst does what a button is for, unless the press was meant for the photo
   * that lay there a moment ago.
   * @param {() => void} act
   */
  seenFirst(act) { if (performance.now() - this.shownAt > tooSoon) act(); }

  /**
   * why says what the photo shows of the row's ends.
   * @param {RowShown} row
   */
  why(row) {
    const a = this.analyte(row.analyte);
    if (!this.isBackwards(row) && row.against) return row.against;
    if (this.isBackwards(row)) {
      const said = `the chart says that the ${other[row.palest]} value is the pale one, and here it is the ${row.palest}`;
      return `This row contradicts its chart: ${said}.`;
    }
    const first = a?.swatches[0].value;
    if (row.palest === 'highest' && first === 0) {
      return 'The pale end is called the highest here. That is so where a colour fades as the value rises; else turn it round.';
    }
    return a?.palest ? 'Compare it with the printed chart.' : 'Compare it with the printed chart. The answer is kept with the chart.';
  }

  /**
   * isPlaced is whether the chart's corners place swatches of a row, which then
   * cannot be exchanged one for another.
   * @param {string} analyte
   */
  isPlaced(analyte) { return this.store.placed.some((p) => p.role === 'swatch' && p.analyte === analyte); }

  /** @param {RowShown} row */
  yes(row) {
    this.close();
    this.store.use(this.looked([row]));
    this.store.tell('chart');
  }

  /**
   * looked is the chart as it is once a person has looked at rows and taken their order
   * for right. A row that contradicts the chart is still asked about.
   * @param {RowShown[]} rows
   */
  looked(rows) {
    const chart = structuredClone(this.store.chosen);
    for (const row of rows) {
      const a = chart.analytes.find((x) => x.name === row.analyte);
      if (!a || this.contradicts(row)) continue;
      a.palest ||= row.palest;
      this.sure.add(row.analyte);
    }
    return chart;
  }

  close() {
    this.answered = true;
    this.dialog.close();
  }

  corners() {
    this.close();
    this.store.change((d) => { d.corners = []; });
  }

  /**
   * turn turns a row round. The question is asked again of the row as it is then.
   * @param {RowShown} row
   */
  turn(row) {
    const a = this.analyte(row.analyte);
    if (a) this.store.change((d) => turnRow(d, a));
    this.row = { ...turned(row), against: this.isBackwards(row) ? '' : row.against };
    this.draw(this.row);
    document.getElementById('order-yes')?.focus();
  }

  // closed puts a question off that was not answered.
  closed() {
    const { row } = this;
    this.row = null;
    if (!row || this.answered) return;
    this.later.set(row.analyte, this.state(row.analyte));
    this.seen = '';
    this.look();
  }
}

/**
 * cellsOf are the cut-outs of one part of a row, each over its value.
 * @param {RowShown} row
 * @param {number} part
 */
function cellsOf(row, part) {
  return row.cells.filter((c) => c.part === part).map((c) => el('li', {},
    el('img', { src: c.picture, alt: `the swatch marked as ${c.label || c.value}` }), el('b', {}, c.label || String(c.value))));
}

/**
 * turned is a row whose values were exchanged.
 * @param {RowShown} row
 * @returns {RowShown}
 */
function turned(row) {
  const cells = row.cells.map((c) => {
    const own = row.cells.filter((o) => o.part === c.part), across = own[own.length - 1 - own.indexOf(c)];
    return { ...c, picture: across.picture };
  });
  return { ...row, cells, palest: other[row.palest] };
}
