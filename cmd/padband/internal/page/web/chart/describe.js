// @ts-check
// A chart described in words: what is printed on it, typed once.
import * as api from '../server/api.js';
import { button, el, field, valueOf } from '../common/dom.js';
import { told } from '../common/words.js';
import { Refusal } from '../server/call.js';

/** @import { TypedAnalyte, TypedChart } from '../server/api.js' */
/** @import { Attribute } from '../common/dom.js' */
/** @import { Chart } from '../state/files.js' */

/** @returns {TypedAnalyte} */
const blankAnalyte = () => ({
  kind: 'scale', spacing: 'auto', name: '', unit: '', as: '', values: '', read_window: '', kit_error: '', parts: '1',
});

/** @returns {TypedChart} */
const blankChart = () => ({ title: '', name: '', version: '', handling: '', kit_life_days: '', analytes: [blankAnalyte()] });

export class Describe {
  /**
   * @param {HTMLFormElement} form
   * @param {(chart: Chart) => void} taken
   * @param {() => void} cancelled
   */
  constructor(form, taken, cancelled) {
    this.form = form;
    this.taken = taken;
    this.cancelled = cancelled;
    this.typed = blankChart(); // what was typed so far
    this.problem = ''; // why it cannot be used
    /** @type {Map<TypedAnalyte, HTMLFieldSetElement>} the inputs of each row */
    this.boxes = new Map();
    this.rows = el('div');
    this.wrong = el('p', { id: 'chart-problem', class: 'problem', role: 'alert' });
    form.onsubmit = (e) => { e.preventDefault(); this.send(); };
  }

  // begin shows an empty form.
  begin() {
    this.typed = blankChart();
    this.problem = '';
    this.boxes.clear();
    this.rows.replaceChildren();
    this.form.replaceChildren(...this.inputs());
    this.draw();
    this.form.querySelector('input')?.focus();
  }

  inputs() {
    const { typed } = this;
    const handling = el('textarea', { id: 'handling', name: 'handling', rows: 3, oninput: (e) => { typed.handling = valueOf(e); } });
    return [
      input(typed, 'title', 'Name of the chart', { required: true }, 'As on the bottle or the leaflet, so that you find it again.'),
      this.rows,
      el('p', {}, button('Add another analyte', () => this.add())),
      el('details', {}, el('summary', {}, 'What else the maker says'),
        input(typed, 'version', 'Version or lot of the chart'),
        input(typed, 'kit_life_days', 'Days the bottle keeps once opened', { inputmode: 'numeric' }),
        el('p', { class: 'field' }, el('label', { for: 'handling' }, 'How to dip, one rule a line'), handling)),
      el('p', { class: 'row' },
        el('button', { type: 'submit', class: 'first' }, 'Use this chart'),
        button('Cancel', () => this.cancelled())),
      this.wrong,
    ];
  }

  // draw shows a box of inputs for each row, and what is wrong.
  draw() {
    for (const [a, box] of this.boxes) if (!this.typed.analytes.includes(a)) this.drop(a, box);
    this.typed.analytes.forEach((a, i) => {
      const box = this.boxes.get(a) || this.put(a);
      const legend = box.querySelector('legend');
      if (legend) legend.textContent = `Analyte ${i + 1}`;
    });
    this.wrong.textContent = this.problem;
  }

  /** @param {TypedAnalyte} a */
  put(a) {
    const box = analyteInputs(a);
    if (this.boxes.size) box.append(el('p', {}, button('Remove this analyte', () => this.remove(a))));
    this.boxes.set(a, box);
    this.rows.append(box);
    return box;
  }

  /**
   * @param {TypedAnalyte} a
   * @param {HTMLFieldSetElement} box
   */
  drop(a, box) {
    this.boxes.delete(a);
    box.remove();
  }

  add() {
    const a = blankAnalyte();
    this.typed.analytes.push(a);
    this.draw();
    this.boxes.get(a)?.querySelector('input')?.focus();
  }

  /** @param {TypedAnalyte} a */
  remove(a) {
    this.typed.analytes = this.typed.analytes.filter((b) => b !== a);
    this.draw();
  }

  async send() {
    this.problem = '';
    this.draw();
    for (const i of this.form.querySelectorAll('[aria-invalid]')) i.removeAttribute('aria-invalid');
    try {
      this.taken((await api.describe(trimmedChart(this.typed))).chart);
    } catch (e) {
      this.problem = told(e);
      this.draw();
      if (e instanceof Refusal) this.blame(this.inputOf(e.field));
    }
  }

  /**
   * inputOf is the input that a refusal is about.
   * @param {string} name of a field of the chart, such as analytes[1].unit
   * @returns {HTMLElement | null}
   */
  inputOf(name) {
    const [, i = '', inner = ''] = name.match(/^analytes[.[](\d+)\]?\.(.+)$/) || [];
    const box = i && this.boxes.get(this.typed.analytes[Number(i)]);
    if (box) return box.querySelector(`[name="${CSS.escape(inner)}"]`);
    return name ? this.form.querySelector(`[name="${CSS.escape(name)}"]`) : null;
  }

  /**
   * blame goes to an input, in whatever it is folded away.
   * @param {HTMLElement | null} at
   */
  blame(at) {
    if (!at) return;
    for (let d = at.closest('details'); d; d = d.parentElement?.closest('details') ?? null) d.open = true;
    at.setAttribute('aria-invalid', 'true');
    at.focus();
  }
}

/**
 * input is a field whose text goes where the typed things are kept.
 * @template {Record<K, string>} T
 * @template {string} K
 * @param {T} typed
 * @param {K} name
 * @param {string} label
 * @param {Record<string, Attribute>} [more]
 * @param {string} [note]
 */
function input(typed, name, label, more = {}, note = '') {
  const keep = (/** @type {Event} */ e) => Object.assign(typed, { [name]: valueOf(e) });
  return field(label, name, { oninput: keep, ...more }, note);
}

/**
 * analyteInputs are the inputs of one row of the chart.
 * @param {TypedAnalyte} a
 */
function analyteInputs(a) {
  const several = { inputmode: 'numeric', value: a.parts };
  return el('fieldset', {},
    el('legend'),
    input(a, 'name', 'What it measures', {}, 'for example nitrate, total hardness, pH'),
    input(a, 'values', 'Values printed beside the swatches', { inputmode: 'text' }, 'in order, for example 0, 1, 3, 7, 12, 25'),
    el('div', { class: 'pair' },
      input(a, 'unit', 'Unit', {}, 'mg/L, ppm, gr/gal; for pH leave empty'),
      input(a, 'as', 'Counted as', {}, 'if printed: N, NO3, CaCO3')),
    el('details', {}, el('summary', {}, 'More about this row'),
      input(a, 'read_window', 'When to read, seconds after dipping', {}, 'for example 45-75'),
      input(a, 'kit_error', "The strip's own error, in swatch steps", { inputmode: 'decimal' },
        'if the maker gives one; else half a step is assumed'),
      input(a, 'parts', 'Pads that are read together for this row', several,
        'one, unless the chart shows several patches for each value')));
}

/**
 * trimmedChart is what was typed without the blanks about it.
 * @param {TypedChart} c
 * @returns {TypedChart}
 */
const trimmedChart = (c) => ({ ...trimmed(c), analytes: c.analytes.map(trimmed) });

/**
 * @template {object} T
 * @param {T} o
 */
function trimmed(o) {
  const entries = Object.entries(o).map(([k, v]) => [k, typeof v === 'string' ? v.trim() : v]);
  return /** @type {T} */ (Object.fromEntries(entries));
}
