// @ts-check
// A chart described in words: what is printed on it, typed once. The server says what
// it takes each row for while it is typed, and what it cannot take.
import * as api from '../server/api.js';
import { button, el, valueOf } from '../common/dom.js';
import { tellFault } from '../common/fault.js';
import { told } from '../common/words.js';
import { isAborted } from '../server/call.js';
import { analyteInputs, input, inputIn, labelOf, tellRow } from './fields.js';

/** @import { TypedAnalyte, TypedChart, Understood } from '../server/api.js' */
/** @import { Input } from '../common/dom.js' */
/** @import { Chart } from '../state/files.js' */

const wait = 300; // milliseconds after a key
const look = 'See above what was understood. If it is right, press Use this chart again.';

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
    this.seen = ''; // what was typed when the rows were told back last
    this.tried = false; // the chart was to be used: what is missing is told too
    this.timer = 0;
    /** @type {AbortController | null} the call under way */
    this.call = null;
    /** @type {Map<TypedAnalyte, HTMLFieldSetElement>} the inputs of each row */
    this.boxes = new Map();
    this.rows = el('div');
    this.wrong = el('p', { id: 'chart-problem', class: 'problem', role: 'alert' });
    form.onsubmit = (e) => { e.preventDefault(); this.send(); };
    form.oninput = () => this.later();
  }

  // begin shows an empty form.
  begin() {
    this.typed = blankChart();
    this.tried = false;
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

  // draw shows a box of inputs for each row.
  draw() {
    for (const [a, box] of this.boxes) if (!this.typed.analytes.includes(a)) this.drop(a, box);
    this.typed.analytes.forEach((a, i) => {
      const box = this.boxes.get(a) || this.put(a);
      const legend = box.querySelector('legend');
      if (legend) legend.textContent = `Analyte ${i + 1}`;
    });
    this.say('');
    this.later();
  }

  /** @param {string} text */
  say(text) { this.wrong.textContent = text; }

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
    this.tried = false;
    this.draw();
    this.boxes.get(a)?.querySelector('input')?.focus();
  }

  /** @param {TypedAnalyte} a */
  remove(a) {
    this.typed.analytes = this.typed.analytes.filter((b) => b !== a);
    this.draw();
  }

  // later has what was typed told back soon.
  later() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.understand().catch((e) => this.say(told(e))), wait);
  }

  /**
   * understand has what was typed told back at its inputs.
   * @returns {Promise<Understood | null>} nothing where something else was typed meanwhile
   */
  async understand() {
    clearTimeout(this.timer);
    this.call?.abort();
    const call = (this.call = new AbortController()), text = JSON.stringify(this.typed);
    try {
      const u = await api.understand(trimmedChart(this.typed), call.signal);
      if (text !== JSON.stringify(this.typed)) return null;
      this.seen = text;
      this.tell(u);
      return u;
    } catch (e) {
      if (isAborted(e)) return null;
      throw e;
    }
  }

  /** @param {Understood} u */
  tell(u) {
    u.rows.forEach((row, i) => {
      const box = this.boxes.get(this.typed.analytes[i]);
      if (box) tellRow(box, row);
    });
    const faults = new Map(u.faults.map((f) => [this.inputOf(f.field), f]));
    for (const at of this.form.querySelectorAll('input')) {
      const f = faults.get(at);
      tellFault(at, f && (this.tried || at.value.trim() || (f.answers.length && this.valued(at))) ? f : null);
    }
  }

  /**
   * valued is whether the row of an input has values yet: before that nothing is asked about it.
   * @param {Input} at
   */
  valued(at) { return Boolean(inputIn(at.closest('fieldset'), 'values')?.value.trim()); }

  // send has the chart used, once a person could see what it is taken for.
  async send() {
    this.tried = true;
    this.say('');
    try {
      const seen = this.seen === JSON.stringify(this.typed), u = await this.understand();
      if (!u) return;
      if (u.faults.length) return this.blame(u.faults[0].field, u.faults[0].what);
      if (!seen) return this.say(look);
      this.taken((await api.describe(trimmedChart(this.typed))).chart);
    } catch (e) {
      this.say(told(e));
    }
  }

  /**
   * inputOf is the input that a fault is about.
   * @param {string} name of a field of the chart, such as analytes.1.unit
   */
  inputOf(name) {
    const [, i = '', inner = ''] = name.match(/^analytes[.[](\d+)\]?\.(.+)$/) || [];
    if (i) return inputIn(this.boxes.get(this.typed.analytes[Number(i)]), inner);
    return name ? inputIn(this.form, name) : null;
  }

  /**
   * blame names an input that is wrong and goes to it, in whatever it is folded away.
   * @param {string} field
   * @param {string} what
   */
  blame(field, what) {
    const at = this.inputOf(field);
    if (!at) return this.say(told(what));
    const row = at.closest('fieldset')?.querySelector('legend')?.textContent;
    this.say(`${row ? `${row}, ` : ''}${labelOf(at)}: ${told(what)}`);
    for (let d = at.closest('details'); d; d = d.parentElement?.closest('details') ?? null) d.open = true;
    at.focus();
  }
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
