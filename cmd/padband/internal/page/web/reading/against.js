// @ts-check
// What the reading is set against, and the units it is said in too.
import { $, el, field, named } from '../common/dom.js';
import { told } from '../common/words.js';
import { Refusal } from '../server/call.js';

/** @import { Store } from '../state/store.js' */

/**
 * What is chosen and typed, and what is wrong with it.
 * @typedef {object} State
 * @property {string} choice a set's name, or one of the two below
 * @property {string} limit of one's own
 * @property {string} unit
 * @property {{limit: string, unit: string}} wrong
 */

const own = 'own', begun = 'begun';

export class Against {
  /** @param {Store} store */
  constructor(store) {
    this.store = store;
    this.form = $('against-form', HTMLFormElement);
    /** @type {State} */
    this.state = { choice: '', limit: '', unit: '', wrong: { limit: '', unit: '' } };
    /** @type {string[]} what the command chose */
    this.begun = [];
    this.ready = false;
  }

  /**
   * begin lists the sets that the server has, and takes what the command chose.
   * @param {{name: string, title: string}[]} sets
   * @param {string[]} chosen
   */
  begin(sets, chosen) {
    this.begun = chosen;
    const several = chosen.length > 1 ? [[begun, chosen.join('; ')]] : [];
    this.inputs([['', 'nothing'], ...several, ...sets.map((s) => [s.name, s.title]), [own, 'a limit of my own']]);
    this.choose(sets.map((s) => s.name));
    this.form.onsubmit = (e) => { e.preventDefault(); this.take(); };
    this.form.onchange = () => this.take();
    this.form.oninput = () => this.typed();
    this.ready = true;
    this.again();
  }

  /** @param {string[][]} options value and words of each */
  inputs(options) {
    const select = el('select', { id: 'against', name: 'against' }, ...options.map(([value, words]) => el('option', { value }, words)));
    const limitNote = 'for pH both ends, such as 6.5-8.5; with several pads of one unit the name before it';
    const limit = field('My limit', 'limit', { placeholder: '10 mg/L as N' }, limitNote);
    const unit = field('Say it also in', 'unit', { placeholder: 'mg/L as NO3' }, 'a unit, such as ug/L, gr/gal or °dH');
    limit.id = 'limit-part';
    /** @param {string} name */
    const wrong = (name) => el('p', { id: `${name}-wrong`, class: 'problem', role: 'alert' });
    this.form.replaceChildren(
      el('p', { class: 'field' }, el('label', { for: 'against' }, 'Set against'), select),
      limit, wrong('limit'), unit, wrong('unit'));
  }

  /**
   * choose shows what the command chose.
   * @param {string[]} names of the sets
   */
  choose(names) {
    const [one = ''] = this.begun;
    if (this.begun.length > 1) this.state.choice = begun;
    else if (!one || names.includes(one)) this.state.choice = one;
    else Object.assign(this.state, { choice: own, limit: one });
  }

  // typed takes over what the inputs hold.
  typed() {
    this.state.choice = named(this.form, 'against').value;
    this.state.limit = named(this.form, 'limit').value;
    this.state.unit = named(this.form, 'unit').value;
  }

  take() {
    this.typed();
    this.again();
    this.store.tell('against');
  }

  // again asks for all that is chosen and typed, also what was refused before:
  // with another chart it may be right.
  again() {
    if (!this.ready) return;
    this.state.wrong = { limit: '', unit: '' };
    this.store.asked = { limits: this.limits(), units: filled(this.state.unit) };
    this.draw();
  }

  limits() {
    const { choice, limit } = this.state;
    if (choice === begun) return this.begun;
    return filled(choice === own ? limit : choice);
  }

  draw() {
    const { choice, limit, unit, wrong } = this.state;
    named(this.form, 'against').value = choice;
    named(this.form, 'limit').value = limit;
    named(this.form, 'unit').value = unit;
    $('limit-part').hidden = choice !== own;
    this.drawWrong('limit', wrong.limit);
    this.drawWrong('unit', wrong.unit);
  }

  /**
   * drawWrong says what is wrong with a field, or that nothing is.
   * @param {string} name
   * @param {string} text
   */
  drawWrong(name, text) {
    const input = named(this.form, name), said = $(`${name}-wrong`), note = `${input.id}-note`;
    said.textContent = text;
    input.setAttribute('aria-invalid', String(Boolean(text)));
    input.setAttribute('aria-describedby', text ? `${note} ${said.id}` : note);
  }

  /**
   * refused tells a refusal of a limit or a unit beside its field, and leaves it
   * out, so that the reading stays; it answers whether it was one.
   * @param {unknown} e
   */
  refused(e) {
    if (!(e instanceof Refusal)) return false;
    const { asked } = this.store, { wrong } = this.state;
    if (e.field === 'limit' && asked.limits.length) {
      this.store.asked = { ...asked, limits: [] };
      wrong.limit = told(e);
    } else if (e.field === 'unit' && asked.units.length) {
      this.store.asked = { ...asked, units: [] };
      wrong.unit = told(e);
    } else {
      return false;
    }
    this.draw();
    return true;
  }
}

/** @param {string} text */
const filled = (text) => [text.trim()].filter(Boolean);
