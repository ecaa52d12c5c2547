// @ts-check
// What the person says of the sample and the bottle.
import { tellFault } from '../common/fault.js';
import { $, button, el, field, isInput, named } from '../common/dom.js';
import { Refusal } from '../server/call.js';
import { answer, asked, light, noteOnLight, noteOnWater, water, wetWhite } from './said.js';
import { local, stamp, typedPart } from './time.js';

/** @import { Sample as Said } from '../state/files.js' */
/** @import { Marking } from '../marking/marking.js' */
/** @import { Store } from '../state/store.js' */

const points = [
  ['', 'not said'], ['tap', 'tap'], ['raw', 'raw, before any treatment'], ['after treatment', 'after treatment'], ['bypass', 'bypass'],
];

/**
 * labels are what the inputs are called, by their names.
 * @type {Record<string, string>}
 */
export const labels = {
  place: 'Place', point: 'Sampling point', reader: 'Dipped and read by', taken: 'Photo taken at', dipped: 'Dipped at',
  dilution: 'Water mixed before the dip', light: 'Light', water: 'Look of the water',
  lot: 'Lot of the strips', expires: 'Use by', opened: 'Bottle opened on', note: 'Note',
};

const moment = { type: 'datetime-local', step: 1 };

export class Sample {
  /**
   * @param {Store} store
   * @param {Marking} marking
   */
  constructor(store, marking) {
    this.store = store;
    this.marking = marking;
    this.light = asked(light);
    this.water = asked(water);
    this.ruledOut = el('input', { id: 'bleach-ruled-out', type: 'checkbox' });
    this.form = $('sample-form', HTMLFormElement);
    this.form.replaceChildren(...this.inputs());
    this.form.onchange = (e) => {
      if (e.target === this.ruledOut) this.rule(this.ruledOut.checked);
      else if (isInput(e.target)) this.take(e.target.name, e.target.value);
    };
    this.form.onsubmit = (e) => e.preventDefault();
    this.form.addEventListener('focusout', (e) => { if (e.target instanceof HTMLInputElement) checkDate(e.target); });
    store.on((what) => {
      if (what === 'doc') this.draw(); // at no other time, for what is being typed would be lost
      if (what === 'chart') this.drawRuledOut();
      if (what === 'reading') this.drawMoments();
    });
  }

  inputs() {
    const taken = field(labels.taken, 'taken', moment, 'the photo itself does not say it');
    taken.id = 'taken-part';
    return [
      this.light,
      this.water,
      el('div', { id: 'wet-part' }, el('p', {}, `A wet white shows the water's own colour. ${wetWhite}`),
        el('p', {}, button('Mark the wet white', () => this.marking.markWet(), { id: 'wet-mark' }))),
      field(labels.place, 'place', {}, 'for example kitchen'),
      pointField(),
      field(labels.reader, 'reader'),
      taken,
      el('p', { id: 'taken-own' }),
      el('p', { id: 'taken-now-part' }, button('Photographed now', () => this.take('taken', local(new Date())), { id: 'taken-now' })),
      field(labels.dipped, 'dipped', moment, "by the photo's own clock"),
      el('p', {}, button('Dipped now', () => this.take('dipped', local(new Date())), { id: 'dipped-now' })),
      el('p', { id: 'moments', class: 'quiet' }),
      field(labels.dilution, 'dilution', { placeholder: '1+1' },
        'parts of it + parts of clean water; only for a pad past the top of its chart'),
      el('p', { id: 'bleach-part' }, el('label', { class: 'check' }, this.ruledOut,
        'Nothing smells of chlorine, and nothing was treated: a pad without colour was not bleached')),
      field(labels.lot, 'lot'),
      field(labels.expires, 'expires', { placeholder: '2027-05' }, 'year and month, or the day'),
      field(labels.opened, 'opened', { type: 'date' }),
      field(labels.note, 'note'),
    ];
  }

  /**
   * take takes what was said of one thing.
   * @param {string} name
   * @param {string} value
   */
  take(name, value) {
    const said = value.trim();
    this.store.change(({ sample }) => {
      switch (name) {
        case 'taken': case 'dipped':
          sample[name] = said && stamp(said, sample[name]);
          break;
        case 'lot': case 'expires': case 'opened':
          sample.kit = { ...sample.kit, [name]: said };
          break;
        default:
          Object.assign(sample, { [name]: said });
      }
    });
  }

  /**
   * rule takes whether a pad without colour may have been bleached.
   * @param {boolean} out
   */
  rule(out) {
    this.store.change(({ sample }) => {
      if (out) sample.bleach_ruled_out = true;
      else delete sample.bleach_ruled_out;
    });
  }

  draw() {
    this.drawRuledOut();
    this.drawSaid();
    for (const [name, value] of Object.entries(shown(this.store.doc.sample))) named(this.form, name).value = value || '';
    const own = this.store.photo?.taken;
    $('taken-part').hidden = $('taken-now-part').hidden = Boolean(own);
    $('taken-own').hidden = !own;
    $('taken-own').textContent = own ? `Photo taken at ${own.replace('T', ' ')}, as the photo itself says.` : '';
  }

  // drawSaid shows what was said of light and water. A wet white is offered where the water has a colour.
  drawSaid() {
    const { sample, regions } = this.store.doc, coloured = sample.water === 'tint' || sample.water === 'dark';
    answer(this.light, sample.light || '', noteOnLight(sample.light, this.store.photo?.taken));
    answer(this.water, sample.water || '', noteOnWater(sample.water));
    $('wet-part').hidden = !coloured || regions.some((r) => r.role === 'wet-white');
  }

  // drawRuledOut asks about bleach where the chart has a pad that can be bleached.
  drawRuledOut() {
    const { chart, doc } = this.store, out = Boolean(doc.sample.bleach_ruled_out);
    this.ruledOut.checked = out;
    $('bleach-part').hidden = !out && !chart?.analytes.some((a) => a.spoiled_by?.some((s) => s.how === 'bleaches'));
  }

  /**
   * refused tells at its input what of the sample was refused; nothing takes that back.
   * @param {unknown} e
   */
  refused(e) {
    for (const name of ['dilution', 'expires']) {
      const wrong = e instanceof Refusal && e.field === `sample.${name}`;
      tellFault(named(this.form, name), wrong ? { field: name, what: e.message, answers: [] } : null);
    }
  }

  // drawMoments tells when to take a photo of this chart's pads.
  drawMoments() {
    const { answer } = this.store;
    if (answer) $('moments').textContent = (answer.moments || []).map((m) => `${m}.`).join(' ');
  }
}

/**
 * checkDate says at a date that it is not typed whole: the browser hands on nothing of it.
 * @param {HTMLInputElement} at
 */
function checkDate(at) {
  const what = at.type === 'date' ? 'Give the whole date.' : 'Give the whole date and the time of day.';
  tellFault(at, at.validity.badInput ? { field: at.name, what, answers: [] } : null);
}

function pointField() {
  const options = points.map(([value, words]) => el('option', { value }, words));
  return el('p', { class: 'field' },
    el('label', { for: 'sample-point' }, labels.point),
    el('select', { id: 'sample-point', name: 'point' }, ...options));
}

/**
 * shown is what the inputs hold, by their names.
 * @param {Said} s
 */
function shown(s) {
  const { place, point, reader, dilution, note, kit = {} } = s, { lot, expires, opened } = kit;
  return { place, point, reader, taken: typedPart(s.taken), dipped: typedPart(s.dipped), dilution, note, lot, expires, opened };
}
