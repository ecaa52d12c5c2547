// The steps and marks as a list of buttons: the way to any of them by keyboard.
import { $, el } from '../common/dom.js';
import { all, byCorners, key, middle } from './steps.js';

export class List {
  constructor(store, view, marking) {
    Object.assign(this, { store, view, marking });
    store.on((what) => { if (what !== 'reading') this.draw(); });
  }

  draw() {
    const { store } = this;
    if (!store.chart) return;
    const focus = document.activeElement && document.activeElement.dataset ? document.activeElement.dataset.step : null;
    const groups = new Map();
    for (const s of all(store)) {
      const g = s.analyte || (s.kind === 'white' ? 'White areas' : "Chart's corners");
      groups.set(g, [...(groups.get(g) || []), s]);
    }
    $('marks-list').replaceChildren(
      ...[...groups].map(([name, steps]) => this.group(name, steps)),
      ...store.doc.skipped.map((n) => el('p', {}, `${n}: left out. `, el('button', { type: 'button', onclick: () => store.change((d) => { d.skipped = d.skipped.filter((x) => x !== n); }) }, `Read ${n} too`))));
    $('remember').hidden = !this.canRemember();
    if (focus) {
      const again = [...$('marks-list').querySelectorAll('button')].find((b) => b.dataset.step === focus);
      if (again) again.focus();
    }
  }

  canRemember() {
    const { store } = this;
    if (store.chart.layout && byCorners(store)) return false;
    return all(store).filter((s) => s.kind === 'swatch').every((s) => s.id) && store.doc.curved.length === 0;
  }

  group(name, steps) {
    const analyte = this.store.chart.analytes.find((a) => a.name === name);
    return el('div', { class: 'marks-group' }, el('h3', {}, name), el('p', { class: 'row' }, ...steps.map((s) => this.button(s))), analyte ? this.switches(analyte) : null);
  }

  button(s) {
    const { store } = this;
    const chosen = s.id && s.id === store.selected;
    return el('button', { type: 'button', class: 'step', 'data-step': key(s), 'aria-pressed': String(Boolean(chosen)), onclick: () => this.go(s) }, `${s.name.replace(`${s.analyte} `, '')}${s.done ? '' : ': to mark'}`);
  }

  // go selects what is marked, or makes a step that is not done the next one.
  go(s) {
    if (s.id) {
      this.store.select(s.id);
      this.store.tell({ reveal: s.id });
    } else {
      this.store.selected = null;
      this.store.target = key(s);
      this.store.tell('target');
    }
  }

  switches(a) {
    const { store } = this, out = el('p', { class: 'row' });
    if (!byCorners(store) && a.swatches.length > 2) {
      const on = store.doc.curved.includes(a.name);
      out.append(el('label', { class: 'check' }, el('input', { type: 'checkbox', 'data-curved': a.name, checked: on, onchange: () => this.curve(a, !on) }), 'The row is curved (chart around a bottle)'));
    }
    out.append(el('button', { type: 'button', onclick: () => store.change((d) => d.skipped.push(a.name)) }, `Leave ${a.name} out`));
    return out;
  }

  // curve asks for a mark in the middle, and places the others when it is there.
  curve(a, on) {
    this.store.change((d) => {
      d.curved = on ? [...d.curved, a.name] : d.curved.filter((n) => n !== a.name);
      const value = a.swatches[middle(a)].value;
      d.regions = d.regions.filter((r) => !(r.role === 'swatch' && r.analyte === a.name && r.auto && (on || r.value !== value)));
      if (!on) this.marking.follow(d, { role: 'swatch', analyte: a.name, value: a.swatches[0].value });
    });
  }
}
