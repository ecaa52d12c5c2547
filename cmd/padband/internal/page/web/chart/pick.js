// Choosing the chart: one that padband knows, or a new one described in words.
import * as api from '../server/api.js';
import { $, el, field } from '../common/dom.js';
import { sentence } from '../marking/marking.js';

const from = { bundled: 'comes with padband', folder: 'saved in the folder', 'this page': 'described here' };

export class ChartPick {
  constructor(store, chosen, fail) {
    Object.assign(this, { store, chosen, fail, list: [] });
  }

  async open() {
    this.list = await api.charts().catch((e) => { this.fail(e); return this.list; });
    $('chart-part').hidden = false;
    $('chart-form').hidden = true;
    $('chart-pick').hidden = false;
    $('chart-pick').replaceChildren(
      ...this.list.map((c) => this.choice(c)),
      el('button', { type: 'button', class: 'choice', id: 'chart-new', onclick: () => this.describe() }, el('b', {}, 'Another chart'), el('span', {}, 'Type what is printed on it, once. Save keeps it for the next photo.')),
    );
  }

  choice(c) {
    return el('button', { type: 'button', class: 'choice', 'data-chart': c.name, onclick: () => this.take(c.name) },
      el('b', {}, c.title || c.name), el('span', {}, c.analytes.join(', ')), el('span', { class: 'quiet' }, `${from[c.from] || c.from}${c.layout ? '; flat, marked by its four corners' : ''}`));
  }

  async take(name) {
    try {
      this.close(await api.chart(name));
    } catch (e) {
      this.fail(e);
    }
  }

  close(chart) {
    $('chart-part').hidden = true;
    this.chosen(chart);
  }

  describe() {
    $('chart-pick').hidden = true;
    const form = $('chart-form');
    form.hidden = false;
    const rows = el('div', {});
    form.replaceChildren(
      field('Name of the chart', 'title', { required: true }, 'As on the bottle or the leaflet, so that you find it again.'),
      rows,
      el('p', {}, el('button', { type: 'button', onclick: () => { const a = analyte(rows); a.querySelector('input').focus(); } }, 'Add another analyte')),
      el('details', {}, el('summary', {}, 'What else the maker says'),
        field('Version or lot of the chart', 'version'),
        field('Days the bottle keeps once opened', 'kit_life_days', { inputmode: 'numeric' }),
        el('p', { class: 'field' }, el('label', { for: 'handling' }, 'How to dip, one rule a line'), el('textarea', { id: 'handling', name: 'handling', rows: 3 }))),
      el('p', { class: 'row' }, el('button', { type: 'submit', class: 'first' }, 'Use this chart'), el('button', { type: 'button', onclick: () => this.open() }, 'Cancel')),
      el('p', { id: 'chart-problem', class: 'problem', role: 'alert' }),
    );
    analyte(rows);
    form.onsubmit = (e) => { e.preventDefault(); this.send(form, rows); };
    form.querySelector('input').focus();
  }

  async send(form, rows) {
    const value = (n) => (form.elements.namedItem(n) ? form.elements.namedItem(n).value.trim() : '');
    const typed = { title: value('title'), name: '', version: value('version'), handling: value('handling'), kit_life_days: value('kit_life_days'), analytes: [...rows.children].map(typedAnalyte) };
    $('chart-problem').textContent = '';
    for (const i of form.querySelectorAll('[aria-invalid]')) i.removeAttribute('aria-invalid');
    try {
      this.close((await api.describe(typed)).chart);
    } catch (e) {
      $('chart-problem').textContent = sentence(e.message);
      const input = this.blamed(form, rows, e.field || '');
      if (!input) return;
      for (let d = input.closest('details'); d; d = d.parentElement.closest('details')) d.open = true;
      input.setAttribute('aria-invalid', 'true');
      input.focus();
    }
  }

  blamed(form, rows, name) {
    const [, i, inner] = name.match(/^analytes[.[](\d+)\]?\.(.+)$/) || [];
    if (i !== undefined && rows.children[i]) return rows.children[i].querySelector(`[name="${CSS.escape(inner)}"]`);
    return name ? form.querySelector(`[name="${CSS.escape(name)}"]`) : null;
  }
}

const inputs = ['name', 'unit', 'as', 'values', 'read_window', 'kit_error', 'parts'];

function typedAnalyte(box) {
  const out = { kind: 'scale', spacing: 'auto' };
  for (const n of inputs) out[n] = box.querySelector(`[name="${n}"]`).value.trim();
  return out;
}

// analyte adds the inputs of one row of the chart.
function analyte(rows) {
  const box = el('fieldset', {},
    el('legend', {}, `Analyte ${rows.children.length + 1}`),
    field('What it measures', 'name', {}, 'for example nitrate, total hardness, pH'),
    field('Values printed beside the swatches', 'values', { inputmode: 'text' }, 'in order, for example 0, 1, 3, 7, 12, 25'),
    el('div', { class: 'pair' },
      field('Unit', 'unit', {}, 'mg/L, ppm, gr/gal; for pH leave empty'),
      field('Counted as', 'as', {}, 'if printed: N, NO3, CaCO3')),
    el('details', {}, el('summary', {}, 'More about this row'),
      field('When to read, seconds after dipping', 'read_window', {}, 'for example 45-75'),
      field("The strip's own error, in swatch steps", 'kit_error', { inputmode: 'decimal' }, 'if the maker gives one; else half a step is assumed'),
      field('Pads that are read together for this row', 'parts', { inputmode: 'numeric', value: '1' }, 'one, unless the chart shows several patches for each value')));
  if (rows.children.length) {
    box.append(el('p', {}, el('button', { type: 'button', onclick: () => { box.remove(); [...rows.children].forEach((r, i) => { r.querySelector('legend').textContent = `Analyte ${i + 1}`; }); } }, 'Remove this analyte')));
  }
  rows.append(box);
  return box;
}
