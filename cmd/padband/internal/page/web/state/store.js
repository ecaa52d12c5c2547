// What is marked, with undo. One document, replaced whole at each change.
import { points } from '../marking/shape.js';

export const empty = () => ({ regions: [], corners: [], skipped: [], curved: [], enough: false, byHand: false, sample: {} });

export class Store {
  constructor() {
    this.photo = null;
    this.chart = null;
    this.last = null; // the chart that was there last, while another is being chosen
    this.doc = empty();
    this.past = [];
    this.future = [];
    this.selected = null;
    this.target = null; // the step a person chose over the next in line
    this.placed = []; // swatches the server placed by the corners
    this.complete = false; // a reading of all that is marked is there
    this.listeners = [];
    this.count = 0;
    this.saved = this.version(); // what lies in the photo's files, or came with it
    this.handed = []; // versions in records and downloads: no later one replaces them
  }

  // unsaved is whether leaving the page or the photo now loses what a person did.
  get unsaved() {
    const now = this.version();
    return now !== this.saved && !this.handed.includes(now);
  }

  // version is all that a person did to the photo, as one text to be compared:
  // marks, sample and chart as the files hold them, and corners not yet all
  // there. Empty when nothing was done.
  version() {
    const { corners } = this.doc, regions = this.regions(), sample = filled(this.doc.sample);
    return corners.length || regions.length || sample ? JSON.stringify([corners, regions, sample, this.last]) : '';
  }

  // taken is the version that is about to be saved; a change from here on is a
  // step of its own, so that undo leads back to it.
  taken() {
    this.endGesture();
    return this.version();
  }

  // use takes a chart, or none while another is being chosen.
  use(chart) {
    this.chart = chart;
    this.last = chart || this.last;
  }

  on(f) { this.listeners.push(f); }
  tell(what) { for (const f of this.listeners) f(what); }

  // change makes a new document; steps of one gesture (same key) undo together.
  change(edit, key = null) {
    const next = structuredClone(this.doc);
    edit(next);
    if (!key || key !== this.key) {
      this.past.push(this.doc);
      if (this.past.length > 200) this.past.shift();
    }
    this.key = key;
    this.doc = next;
    this.future = [];
    this.tell('doc');
  }

  endGesture() { this.key = null; }

  undo() { this.swap(this.past, this.future); }
  redo() { this.swap(this.future, this.past); }

  swap(from, to) {
    if (!from.length) return;
    to.push(this.doc);
    this.doc = from.pop();
    this.key = null;
    this.selected = null;
    this.target = null;
    this.tell('doc');
  }

  select(id) {
    if (this.selected === id) return;
    this.selected = id;
    this.tell('select');
  }

  region(id) { return this.doc.regions.find((r) => r.id === id) || null; }
  newId() { return `m${++this.count}`; }

  find(role, analyte, value, part) {
    return this.doc.regions.find((r) => r.role === role && r.analyte === analyte && (role !== 'swatch' || r.value === value) && r.part === part) || null;
  }

  remove(id) {
    const corner = cornerOf(id);
    this.selected = null;
    this.change((d) => {
      if (corner !== null) d.corners = [];
      else d.regions = d.regions.filter((r) => r.id !== id);
    });
  }

  load(marks) {
    this.doc = empty();
    this.past = [];
    this.future = [];
    this.selected = null;
    this.target = null;
    this.placed = [];
    if (marks) this.fill(marks);
    this.last = this.chart;
    this.saved = this.version();
    this.handed = [];
    this.tell('doc');
  }

  fill(marks) {
    this.doc.corners = marks.corners || [];
    this.doc.sample = marks.sample || {};
    for (const m of marks.regions || []) {
      const shape = m.polygon ? { polygon: m.polygon } : m.rect ? { rect: m.rect } : { circle: m.circle };
      const r = { id: this.newId(), role: m.role, shape, auto: false };
      if (m.role === 'white') r.material = m.material || '';
      else Object.assign(r, { analyte: m.analyte, part: m.part || 1 });
      if (m.role === 'swatch') r.value = m.value;
      this.doc.regions.push(r);
    }
    this.doc.enough = this.doc.regions.some((r) => r.role === 'white');
    const pads = new Set(this.doc.regions.filter((r) => r.role === 'pad').map((r) => r.analyte));
    if (this.chart && pads.size) this.doc.skipped = this.chart.analytes.map((a) => a.name).filter((n) => !pads.has(n));
    this.doc.byHand = this.doc.corners.length !== 4 && this.doc.regions.some((r) => r.role === 'swatch');
  }

  // marks is the document as a marks file.
  marks() {
    const out = { format: 1 };
    if (this.chart) out.chart = this.chart.chart;
    if (this.doc.corners.length === 4) out.corners = this.doc.corners;
    out.regions = this.regions();
    const sample = filled(this.doc.sample);
    if (sample) out.sample = sample;
    return out;
  }

  // regions are the marks as a file holds them, without those of an analyte left out.
  regions() { return this.doc.regions.filter((r) => !this.doc.skipped.includes(r.analyte)).map(fileMark); }
}

export const cornerOf = (id) => (typeof id === 'string' && id.startsWith('corner:') ? Number(id.slice(7)) : null);

function fileMark(r) {
  const out = { role: r.role };
  if (r.role === 'white') {
    if (r.material) out.material = r.material;
  } else {
    out.analyte = r.analyte;
    if (r.role === 'swatch') out.value = r.value;
    out.part = r.part;
  }
  return Object.assign(out, r.shape.circle || r.shape.rect ? r.shape : { polygon: points(r.shape) });
}

// filled leaves out what is empty.
function filled(o) {
  const out = {};
  for (const [k, v] of Object.entries(o)) {
    const kept = v && typeof v === 'object' ? filled(v) : v;
    if (kept) out[k] = kept;
  }
  return Object.keys(out).length ? out : null;
}
