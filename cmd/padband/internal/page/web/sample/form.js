// What the person says of the sample and the bottle.
import { $, el, field } from '../common/dom.js';

const points = [['', ''], ['tap', 'tap'], ['raw', 'raw, before any treatment'], ['after treatment', 'after treatment'], ['bypass', 'bypass']];

export class Sample {
  constructor(store) {
    this.store = store;
    const form = $('sample-form');
    const point = el('p', { class: 'field' }, el('label', { for: 'sample-point' }, 'Sampling point'), el('select', { id: 'sample-point', name: 'point' }, ...points.map(([v, t]) => el('option', { value: v }, t || 'not said'))));
    const taken = field('Photo taken at', 'taken', { type: 'datetime-local', step: 1 }, 'the photo itself does not say it');
    taken.id = 'taken-part';
    this.own = el('p', { id: 'taken-own' });
    form.replaceChildren(
      field('Place', 'place', {}, 'for example kitchen'), point,
      field('Dipped and read by', 'reader'),
      taken, this.own,
      el('p', { id: 'taken-now-part' }, el('button', { type: 'button', id: 'taken-now', onclick: () => this.now('taken') }, 'Photographed now')),
      field('Dipped at', 'dipped', { type: 'datetime-local', step: 1 }, "by the photo's own clock"),
      el('p', {}, el('button', { type: 'button', id: 'dipped-now', onclick: () => this.now('dipped') }, 'Dipped now')),
      el('p', { id: 'moments', class: 'quiet' }),
      field('Water mixed before the dip', 'dilution', { placeholder: '1+1' }, 'parts of it + parts of clean water; only for a pad past the top of its chart'),
      field('Lot of the strips', 'lot'),
      field('Use by', 'expires', { placeholder: '2027-05' }, 'year and month, or the day'),
      field('Bottle opened on', 'opened', { type: 'date' }),
      field('Note', 'note'));
    form.onchange = () => this.take();
    form.onsubmit = (e) => e.preventDefault();
    store.on((what) => { if (what === 'doc') this.show(); });
  }

  get form() { return $('sample-form').elements; }

  now(name) {
    this.form.namedItem(name).value = local(new Date());
    this.take();
  }

  take() {
    const v = (n) => this.form.namedItem(n).value.trim();
    this.store.change((d) => {
      const dipped = v('dipped') ? stamp(v('dipped'), d.sample.dipped) : '';
      const taken = v('taken') ? stamp(v('taken'), d.sample.taken) : '';
      d.sample = { ...d.sample, taken, place: v('place'), point: v('point'), reader: v('reader'), dipped, dilution: v('dilution'), note: v('note'), kit: { ...d.sample.kit, lot: v('lot'), expires: v('expires'), opened: v('opened') } };
    });
  }

  show() {
    const s = this.store.doc.sample, kit = s.kit || {};
    const all = { place: s.place, point: s.point, reader: s.reader, taken: (s.taken || '').slice(0, 19), dipped: (s.dipped || '').slice(0, 19), dilution: s.dilution, note: s.note, lot: kit.lot, expires: kit.expires, opened: kit.opened };
    for (const [n, v] of Object.entries(all)) this.form.namedItem(n).value = v || '';
    this.taken((this.store.photo || {}).taken);
  }

  // taken shows the photo's own time, which counts, or asks for it.
  taken(own) {
    $('taken-part').hidden = $('taken-now-part').hidden = Boolean(own);
    this.own.hidden = !own;
    this.own.textContent = own ? `Photo taken at ${own.replace('T', ' ')}, as the photo itself says.` : '';
  }
}

const two = (n) => String(n).padStart(2, '0');
const local = (d) => `${d.getFullYear()}-${two(d.getMonth() + 1)}-${two(d.getDate())}T${two(d.getHours())}:${two(d.getMinutes())}:${two(d.getSeconds())}`;

// moment is a typed time with its offset, as the files have it.
export const moment = (typed) => stamp(typed, '');

// stamp adds the offset from UTC, as the files have it; a time that was there
// before and is the same keeps its own.
function stamp(typed, before) {
  if (before && before.slice(0, 19) === (typed.length === 16 ? `${typed}:00` : typed)) return before;
  const d = new Date(typed), off = -d.getTimezoneOffset();
  return `${local(d)}${off < 0 ? '-' : '+'}${two(Math.floor(Math.abs(off) / 60))}:${two(Math.abs(off) % 60)}`;
}
