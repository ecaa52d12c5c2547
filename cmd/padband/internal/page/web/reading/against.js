// What the reading is set against, and the units it is said in too.
import * as api from '../server/api.js';
import { $, el, field } from '../common/dom.js';
import { sentence } from '../marking/marking.js';

const own = 'own', begun = 'begun';

export class Against {
  constructor(changed) {
    this.changed = changed;
  }

  // begin lists the sets that the server has, and takes what the command chose.
  begin(sets, chosen) {
    this.chosen = chosen;
    const several = chosen.length > 1 ? [[begun, chosen.join('; ')]] : [];
    const options = [['', 'nothing'], ...several, ...sets.map((s) => [s.name, s.title]), [own, 'a limit of my own']];
    this.select = el('select', { id: 'against', name: 'against' }, ...options.map(([v, t]) => el('option', { value: v }, t)));
    this.fields = {
      limit: field('My limit', 'limit', { placeholder: '10 mg/L as N' }, 'for pH both ends, such as 6.5-8.5; with several pads of one unit the name before it'),
      unit: field('Say it also in', 'unit', { placeholder: 'mg/L as NO3' }, 'a unit, such as ug/L, gr/gal or °dH'),
    };
    const wrong = (name) => el('p', { id: `${name}-wrong`, class: 'problem', role: 'alert' });
    const form = $('against-form');
    form.replaceChildren(el('p', { class: 'field' }, el('label', { for: 'against' }, 'Set against'), this.select), this.fields.limit, wrong('limit'), this.fields.unit, wrong('unit'));
    form.onsubmit = (e) => { e.preventDefault(); this.take(); };
    form.onchange = () => this.take();
    this.choose(sets.map((s) => s.name));
    this.again();
  }

  // choose shows what the command chose.
  choose(names) {
    const [one = ''] = this.chosen;
    if (this.chosen.length > 1) this.select.value = begun;
    else if (!one || names.includes(one)) this.select.value = one;
    else {
      this.select.value = own;
      this.input('limit').value = one;
    }
  }

  input(name) { return this.fields[name].querySelector('input'); }

  take() {
    this.again();
    this.changed();
  }

  // again asks for all that is chosen and typed, also what was refused before:
  // with another chart it may be right.
  again() {
    if (!this.select) return;
    const typed = (name) => [this.input(name).value.trim()].filter(Boolean), { value } = this.select;
    api.asked.limits = value === begun ? this.chosen : value === own ? typed('limit') : [value].filter(Boolean);
    api.asked.units = typed('unit');
    this.fields.limit.hidden = value !== own;
    for (const name of Object.keys(this.fields)) this.wrong(name, '');
  }

  // wrong says what is wrong with a field, or that nothing is.
  wrong(name, text) {
    const input = this.input(name), said = $(`${name}-wrong`), note = input.getAttribute('aria-describedby').split(' ')[0];
    said.textContent = text;
    input.setAttribute('aria-invalid', String(Boolean(text)));
    input.setAttribute('aria-describedby', text ? `${note} ${said.id}` : note);
  }

  // refused tells a refusal of a limit or a unit beside its field, and leaves it
  // out, so that the reading stays; it answers whether it was one.
  refused(e) {
    const list = { limit: 'limits', unit: 'units' }[e.field];
    if (!list || !api.asked[list].length) return false;
    api.asked[list] = [];
    this.wrong(e.field, sentence(e.message));
    return true;
  }
}
