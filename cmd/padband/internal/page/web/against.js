// What the reading is set against, and the units it is said in too.
import * as api from './api.js';
import { $, el, field } from './dom.js';
import { sentence } from './marking.js';

const own = 'own';

export class Against {
  constructor(changed) {
    this.changed = changed;
  }

  // begin lists the sets that the server has, and takes what the command chose.
  begin(sets, chosen) {
    const options = [['', 'nothing'], ...sets.map((s) => [s.name, s.title]), [own, 'a limit of my own']];
    this.select = el('select', { id: 'against', name: 'against' }, ...options.map(([v, t]) => el('option', { value: v }, t)));
    this.limit = field('My limit', 'limit', { placeholder: '10 mg/L as N' }, 'for pH both ends, such as 6.5-8.5; with several pads of one unit the name before it');
    this.unit = field('Say it also in', 'unit', { placeholder: 'mg/L as NO3' }, 'a unit, such as ug/L, gr/gal or °dH');
    this.wrong = el('p', { id: 'against-wrong', class: 'problem', role: 'alert' });
    const form = $('against-form');
    form.replaceChildren(el('p', { class: 'field' }, el('label', { for: 'against' }, 'Set against'), this.select), this.limit, this.unit, this.wrong);
    form.onsubmit = (e) => { e.preventDefault(); this.take(); };
    form.onchange = () => this.take();
    const typed = chosen.find((c) => !sets.some((s) => s.name === c));
    this.select.value = typed ? own : chosen[0] || '';
    if (typed) this.input(this.limit).value = typed;
    api.asked.limits = chosen;
    this.show();
  }

  input(part) { return part.querySelector('input'); }

  show() { this.limit.hidden = this.select.value !== own; }

  take() {
    const typed = this.input(this.limit).value.trim(), unit = this.input(this.unit).value.trim();
    const limit = this.select.value === own ? typed : this.select.value;
    api.asked.limits = limit ? [limit] : [];
    api.asked.units = unit ? [unit] : [];
    this.wrong.textContent = '';
    this.show();
    this.changed();
  }

  // refused tells a refusal of a limit or a unit beside its field, and leaves it
  // out, so that the reading stays; it answers whether it was one.
  refused(e) {
    const list = { limit: 'limits', unit: 'units' }[e.field];
    if (!list || !api.asked[list].length) return false;
    api.asked[list] = [];
    this.wrong.textContent = sentence(e.message);
    return true;
  }
}
