// @ts-check
// The steps and marks as a list of buttons: the way to any of them by keyboard.
import { $, button, el } from '../common/dom.js';
import { wetWhite } from '../sample/said.js';
import { canRemember } from '../chart/remember.js';
import { follow } from './rows.js';
import { all, byCorners, isUnsaid, key, middle } from './steps.js';

/** @import { Marking } from './marking.js' */
/** @import { Step } from './steps.js' */
/** @import { Analyte, Region } from '../state/files.js' */
/** @import { Change, Store } from '../state/store.js' */

/** @type {Change[]} what the list does not show */
const elsewhere = ['reading', 'against', 'told', 'over'];

export class List {
  /**
   * @param {Store} store
   * @param {Marking} marking
   */
  constructor(store, marking) {
    this.store = store;
    this.marking = marking;
    store.on((what) => { if (!elsewhere.includes(what)) this.draw(); });
  }

  draw() {
    const { store } = this;
    if (!store.chart) return;
    const focused = document.activeElement instanceof HTMLElement ? document.activeElement.dataset.step : undefined;
    /** @type {Map<string, Step[]>} */
    const groups = new Map();
    for (const s of all(store)) if (s.kind !== 'wet') groups.set(groupOf(s), [...(groups.get(groupOf(s)) || []), s]);
    $('marks-list').replaceChildren(
      ...[...groups].map(([name, steps]) => this.group(name, steps)),
      this.wetWhites(),
      ...store.doc.skipped.map((name) => this.leftOut(name)));
    $('remember').hidden = !canRemember(store);
    if (focused) this.focus(focused);
  }

  /**
   * focus stays on a step's button, which was drawn anew.
   * @param {string} step
   */
  focus(step) {
    const again = [...$('marks-list').querySelectorAll('button')].find((b) => b.dataset.step === step);
    again?.focus();
  }

  // wetWhites are listed apart: none is asked for unless a person wants one.
  wetWhites() {
    const steps = all(this.store).filter((s) => s.kind === 'wet');
    return el('div', { class: 'marks-group' }, el('h3', {}, 'Wet white'), el('p', { class: 'quiet' }, wetWhite),
      el('p', { class: 'row' }, ...steps.map((s) => this.button(s)),
        steps.every((s) => s.done) ? button('Mark a wet white', () => this.marking.markWet(), { id: 'mark-wet' }) : null));
  }

  /** @param {string} name */
  leftOut(name) {
    const back = () => this.store.change((d) => { d.skipped = d.skipped.filter((n) => n !== name); });
    return el('p', {}, `${name}: left out. `, button(`Read ${name} too`, back));
  }

  /**
   * @param {string} name
   * @param {Step[]} steps
   */
  group(name, steps) {
    const analyte = this.store.chosen.analytes.find((a) => a.name === name);
    return el('div', { class: 'marks-group' },
      el('h3', {}, name),
      el('p', { class: 'row' }, ...steps.map((s) => this.button(s))),
      analyte ? this.switches(analyte) : null);
  }

  /** @param {Step} s */
  button(s) {
    const chosen = Boolean(s.id) && s.id === this.store.selected;
    const name = s.name.replace(`${s.analyte} `, '');
    const more = { class: 'step', 'data-step': key(s), 'aria-pressed': String(chosen) };
    return button(s.done ? name : `${name}: to mark`, () => this.go(s), more);
  }

  /**
   * go selects what is marked, or makes a step that is not done the next one.
   * @param {Step} s
   */
  go(s) {
    if (!s.id) return this.store.aim(key(s), null);
    this.store.select(s.id);
    this.marking.reveal(s.id);
  }

  /** @param {Analyte} a */
  switches(a) {
    const { store } = this, out = el('p', { class: 'row' });
    if (!byCorners(store) && a.swatches.length > 2) out.append(this.curvedSwitch(a));
    if (isUnsaid(store, a)) out.append(button(`Say the order of ${a.name}`, () => this.marking.order.again(a.name)));
    out.append(button(`Leave ${a.name} out`, () => store.change((d) => { d.skipped.push(a.name); })));
    return out;
  }

  /** @param {Analyte} a */
  curvedSwitch(a) {
    const on = this.store.doc.curved.includes(a.name);
    const box = el('input', { type: 'checkbox', 'data-curved': a.name, checked: on, onchange: () => this.curve(a, !on) });
    return el('label', { class: 'check' }, box, 'The row is curved (chart around a bottle)');
  }

  /**
   * curve asks for a mark in the middle, and places the others when it is there.
   * @param {Analyte} a
   * @param {boolean} on
   */
  curve(a, on) {
    const { value } = a.swatches[middle(a)];
    /** @param {Region} r */
    const isPlaced = (r) => r.role === 'swatch' && r.analyte === a.name && r.auto;
    this.store.change((d) => {
      d.curved = on ? [...d.curved, a.name] : d.curved.filter((n) => n !== a.name);
      d.regions = d.regions.filter((r) => !(isPlaced(r) && (on || r.value !== value)));
      if (!on) follow(d, this.store.chosen, { role: 'swatch' }, () => this.store.newId());
    });
  }
}

/** @param {Step} s */
function groupOf(s) {
  return s.analyte || (s.kind === 'white' ? 'White areas' : "Chart's corners");
}
