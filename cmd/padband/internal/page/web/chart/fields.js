// @ts-check
// The inputs of a chart that is described, and what is said at each of them.
import { el, field, isInput, valueOf } from '../common/dom.js';
import { sentence } from '../common/words.js';

/** @import { TypedAnalyte, UnderstoodRow } from '../server/api.js' */
/** @import { Attribute, Input } from '../common/dom.js' */

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
export function input(typed, name, label, more = {}, note = '') {
  const keep = (/** @type {Event} */ e) => Object.assign(typed, { [name]: valueOf(e) });
  return field(label, name, { oninput: keep, ...more }, note);
}

let rows = 0;

/**
 * analyteInputs are the inputs of one row of the chart, with a place for what was understood.
 * @param {TypedAnalyte} a
 */
export function analyteInputs(a) {
  const several = { inputmode: 'numeric', value: a.parts }, units = `units-${++rows}`, forms = `forms-${rows}`;
  return el('fieldset', {},
    el('legend'),
    input(a, 'name', 'What it measures', {}, 'for example nitrate, total hardness, pH'),
    input(a, 'values', 'Values printed beside the swatches', { inputmode: 'text' }, 'in order, for example 0, 1, 3, 7, 12, 25'),
    el('div', { class: 'pair' },
      input(a, 'unit', 'Unit', { list: units }, 'mg/L, ppm, gr/gal; for pH leave empty'),
      input(a, 'as', 'Counted as', { list: forms }, 'if printed: N, NO3, CaCO3')),
    el('datalist', { id: units }), el('datalist', { id: forms }),
    el('div', { class: 'understood', role: 'status' }),
    el('details', {}, el('summary', {}, 'More about this row'),
      input(a, 'read_window', 'When to read, seconds after dipping', {}, 'for example 45-75, or 1-2 min'),
      input(a, 'kit_error', "The strip's own error, in swatch steps", { inputmode: 'decimal' },
        'if the maker gives one; else half a step is assumed'),
      input(a, 'parts', 'Pads that are read together for this row', several,
        'one, unless the chart shows several patches for each value')));
}

/**
 * tellRow shows what a row was taken for, and offers its likely units and forms.
 * @param {HTMLElement} box
 * @param {UnderstoodRow} row
 */
export function tellRow(box, row) {
  const said = box.querySelector('.understood'), [units, forms] = box.querySelectorAll('datalist');
  const text = [row.text, ...row.notes].join('\n');
  if (said instanceof HTMLElement && said.dataset.text !== text) {
    said.dataset.text = text;
    const words = row.text ? [el('p', { class: 'understood-row' }, el('span', {}, 'Understood: '), el('b', {}, row.text))] : [];
    said.replaceChildren(...words, ...row.notes.map((n) => el('p', { class: 'quiet' }, sentence(n))));
  }
  units?.replaceChildren(...row.units.map((u) => el('option', { value: u.name, label: u.means })));
  forms?.replaceChildren(...row.forms.map((value) => el('option', { value })));
}

/**
 * inputIn is an input of a name in a part of the form.
 * @param {ParentNode | null | undefined} part
 * @param {string} name
 * @returns {Input | null}
 */
export function inputIn(part, name) {
  const e = part?.querySelector(`[name="${CSS.escape(name)}"]`);
  return isInput(e) ? e : null;
}

/**
 * labelOf is what an input is called.
 * @param {Input} at
 */
export const labelOf = (at) => at.labels?.[0]?.textContent ?? '';
