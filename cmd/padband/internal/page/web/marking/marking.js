// @ts-check
// What marking does to the document, however it was asked for: by pointer or key.
import { $ } from '../common/dom.js';
import { cornerId, cornerOf } from '../state/store.js';
import { cellsUnmarked, isCell } from './cells.js';
import { Order } from './order.js';
import { follow, rowKey } from './rows.js';
import { area, bounds, box, centre, clamp, contains, drag, fit, grow, handles, move, point } from './shape.js';
import { current, nextWet } from './steps.js';
import { Taps } from './taps.js';

/** @import { Point, Shape } from './shape.js' */
/** @import { Step } from './steps.js' */
/** @import { Doc, Region } from '../state/files.js' */
/** @import { Store } from '../state/store.js' */
/** @import { View } from '../photo/view.js' */

const least = 4; // pixels of a box's side
const leastReach = 7; // CSS pixels about a grip

export class Marking {
  /**
   * @param {Store} store
   * @param {View} view
   */
  constructor(store, view) {
    this.store = store;
    this.view = view;
    this.material = 'paper'; // what the next white is of
    this.taps = new Taps(store, this);
    this.order = new Order(store);
  }

  get step() { return this.store.photo && this.store.chart ? current(this.store) : null; }

  /**
   * put marks a step with a shape. The bend is that of its row, where the photo shows it.
   * @param {Step} step
   * @param {Shape} shape
   * @param {Point | null} [bend]
   */
  put(step, shape, bend = null) {
    const { store } = this, r = this.marked(step, step.id || store.newId(), this.fitted(shape));
    store.target = null;
    store.selected = r.id;
    store.change((d) => {
      d.regions = d.regions.filter((x) => x.id !== r.id);
      d.regions.push(r);
      if (bend) d.bends[rowKey(r.analyte ?? '', r.part)] = bend;
      this.follow(d, r);
    });
  }

  /**
   * draw marks the current step with a box that a person drew.
   * @param {Shape} shape
   */
  draw(shape) { return this.taps.take(centre(shape), shape); }

  /**
   * tap marks the current step at one place: its patch's edge, or a corner.
   * @param {Point} at
   */
  tap(at) { return this.within(at) ? this.taps.take(at) : this.taps.beside(at); }

  /**
   * tooSmall says so of a shape that no colour can be taken from.
   * @param {Shape} shape
   */
  tooSmall(shape) {
    const b = bounds(this.fitted(shape));
    return b.x1 - b.x0 < least || b.y1 - b.y0 < least ? 'That box is too small: draw it larger, or zoom in first.' : '';
  }

  /** @param {Shape} shape */
  fitted(shape) {
    const { width, height } = this.store.opened;
    return fit(shape, width, height);
  }

  /**
   * marked is the mark of a step.
   * @param {Step} step
   * @param {string} id
   * @param {Shape} shape
   * @returns {Region}
   */
  marked(step, id, shape) {
    const { analyte, part, value } = step;
    if (step.kind === 'swatch') return { id, role: 'swatch', shape, auto: false, analyte, part, value };
    if (step.kind === 'pad') return { id, role: 'pad', shape, auto: false, analyte, part };
    if (step.kind === 'wet') return { id, role: 'wet-white', shape, auto: false, material: '' };
    return { id, role: 'white', shape, auto: false, material: this.material };
  }

  /**
   * follow places the rest of a row after a change of one of its marks.
   * @param {Doc} d
   * @param {{role: string, analyte?: string, value?: number}} r
   */
  follow(d, r) {
    if (this.store.chart) follow(d, this.store.chart, r, () => this.store.newId());
  }

  /** @param {Point} at */
  square([x, y]) {
    const { width, height } = this.store.opened, half = Math.max(8, Math.min(width, height) / 50);
    return box([x - half, y - half], [x + half, y + half]);
  }

  /** @param {Point} at */
  within([x, y]) {
    const { width, height } = this.store.opened;
    return x >= 0 && y >= 0 && x <= width && y <= height;
  }

  /**
   * @param {number} index
   * @param {Point} at
   */
  corner(index, at) {
    const { store } = this;
    store.target = null;
    store.selected = cornerId(index);
    store.change((d) => { d.corners[index] = point(...at); });
    if (store.doc.corners.filter(Boolean).length < 4) return;
    store.say('See that each dotted box lies on its swatch; if not, drag the corners.');
  }

  /**
   * hit is the mark at a place of the photo; the smallest where several lie.
   * @param {Point} at
   * @returns {Region | null}
   */
  hit(at) {
    const there = [...this.store.doc.regions, ...cellsUnmarked(this.store)].filter((r) => contains(r.shape, at));
    return there.sort((a, b) => area(a.shape) - area(b.shape))[0] || null;
  }

  /**
   * grab is what can be dragged at a place of the surface: a grip of the selected
   * mark, or a corner of the chart.
   * @param {Point} at
   * @param {number} reach
   * @returns {{grip: number, id: string} | {corner: number, id: string} | null}
   */
  grab(at, reach) {
    const { doc, selected } = this.store, chosen = this.store.region(selected);
    /**
     * @param {Point} q
     * @param {number} [r]
     */
    const near = (q, r = reach) => { const [x, y] = this.view.toSurface(q); return Math.hypot(x - at[0], y - at[1]) <= r; };
    const grip = chosen ? handles(chosen.shape).findIndex((q) => near(q, this.reachOf(chosen.shape, reach))) : -1;
    if (chosen && grip >= 0) return { grip, id: chosen.id };
    const corner = doc.corners.findIndex(near);
    return corner >= 0 ? { corner, id: cornerId(corner) } : null;
  }

  /**
   * reachOf is how far about a grip counts as on it: no farther than half a small
   * mark, so that what lies beside it can be marked.
   * @param {Shape} shape
   * @param {number} most
   */
  reachOf(shape, most) {
    const b = bounds(shape), half = (Math.min(b.x1 - b.x0, b.y1 - b.y0) * this.view.scale) / 2;
    return Math.min(most, Math.max(leastReach, half));
  }

  /**
   * cornerAt is the id of the chart's corner at a place of the surface.
   * @param {Point} at
   * @param {number} reach
   */
  cornerAt(at, reach) {
    const i = this.store.doc.corners.findIndex((q) => {
      const [x, y] = this.view.toSurface(q);
      return Math.hypot(x - at[0], y - at[1]) <= reach;
    });
    return i < 0 ? null : cornerId(i);
  }

  /**
   * choose selects what was hit; a cell placed by the corners becomes a mark by hand.
   * @param {Region} r
   */
  choose(r) {
    if (!isCell(r.id)) return this.store.select(r.id);
    const id = this.store.newId();
    this.store.selected = id;
    this.store.change((d) => { d.regions.push({ ...r, id, auto: false }); });
  }

  /**
   * shift moves the selected mark by photo pixels.
   * @param {number} dx
   * @param {number} dy
   * @param {string} gesture
   */
  shift(dx, dy, gesture) {
    const { width, height } = this.store.opened, corner = cornerOf(this.store.selected);
    if (corner === null) return this.reshape((s) => move(s, dx, dy), gesture);
    this.store.change((d) => {
      const [x, y] = d.corners[corner];
      d.corners[corner] = clamp([x + dx, y + dy], width, height);
    }, gesture);
  }

  /**
   * @param {number} index
   * @param {Point} to
   * @param {string} gesture
   */
  grip(index, to, gesture) { this.reshape((s) => drag(s, index, to), gesture); }

  /** @param {number} factor */
  resize(factor) { this.reshape((s) => grow(s, factor), 'resize'); }

  /**
   * turned finds the grip again after a box was dragged through itself.
   * @param {Point} at
   */
  turned(at) {
    const r = this.store.region(this.store.selected);
    const d = r ? handles(r.shape).map((q) => Math.hypot(q[0] - at[0], q[1] - at[1])) : [0];
    return d.indexOf(Math.min(...d));
  }

  /**
   * @param {(s: Shape) => Shape} f
   * @param {string} gesture
   */
  reshape(f, gesture) {
    const id = this.store.selected;
    if (!this.store.region(id)) return;
    this.store.change((d) => {
      const r = d.regions.find((x) => x.id === id);
      if (!r) return;
      r.shape = this.fitted(f(r.shape));
      r.auto = false;
      this.follow(d, r);
    }, gesture);
  }

  // markWet asks for a wet white next.
  markWet() {
    this.store.aim(nextWet(this.store), null);
    $('stage').focus();
  }

  // skip leaves the current step out.
  skip() {
    const { step, store } = this;
    if (!step) return;
    store.target = null;
    if (step.kind === 'white') return this.skipWhite(step);
    if (step.kind === 'corner') return this.skipCorners();
    if (step.kind === 'wet') return store.tell('target');
    const { analyte } = step;
    if (!analyte) return;
    store.change((d) => { d.skipped.push(analyte); });
    store.say(`${analyte} is left out.`);
  }

  /** @param {Step} step */
  skipWhite(step) {
    if (!step.optional) return this.store.say('One piece of white is needed: it shows the light.');
    this.store.change((d) => { d.enough = true; });
  }

  skipCorners() {
    this.store.remembering = false;
    this.store.change((d) => { d.corners = []; d.byHand = true; });
  }

  /**
   * reveal brings a mark or a corner into sight.
   * @param {string} id
   */
  reveal(id) {
    const corner = cornerOf(id), r = this.store.region(id);
    if (corner !== null) this.view.reveal(this.store.doc.corners[corner]);
    else if (r) this.view.reveal(centre(r.shape));
  }
}
