// What marking does to the document, however it was asked for: by pointer or key.
import * as api from '../server/api.js';
import { bounds, box, contains, drag, fit, grow, handles, move, point } from './shape.js';
import { place } from './rows.js';
import { current, key, middle } from './steps.js';
import { cellId } from '../photo/overlay.js';
import { cornerOf } from '../state/store.js';

export class Marking {
  constructor(store, view, overlay, tell) {
    Object.assign(this, { store, view, overlay, tell, material: 'paper' });
  }

  get step() { return this.store.photo && this.store.chart ? current(this.store) : null; }

  // put marks the current step with a shape.
  put(shape) {
    const step = this.step;
    if (!step || step.kind === 'corner') return;
    const { width, height } = this.store.photo;
    const fitted = fit(shape, width, height);
    const b = bounds(fitted);
    if (b.x1 - b.x0 < 4 || b.y1 - b.y0 < 4) return this.tell('That box is too small: draw it larger, or zoom in first.');
    const id = step.id || this.store.newId();
    this.store.target = null;
    this.store.selected = id;
    this.store.change((d) => {
      d.regions = d.regions.filter((r) => r.id !== id);
      const r = { id, role: step.kind, shape: fitted, auto: false };
      if (step.kind === 'white') r.material = this.material;
      else Object.assign(r, { analyte: step.analyte, part: step.part });
      if (step.kind === 'swatch') r.value = step.value;
      d.regions.push(r);
      this.follow(d, r);
    });
  }

  // follow places the rest of a row again when one of the marks it hangs on changed.
  follow(d, r) {
    if (r.role !== 'swatch') return;
    const a = this.store.chart.analytes.find((x) => x.name === r.analyte);
    if (!a) return;
    const i = a.swatches.findIndex((s) => s.value === r.value);
    const anchors = [0, a.swatches.length - 1, ...(d.curved.includes(a.name) ? [middle(a)] : [])];
    if (anchors.includes(i)) place(d, this.store.chart, () => this.store.newId());
  }

  // tap marks the current step at one place: its patch's edge, or a corner.
  async tap(at) {
    const step = this.step;
    if (!step || !this.within(at)) return;
    if (step.kind === 'corner') return this.corner(step, at);
    if (step.kind === 'white') return this.put(this.square(at));
    const asked = key(step);
    try {
      const found = await api.edge(this.store.photo.id, at[0], at[1]);
      if (this.step && key(this.step) === asked) this.put({ polygon: found.polygon.map(([x, y]) => point(x, y)) });
    } catch (e) {
      this.tell(`${sentence(e.message)}`);
    }
  }

  square([x, y]) {
    const half = Math.max(8, Math.min(this.store.photo.width, this.store.photo.height) / 50);
    return box([x - half, y - half], [x + half, y + half]);
  }

  within([x, y]) { return x >= 0 && y >= 0 && x <= this.store.photo.width && y <= this.store.photo.height; }

  corner(step, at) {
    this.store.target = null;
    this.store.selected = `corner:${step.index}`;
    this.store.change((d) => { d.corners[step.index] = point(...at); });
    if (this.store.doc.corners.filter(Boolean).length === 4) this.tell('See that each dotted box lies on its swatch; if not, drag the corners.');
  }

  // hit is the mark at a place of the photo; the smallest where several lie.
  hit(at) {
    const cells = this.overlay.unmarkedCells().map((p) => ({ ...p, id: cellId(p), shape: { polygon: p.polygon } }));
    const size = (r) => { const b = bounds(r.shape); return (b.x1 - b.x0) * (b.y1 - b.y0); };
    return [...this.store.doc.regions, ...cells].filter((r) => contains(r.shape, at)).sort((a, b) => size(a) - size(b))[0] || null;
  }

  // choose selects what was hit; a cell placed by the corners becomes a mark by hand.
  choose(r) {
    if (!String(r.id).startsWith('cell:')) return this.store.select(r.id);
    const id = this.store.newId();
    this.store.selected = id;
    this.store.change((d) => d.regions.push({ id, role: 'swatch', analyte: r.analyte, value: r.value, part: r.part, shape: r.shape, auto: false }));
  }

  // shift moves the selected mark by photo pixels.
  shift(dx, dy, gesture) {
    const corner = cornerOf(this.store.selected);
    if (corner !== null) return this.store.change((d) => { d.corners[corner] = this.clamp([d.corners[corner][0] + dx, d.corners[corner][1] + dy]); }, gesture);
    this.reshape((s) => move(s, dx, dy), gesture);
  }

  clamp([x, y]) { return point(Math.min(this.store.photo.width, Math.max(0, x)), Math.min(this.store.photo.height, Math.max(0, y))); }

  grip(index, to, gesture) { this.reshape((s) => drag(s, index, to), gesture); }
  resize(factor) { this.reshape((s) => grow(s, factor), 'resize'); }

  // turned finds the grip again after a box was dragged through itself.
  turned(at) {
    const r = this.store.region(this.store.selected);
    const d = handles(r.shape).map((q) => Math.hypot(q[0] - at[0], q[1] - at[1]));
    return d.indexOf(Math.min(...d));
  }

  reshape(f, gesture) {
    const id = this.store.selected;
    if (!this.store.region(id)) return;
    this.store.change((d) => {
      const r = d.regions.find((x) => x.id === id);
      r.shape = fit(f(r.shape), this.store.photo.width, this.store.photo.height);
      r.auto = false;
      this.follow(d, r);
    }, gesture);
  }

  skip() {
    const step = this.step;
    if (!step) return;
    this.store.target = null;
    if (step.kind === 'white') {
      if (!step.optional) return this.tell('One piece of white is needed: it shows the light.');
      return this.store.change((d) => { d.enough = true; });
    }
    if (step.kind === 'corner') return this.store.change((d) => { d.corners = []; d.byHand = true; this.store.remembering = false; });
    if (!step.analyte) return;
    this.store.change((d) => d.skipped.push(step.analyte));
    this.tell(`${step.analyte} is left out.`);
  }
}

export function sentence(text) {
  const s = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(s) ? s : `${s}.`;
}
