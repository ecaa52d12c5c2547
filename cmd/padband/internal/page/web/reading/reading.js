// The reading, made anew by the server after each change.
import * as api from '../server/api.js';
import { $, el } from '../common/dom.js';
import { sentence } from '../marking/marking.js';
import { cellId } from '../photo/overlay.js';

const wait = 250;

export class Reading {
  constructor(store, overlay) {
    Object.assign(this, { store, overlay, pinned: [] });
  }

  // changed asks for a new reading soon, and drops one under way.
  changed() {
    clearTimeout(this.timer);
    if (this.call) this.call.abort();
    if (!this.store.photo || !this.store.chart) return;
    this.timer = setTimeout(() => this.ask(), wait);
  }

  async ask() {
    const call = (this.call = new AbortController());
    $('result-part').setAttribute('aria-busy', 'true');
    try {
      this.show(await api.reading(this.store.photo.id, this.store.marks(), this.store.chart, call.signal));
    } catch (e) {
      if (e.name === 'AbortError') return;
      if (this.against && this.against.refused(e)) return this.ask();
      this.failed(e);
    } finally {
      if (call === this.call) $('result-part').removeAttribute('aria-busy');
    }
  }

  show(answer) {
    $('problem').textContent = '';
    const open = new Set([...$('reading').querySelectorAll('details[open]')].map(owner));
    const parsed = new DOMParser().parseFromString(answer.html || '', 'text/html');
    $('reading').replaceChildren(...parsed.body.childNodes);
    for (const d of $('reading').querySelectorAll('details')) d.open = open.has(owner(d));
    this.wire();
    if (answer.html) $('against-form').hidden = false; // before there is a reading it would only be in the way
    $('moments').textContent = (answer.moments || []).map((m) => `${m}.`).join(' ');
    this.pending(answer.pending || []);
    if (answer.say && $('say').textContent !== answer.say) $('say').textContent = answer.say;
    const placed = answer.placed || [];
    const same = JSON.stringify(placed) === JSON.stringify(this.store.placed);
    this.store.placed = placed;
    this.store.complete = Boolean(answer.json && answer.complete);
    if (!same) this.store.tell('placed');
    this.store.tell('reading');
  }

  // failed keeps the last reading off the page: it is not of these marks.
  failed(e) {
    this.store.complete = false;
    $('reading').replaceChildren();
    $('pending').textContent = '';
    $('problem').textContent = sentence(e.message);
    this.store.tell('reading');
  }

  // pending names what cannot be read yet; the reading need not say so again.
  pending(all) {
    const list = all.filter((p) => !this.store.doc.skipped.includes(p.analyte));
    for (const li of $('reading').querySelectorAll('.reading-left li')) {
      if (li.dataset.code === 'no-pad' && list.some((p) => p.analyte === li.dataset.analyte)) li.remove();
    }
    for (const s of $('reading').querySelectorAll('.reading-left')) if (!s.querySelector('li')) s.remove();
    $('pending').textContent = list.length ? `Not read yet: ${list.map((p) => `${p.analyte} (${p.text})`).join('; ')}.` : '';
  }

  // wire lets each warning and each reading show where on the photo it lies.
  wire() {
    this.pinned = [];
    this.overlay.lightUp([]);
    for (const li of $('reading').querySelectorAll('li[data-where]')) {
      const where = JSON.parse(li.dataset.where).filter((p) => p.kind !== 'photo');
      if (!where.length) continue;
      const name = (li.textContent || '').slice(0, 60);
      li.append(' ', el('button', { type: 'button', class: 'where', 'aria-label': `Show on the photo: ${name}`, onclick: () => this.point(where) }, 'Show on the photo'));
    }
    for (const s of $('reading').querySelectorAll('section[data-analyte]')) {
      s.addEventListener('pointerenter', () => this.overlay.lightUp(this.ofReading(s)));
      s.addEventListener('pointerleave', () => this.overlay.lightUp(this.pinned));
      s.addEventListener('focusin', () => this.overlay.lightUp(this.ofReading(s)));
      s.addEventListener('focusout', () => this.overlay.lightUp(this.pinned));
    }
  }

  point(where) {
    this.pinned = where.flatMap((p) => this.marks(p));
    this.overlay.lightUp(this.pinned);
    if (this.pinned.length) this.store.tell({ reveal: this.pinned[0] });
    $('stage').scrollIntoView({ block: 'nearest' });
  }

  ofReading(section) {
    const { analyte, bracket } = section.dataset;
    const values = bracket ? bracket.split(' ').map(Number) : [];
    return [...this.marks({ kind: 'pad', analyte }), ...values.flatMap((value) => this.marks({ kind: 'swatch', analyte, value }))];
  }

  // marks are the marks at a place that a warning is about, as the reading's JSON
  // has it; of swatches that only the chart's layout places, those cells.
  marks({ kind, analyte, value, part, number }) {
    const of = (role) => this.store.doc.regions.filter((r) => r.role === role && r.analyte === analyte && (!part || (r.part || 1) === part));
    const cells = (test) => this.store.placed.filter((p) => p.analyte === analyte && (!part || (p.part || 1) === part) && test(p)).map(cellId);
    switch (kind) {
      case 'pad': case 'part': return of('pad').map((r) => r.id);
      case 'swatch': {
        const marked = of('swatch').filter((r) => r.value === value).map((r) => r.id);
        return marked.length ? marked : cells((p) => p.value === value);
      }
      case 'row': return [...of('swatch').map((r) => r.id), ...cells(() => true)];
      case 'white': { const w = this.store.doc.regions.filter((r) => r.role === 'white')[number - 1]; return w ? [w.id] : []; }
    }
    return [];
  }
}

const owner = (d) => (d.closest('[data-analyte]') ? d.closest('[data-analyte]').dataset.analyte : '');
