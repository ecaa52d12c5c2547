// @ts-check
// How one pad is put on the page: pad and swatches, and the calls there are.
import { $, el, valueOf } from '../common/dom.js';

/** @import { Attribute } from '../common/dom.js' */

/**
 * A pad with the swatches of its row, as the server tells of it.
 * @typedef {object} Pad
 * @property {string} analyte
 * @property {string} unit
 * @property {string} as
 * @property {boolean} presence only whether there is any is called
 * @property {number} parts
 * @property {{value: number, text: string}[]} swatches
 */

/**
 * What is to be called now.
 * @typedef {object} Turn
 * @property {string} reader
 * @property {number} at how many calls are made
 * @property {number} of
 * @property {boolean} back the last call may be taken back
 * @property {boolean} begun a pad was shown in this run
 * @property {Pad | null} pad none when all calls are made
 * @property {string} file then, where they are
 * @property {string} [problem] why the pad cannot be shown
 */

/**
 * A call that can be chosen: a swatch or the lower of two by its value, and how it is said.
 * @typedef {'swatch' | 'between' | 'below' | 'above' | 'number' | 'none'} Kind
 * @typedef {{kind: Kind, value: number | null, words: string}} Choice
 */

/**
 * What is chosen and typed for a pad.
 * @typedef {{choice: Choice | null, number: string, reason: string, own: string}} State
 */

/**
 * A call as it is sent, and how it is said.
 * @typedef {{kind: Kind, value: number | null, text: string, words: string}} Call
 */

/** @type {Choice} */
const number = { kind: 'number', value: null, words: 'a number' };
/** @type {Choice} */
const none = { kind: 'none', value: null, words: 'I cannot call it' };

const reasons = [
  'its colour is on no part of this chart', 'glare or a drop lies on it', 'too dark or blurred to tell',
  'it is blotched or not of one colour', 'the swatches cannot be told apart here',
];
const another = 'other'; // the reason that a person types
const longest = 140; // characters of a reason

/**
 * unitOf is the analyte's unit as it is said; pH needs none.
 * @param {Pad} pad
 */
export function unitOf({ analyte, unit, as }) {
  if (!unit || unit.toLowerCase() === analyte.toLowerCase()) return '';
  return as ? `${unit} as ${as}` : unit;
}

export class PadView {
  /**
   * @param {Turn} turn
   * @param {Pad} pad
   * @param {() => void} changed
   */
  constructor(turn, pad, changed) {
    this.at = turn.at;
    this.pad = pad;
    this.problem = turn.problem || '';
    this.unit = unitOf(pad);
    this.changed = changed;
    const given = this.reasons()[0].slice(0, longest);
    /** @type {State} */
    this.state = { choice: this.problem ? none : null, number: '', reason: this.problem ? given : '', own: '' };
    /** @type {Map<HTMLInputElement, Choice>} */
    this.radios = new Map();
  }

  reasons() { return this.problem ? [`it cannot be shown: ${this.problem}`] : reasons; }

  /**
   * set takes what was chosen or typed.
   * @param {Partial<State>} state
   */
  set(state) {
    Object.assign(this.state, state);
    this.changed();
  }

  // build makes the choices and answers the pictures that are to be waited for.
  build() {
    const { pad, problem, unit } = this;
    $('pad-title').textContent = unit ? `${pad.analyte}, ${unit}` : pad.analyte;
    $('legend').textContent = problem ? 'This pad cannot be shown' : 'Your call';
    $('scale').hidden = $('bench').hidden = Boolean(problem);
    $('scale').style.setProperty('--swatches', String(pad.swatches.length));
    $('scale').replaceChildren(...(problem ? [] : this.steps()));
    $('others').replaceChildren(...(problem ? [this.none()] : this.others()));
    for (const id of ['facing', 'scale']) $(id).classList.toggle('parts', pad.parts > 1);
    this.draw();
    return problem ? [] : [...$('bench').querySelectorAll('img'), ...$('scale').querySelectorAll('img')];
  }

  /**
   * images are the pictures of a pad or a swatch, one a part.
   * @param {string} which
   */
  images(which) {
    return Array.from({ length: this.pad.parts }, (_, k) => {
      const src = `api/pads/${this.at}/${which}/${k + 1}`;
      return el('img', { src, alt: '', width: 240, height: 240, draggable: 'false' });
    });
  }

  /**
   * radio is one choice and what it is called.
   * @param {Choice} choice
   * @param {string} name
   */
  radio(choice, name) {
    const more = { 'data-kind': choice.kind, 'data-value': choice.value ?? '', 'aria-label': name };
    const input = el('input', { type: 'radio', name: 'call', ...more, onchange: () => this.set({ choice }) });
    this.radios.set(input, choice);
    return input;
  }

  // steps are the swatches and what lies between them, in order of value.
  steps() {
    const { presence, swatches } = this.pad;
    return swatches.flatMap((s, i) => {
      const next = swatches[i + 1];
      return presence || !next ? [this.swatch(i)] : [this.swatch(i), this.between(i, s.value, next.value)];
    });
  }

  /** @param {number} i */
  swatch(i) {
    const { value, text } = this.pad.swatches[i];
    const on = el('label', { class: 'choice-label crop-label' },
      this.radio({ kind: 'swatch', value, words: text }, text),
      ...this.images(`swatch/${i}`),
      el('span', { class: 'text' }, text));
    on.style.gridColumn = `${2 * i + 1} / span 2`;
    on.style.gridRow = '1';
    return on;
  }

  /**
   * @param {number} i
   * @param {number} value
   * @param {number} above
   */
  between(i, value, above) {
    const radio = this.radio({ kind: 'between', value, words: `between ${value} and ${above}` }, `${value} to ${above}, between the two`);
    const gap = el('label', { class: 'choice-label gap-label' }, radio, el('span', {}, `${value} to ${above}`));
    gap.style.gridColumn = `${2 * i + 2} / span 2`;
    gap.style.gridRow = '2';
    return gap;
  }

  // others are the calls beside the scale.
  others() {
    const { swatches, presence } = this.pad;
    if (presence) return [this.none()];
    const low = swatches[0].value, high = swatches[swatches.length - 1].value;
    const below = low > 0 ? [this.plain('below', `below ${low}`)] : [];
    return [...below, this.plain('above', `above ${high}`), this.number(), this.none()];
  }

  /**
   * @param {Kind} kind
   * @param {string} words
   */
  plain(kind, words) { return this.labelled({ kind, value: null, words }); }

  /** @param {Choice} choice */
  labelled(choice) {
    return el('label', { class: 'choice-label' }, this.radio(choice, choice.words), el('span', {}, choice.words));
  }

  number() {
    const { unit } = this, name = unit ? `The number, ${unit}` : `The number, ${this.pad.analyte}`;
    const input = this.text('number', name, { inputmode: 'decimal', autocomplete: 'off', maxlength: 12 });
    input.oninput = () => this.set({ choice: number, number: input.value });
    return el('div', { class: 'with-input' }, this.labelled(number), input, unit ? el('span', {}, unit) : null);
  }

  // none is that the pad cannot be called, with the reason.
  none() {
    const given = this.reasons().map((r) => el('option', { value: r.slice(0, longest) }, r));
    const reason = el('select', { id: 'reason', 'aria-label': 'Why it cannot be called' },
      el('option', { value: '' }, 'because ...'), ...given, el('option', { value: another }, 'another reason'));
    reason.onchange = () => this.set({ choice: none, reason: reason.value });
    const own = this.text('other-reason', 'The reason in your words', { class: 'reason', maxlength: longest });
    own.oninput = (e) => this.set({ own: valueOf(e) });
    return el('div', { class: 'with-input' }, this.labelled(none), reason, own);
  }

  /**
   * @param {string} id
   * @param {string} name
   * @param {Record<string, Attribute>} more
   */
  text(id, name, more) { return el('input', { type: 'text', id, 'aria-label': name, ...more }); }

  /**
   * call is what is chosen, as it is sent; words say it.
   * @returns {Call | null}
   */
  call() {
    const { choice } = this.state;
    if (!choice) return null;
    const { kind, value } = choice;
    if (kind === 'number') return this.numberCall();
    if (kind === 'none') return this.noneCall();
    return { kind, value, text: '', words: this.pad.presence ? choice.words : this.withUnit(choice.words) };
  }

  /** @returns {Call} */
  numberCall() {
    const text = this.state.number, typed = text.trim();
    return { kind: 'number', value: null, text, words: typed ? this.withUnit(typed) : 'a number: type it' };
  }

  /** @returns {Call} */
  noneCall() {
    const { reason, own } = this.state, text = reason === another ? own : reason, why = text.trim();
    return { kind: 'none', value: null, text, words: why ? `cannot be called, ${why}` : 'cannot be called: choose why' };
  }

  /** @param {string} words */
  withUnit(words) { return this.unit ? `${words} ${this.unit}` : words; }

  // draw says the call, and puts the swatches that it names beside the pad.
  draw() {
    const call = this.call(), { choice, reason } = this.state;
    for (const [input, one] of this.radios) input.checked = one === choice;
    $('reason', HTMLSelectElement).value = reason;
    $('other-reason').hidden = reason !== another;
    $('yours').textContent = call ? `Your call: ${call.words}.` : '';
    if (!this.problem) this.face(this.facing(call));
  }

  /**
   * facing is what lies beside the pad, which is null in it.
   * @param {Call | null} call
   * @returns {(number | null)[]}
   */
  facing(call) {
    const { swatches } = this.pad, i = swatches.findIndex((s) => s.value === call?.value);
    switch (call?.kind) {
      case 'swatch': return [null, i];
      case 'between': return [i, null, i + 1];
      case 'below': return [null, 0];
      case 'above': return [swatches.length - 1, null];
      default: return [];
    }
  }

  /**
   * face lays the pad and swatches side by side, close together where there are any.
   * @param {(number | null)[]} order
   */
  face(order) {
    $('facing').classList.toggle('close', order.length > 0);
    $('facing').replaceChildren(...(order.length ? order : [null]).map((i) => this.figure(i)));
  }

  /** @param {number | null} i */
  figure(i) {
    const images = this.images(i === null ? 'pad' : `swatch/${i}`).map((m) => el('div', { class: 'patch' }, m));
    const name = i === null ? 'pad' : this.pad.swatches[i].text;
    return el('figure', { class: i === null ? 'the-pad' : '' }, ...images, el('figcaption', {}, name));
  }
}
