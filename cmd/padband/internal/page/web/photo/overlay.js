// @ts-check
// Draws the marks over the photo. Roles differ by the line and a label, not by
// colour: pads are bold, swatches thin, white areas dashed, what was placed for
// the person dotted. A dark line in a light casing is seen on any photo.
import { bounds, handles, points } from '../marking/shape.js';
import { cellsUnmarked } from '../marking/cells.js';
import { cornerId } from '../state/store.js';

/** @import { Point, Shape } from '../marking/shape.js' */
/** @import { Region } from '../state/files.js' */
/** @import { Store } from '../state/store.js' */
/** @import { View } from './view.js' */

const NS = 'http://www.w3.org/2000/svg';

export class Overlay {
  /**
   * @param {SVGSVGElement} svg
   * @param {Store} store
   * @param {View} view
   */
  constructor(svg, store, view) {
    this.svg = svg;
    this.store = store;
    this.view = view;
    store.on(() => this.draw());
    view.on(() => this.draw());
  }

  draw() {
    if (!this.view.photo) return;
    const { store } = this, { draft, cross } = store.over;
    this.svg.setAttribute('width', String(this.view.width));
    this.svg.setAttribute('height', String(this.view.height));
    this.svg.replaceChildren();
    this.outlineOfChart();
    for (const r of cellsUnmarked(store)) this.region(r);
    for (const r of store.doc.regions) this.region(r);
    const chosen = store.region(store.selected);
    if (chosen) this.grips(chosen.shape);
    if (draft) this.path(points(draft), 'mark draft');
    if (cross) this.crosshair(this.view.toSurface(cross));
  }

  /** @param {Region} r */
  region(r) {
    const selected = r.id === this.store.selected, lit = this.store.over.lit.has(r.id);
    const kind = ['mark', r.role, r.auto ? 'auto' : '', selected ? 'selected' : '', lit ? 'lit' : ''].join(' ');
    const p = this.path(points(r.shape), kind);
    const xs = p.map((q) => q[0]), left = Math.min(...xs), right = Math.max(...xs);
    const text = labelOf(r);
    if (!selected && !lit && right - left <= 9 * text.length) return;
    this.label(text, (left + right) / 2, Math.min(...p.map((q) => q[1])) - 5);
  }

  /**
   * @param {Point[]} outline
   * @param {string} kind
   */
  path(outline, kind) {
    const p = outline.map((q) => this.view.toSurface(q));
    const d = `M${p.map((q) => q.map((v) => v.toFixed(1)).join(' ')).join('L')}Z`;
    this.make('path', { d, class: `${kind} casing` });
    this.make('path', { d, class: `${kind} line` });
    return p;
  }

  /**
   * @param {string} text
   * @param {number} x
   * @param {number} y
   */
  label(text, x, y) {
    const t = this.make('text', { x: x.toFixed(1), y: Math.max(14, y).toFixed(1), class: 'mark-label' });
    t.textContent = text;
  }

  /** @param {Shape} shape */
  grips(shape) {
    const b = bounds(shape), shorter = Math.min(b.x1 - b.x0, b.y1 - b.y0) * this.view.scale;
    const side = Math.min(10, Math.max(4, shorter / 4));
    for (const q of handles(shape)) {
      const [x, y] = this.view.toSurface(q);
      this.make('rect', { x: x - side / 2, y: y - side / 2, width: side, height: side, class: 'grip' });
    }
  }

  outlineOfChart() {
    const c = this.store.doc.corners;
    if (c.length === 4) this.path(c, 'mark chart');
    c.forEach((q, i) => {
      const [x, y] = this.view.toSurface(q), on = this.store.selected === cornerId(i);
      this.make('circle', { cx: x, cy: y, r: on ? 10 : 7, class: `corner ${on ? 'selected' : ''}` });
      this.label(String(i + 1), x, y - 11);
    });
  }

  /** @param {Point} at */
  crosshair([x, y]) {
    for (const kind of ['casing', 'line']) {
      this.make('path', { d: `M${x - 16} ${y}H${x + 16}M${x} ${y - 16}V${y + 16}`, class: `cross ${kind}` });
    }
  }

  /**
   * @param {string} name
   * @param {Record<string, string | number>} attributes
   */
  make(name, attributes) {
    const e = document.createElementNS(NS, name);
    for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, String(v));
    this.svg.append(e);
    return e;
  }
}

/** @param {Region} r */
function labelOf(r) {
  if (r.role === 'white') return 'white';
  return r.role === 'pad' ? r.analyte ?? '' : String(r.value);
}
