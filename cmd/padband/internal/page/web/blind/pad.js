// How one pad is put on the page: pad and swatches, and the calls there are.
import { $, el } from '../common/dom.js';

const picture = (at, rest) => `api/pads/${at}/${rest}`;

// unit is the analyte's unit as it is said; pH needs none.
export function unit({ analyte, unit: of, as }) {
  if (!of || of.toLowerCase() === analyte.toLowerCase()) return '';
  return as ? `${of} as ${as}` : of;
}

const reasons = ['its colour is on no part of this chart', 'glare or a drop lies on it', 'too dark or blurred to tell', 'it is blotched or not of one colour', 'the swatches cannot be told apart here'];

export class View {
  constructor(state, changed) {
    Object.assign(this, { at: state.at, pad: state.pad, problem: state.problem, changed });
  }

  images(kind, alt) {
    const parts = Array.from({ length: this.pad.parts }, (_, k) => k + 1);
    return parts.map((k) => el('img', { src: picture(this.at, `${kind}/${k}`), alt: alt && this.pad.parts > 1 ? `${alt}, part ${k}` : alt, width: 240, height: 240, draggable: 'false' }));
  }

  // build makes the choices and answers the pictures that are to be waited for.
  build() {
    const { pad, problem } = this;
    const u = unit(pad);
    $('pad-title').textContent = u ? `${pad.analyte}, ${u}` : pad.analyte;
    $('legend').textContent = problem ? 'This pad cannot be shown' : 'Your call';
    $('scale').hidden = $('bench').hidden = Boolean(problem);
    $('scale').style.setProperty('--swatches', pad.swatches.length);
    $('scale').replaceChildren(...(problem ? [] : this.steps()));
    $('others').replaceChildren(...(problem ? [this.none()] : this.others()));
    for (const id of ['facing', 'scale']) $(id).classList.toggle('parts', pad.parts > 1);
    this.face([]);
    if (problem) this.show();
    return problem ? [] : [...$('bench').querySelectorAll('img'), ...$('scale').querySelectorAll('img')];
  }

  // radio is one choice: what it is called, and how it is said of the pad.
  radio(kind, value, name, words = name) {
    return el('input', { type: 'radio', name: 'call', 'data-kind': kind, 'data-value': value, 'data-words': words, 'aria-label': name, onchange: () => this.changed() });
  }

  // steps are the swatches and what lies between them, in order of value.
  steps() {
    const { swatches, presence } = this.pad;
    return swatches.flatMap((s, i) => {
      const on = el('label', { class: 'choice-label crop-label' }, this.radio('swatch', s.value, s.text), ...this.images(`swatch/${i}`, ''), el('span', { class: 'text' }, s.text));
      on.style.gridColumn = `${2 * i + 1} / span 2`;
      on.style.gridRow = '1';
      if (presence || i + 1 === swatches.length) return [on];
      const above = swatches[i + 1].value;
      const between = el('label', { class: 'choice-label gap-label' }, this.radio('between', s.value, `${s.value} to ${above}, between the two`, `between ${s.value} and ${above}`), el('span', {}, `${s.value} to ${above}`));
      between.style.gridColumn = `${2 * i + 2} / span 2`;
      between.style.gridRow = '2';
      return [on, between];
    });
  }

  others() {
    const { swatches, presence } = this.pad;
    if (presence) return [this.none()];
    const low = swatches[0].value;
    const high = swatches[swatches.length - 1].value;
    const plain = (kind, text) => el('label', { class: 'choice-label' }, this.radio(kind, '', text), el('span', {}, text));
    return [low > 0 ? plain('below', `below ${low}`) : null, plain('above', `above ${high}`), this.number(), this.none()].filter(Boolean);
  }

  number() {
    const radio = this.radio('number', '', 'a number');
    const u = unit(this.pad);
    const input = el('input', { type: 'text', id: 'number', inputmode: 'decimal', autocomplete: 'off', 'aria-label': u ? `The number, ${u}` : `The number, ${this.pad.analyte}`, maxlength: 12 });
    input.oninput = () => { radio.checked = true; this.changed(); };
    return el('div', { class: 'with-input' }, el('label', { class: 'choice-label' }, radio, el('span', {}, 'a number')), input, u ? el('span', {}, u) : null);
  }

  // none is that the pad cannot be called, with the reason.
  none() {
    const radio = this.radio('none', '', 'I cannot call it');
    radio.checked = Boolean(this.problem);
    const given = this.problem ? [`it cannot be shown: ${this.problem}`] : reasons;
    const reason = el('select', { id: 'reason', 'aria-label': 'Why it cannot be called' }, el('option', { value: '' }, 'because ...'), ...given.map((r) => el('option', { value: r.slice(0, 140) }, r)), el('option', { value: 'other' }, 'another reason'));
    if (this.problem) reason.selectedIndex = 1;
    const other = el('input', { type: 'text', id: 'other-reason', class: 'reason', maxlength: 140, 'aria-label': 'The reason in your words', hidden: true });
    reason.onchange = () => { radio.checked = true; other.hidden = reason.value !== 'other'; this.changed(); };
    other.oninput = () => this.changed();
    return el('div', { class: 'with-input' }, el('label', { class: 'choice-label' }, radio, el('span', {}, 'I cannot call it')), reason, other);
  }

  // call is what is chosen, as it is sent; words say it.
  call() {
    const on = $('call').querySelector('input[name="call"]:checked');
    if (!on) return null;
    const { kind } = on.dataset;
    const value = on.dataset.value === '' ? null : Number(on.dataset.value);
    const u = unit(this.pad);
    const withUnit = (t) => (u ? `${t} ${u}` : t);
    if (kind === 'number') return { kind, value: null, text: $('number').value, words: $('number').value.trim() ? withUnit($('number').value.trim()) : 'a number: type it' };
    if (kind === 'none') {
      const text = $('reason').value === 'other' ? $('other-reason').value : $('reason').value;
      return { kind, value: null, text, words: text.trim() ? `cannot be called, ${text.trim()}` : 'cannot be called: choose why' };
    }
    return { kind, value, text: '', words: this.pad.presence ? on.dataset.words : withUnit(on.dataset.words) };
  }

  // show says the call, and puts the swatches that it names beside the pad.
  show() {
    const c = this.call();
    $('yours').textContent = c ? `Your call: ${c.words}.` : '';
    const { swatches } = this.pad;
    if (this.problem) return;
    const i = c ? swatches.findIndex((s) => s.value === c.value) : -1;
    if (c && c.kind === 'swatch') this.face([null, i]);
    else if (c && c.kind === 'between') this.face([i, null, i + 1]);
    else if (c && c.kind === 'below') this.face([null, 0]);
    else if (c && c.kind === 'above') this.face([swatches.length - 1, null]);
    else this.face([]);
  }

  // face lays the pad (null) and swatches side by side.
  face(order) {
    const one = (i) => {
      const images = i === null ? this.images('pad', '') : this.images(`swatch/${i}`, '');
      return el('figure', { class: i === null ? 'the-pad' : '' }, ...images.map((m) => el('div', { class: 'patch' }, m)), el('figcaption', {}, i === null ? 'pad' : this.pad.swatches[i].text));
    };
    $('facing').classList.toggle('close', order.length > 0);
    $('facing').replaceChildren(...(this.problem ? [] : order.length ? order : [null]).map(one));
  }
}
