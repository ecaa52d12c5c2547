// Draws the marks over the photo. Roles differ by the line and a label, not by
// colour: pads are bold, swatches thin, white areas dashed, what was placed for
// the person dotted. A dark line in a light casing is seen on any photo.
import { bounds, handles, points } from '../marking/shape.js';

const NS = 'http://www.w3.org/2000/svg';

function make(name, attributes, parent) {
  const e = document.createElementNS(NS, name);
  for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v);
  parent.append(e);
  return e;
}

export class Overlay {
  constructor(svg, store, view) {
    Object.assign(this, { svg, store, view, draft: null, cross: null, lit: new Set() });
    store.on(() => this.draw());
    view.on(() => this.draw());
  }

  draw() {
    if (!this.view.photo) return;
    this.svg.setAttribute('width', this.view.width);
    this.svg.setAttribute('height', this.view.height);
    this.svg.replaceChildren();
    this.outlineOfChart();
    for (const p of this.unmarkedCells()) this.region({ ...p, shape: { polygon: p.polygon }, auto: true, id: cellId(p) });
    for (const r of this.store.doc.regions) this.region(r);
    const chosen = this.store.region(this.store.selected);
    if (chosen) this.grips(chosen.shape);
    if (this.draft) this.path(points(this.draft), 'mark draft');
    if (this.cross) this.crosshair(this.view.toSurface(this.cross));
  }

  // unmarkedCells are the swatches placed by the chart's corners.
  unmarkedCells() {
    return this.store.placed.filter((p) => p.role === 'swatch' && !this.store.find('swatch', p.analyte, p.value, p.part));
  }

  region(r) {
    const kind = ['mark', r.role, r.auto ? 'auto' : '', r.id === this.store.selected ? 'selected' : '', this.lit.has(r.id) ? 'lit' : ''].join(' ');
    const p = this.path(points(r.shape), kind);
    const label = r.role === 'white' ? 'white' : r.role === 'pad' ? r.analyte : String(r.value);
    const xs = p.map((q) => q[0]), ys = p.map((q) => q[1]);
    const wide = Math.max(...xs) - Math.min(...xs);
    const told = r.id === this.store.selected || this.lit.has(r.id) || wide > 9 * label.length;
    if (told) this.label(label, (Math.min(...xs) + Math.max(...xs)) / 2, Math.min(...ys) - 5);
  }

  path(outline, kind) {
    const p = outline.map((q) => this.view.toSurface(q));
    const d = `M${p.map((q) => q.map((v) => v.toFixed(1)).join(' ')).join('L')}Z`;
    make('path', { d, class: `${kind} casing` }, this.svg);
    make('path', { d, class: `${kind} line` }, this.svg);
    return p;
  }

  label(text, x, y) {
    const t = make('text', { x: x.toFixed(1), y: Math.max(14, y).toFixed(1), class: 'mark-label' }, this.svg);
    t.textContent = text;
  }

  grips(shape) {
    const b = bounds(shape);
    const side = Math.min(10, Math.max(4, (Math.min(b.x1 - b.x0, b.y1 - b.y0) * this.view.scale) / 4));
    for (const q of handles(shape)) {
      const [x, y] = this.view.toSurface(q);
      make('rect', { x: x - side / 2, y: y - side / 2, width: side, height: side, class: 'grip' }, this.svg);
    }
  }

  outlineOfChart() {
    const c = this.store.doc.corners;
    if (c.length === 4) this.path(c, 'mark chart');
    c.forEach((q, i) => {
      const [x, y] = this.view.toSurface(q), on = this.store.selected === `corner:${i}`;
      make('circle', { cx: x, cy: y, r: on ? 10 : 7, class: `corner ${on ? 'selected' : ''}` }, this.svg);
      this.label(String(i + 1), x, y - 11);
    });
  }

  crosshair([x, y]) {
    for (const kind of ['casing', 'line']) {
      make('path', { d: `M${x - 16} ${y}H${x + 16}M${x} ${y - 16}V${y + 16}`, class: `cross ${kind}` }, this.svg);
    }
  }

  // lightUp shows where a warning or a reading lies.
  lightUp(ids) {
    this.lit = new Set(ids);
    this.draw();
  }

  // pick is what lies at a place of the surface: a grip of the selected mark, a
  // chart corner, a mark, or a placed cell.
  pick(at, reach) {
    const near = (q) => { const [x, y] = this.view.toSurface(q); return Math.hypot(x - at[0], y - at[1]) <= reach; };
    const chosen = this.store.region(this.store.selected);
    if (chosen) {
      const grip = handles(chosen.shape).findIndex(near);
      if (grip >= 0) return { kind: 'grip', id: chosen.id, grip };
    }
    const corner = this.store.doc.corners.findIndex(near);
    if (corner >= 0) return { kind: 'corner', id: `corner:${corner}`, corner };
    return null;
  }
}

export const cellId = (p) => `cell:${p.analyte}:${p.part}:${p.value}`;
