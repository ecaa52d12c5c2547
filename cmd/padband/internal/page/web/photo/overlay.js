// @ts-check
// Draws the marks over the photo. Roles differ by the line and a label, not by
// colour: pads are bold, swatches thin, white areas dashed, what was placed for
// the person dotted. A dark line in a light casing is seen on any photo.
import { bounds, handles, points } from '../marking/shape.js';
import { cellsUnmarked } from '../marking/cells.js';
import { nameOf } from '../marking/possible.js';
import { isWhite } from '../state/files.js';
import { cornerId } from '../state/store.js';
import { labels } from './labels.js';

/** @import { Point, Shape } from '../marking/shape.js' */
/** @import { Chart, Region } from '../state/files.js' */
/** @import { Store } from '../state/store.js' */
/** @import { Labelled } from './labels.js' */
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
    this.label([...cellsUnmarked(store), ...store.doc.regions].map((r) => this.region(r)));
    const chosen = store.region(store.selected);
    if (chosen) this.grips(chosen.shape);
    if (draft) this.path(points(draft), 'mark draft');
    if (cross) this.crosshair(this.view.toSurface(cross));
  }

  /**
   * region draws a mark and says what its label is about.
   * @param {Region} r
   * @returns {Labelled}
   */
  region(r) {
    const selected = r.id === this.store.selected, lit = this.store.over.lit.has(r.id);
    const kind = ['mark', r.role, r.auto || this.store.doc.unchecked ? 'auto' : '', selected ? 'selected' : '', lit ? 'lit' : ''].join(' ');
    const p = this.path(points(r.shape), kind), xs = p.map((q) => q[0]), ys = p.map((q) => q[1]);
    const box = { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) };
    return { text: labelOf(r, this.store.chart), first: selected || lit, beside: r.role === 'pad', ...box };
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

  /** @param {Labelled[]} marks */
  label(marks) {
    const numbers = this.store.doc.corners.map((q) => numberAt(this.view.toSurface(q)));
    const all = labels(marks, numbers, this.view.width, this.view.height);
    for (const { at, from } of all) if (from) this.leader(from, at);
    for (const { text, at, size } of all) this.write(text, at, size);
  }

  /**
   * leader is the line from a mark to its label.
   * @param {Point} from
   * @param {Point} to
   */
  leader(from, to) {
    const d = `M${from.map((v) => v.toFixed(1)).join(' ')}L${to.map((v) => v.toFixed(1)).join(' ')}`;
    this.make('path', { d, class: 'leader casing' });
    this.make('path', { d, class: 'leader line' });
  }

  /**
   * @param {string} text
   * @param {Point} at
   * @param {number} size
   */
  write(text, [x, y], size) {
    const t = this.make('text', { x: x.toFixed(1), y: y.toFixed(1), class: `mark-label size-${size}` });
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
      if (x > 0 && y > 0 && x < this.view.width && y < this.view.height) this.write(String(i + 1), [x, Math.max(14, y - 11)], 13);
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

/**
 * numberAt is what a corner of the chart and its number take.
 * @param {Point} corner
 */
const numberAt = ([x, y]) => ({ left: x - 8, top: Math.max(0, y - 24), right: x + 8, bottom: y + 8 });

/**
 * @param {Region} r
 * @param {Chart | null} chart
 */
function labelOf(r, chart) {
  if (isWhite(r.role)) return nameOf(r);
  if (r.role === 'swatch') return String(r.value);
  const parts = chart?.analytes.find((a) => a.name === r.analyte)?.parts ?? 1;
  return parts > 1 ? `${r.analyte} ${r.part}` : r.analyte ?? '';
}
