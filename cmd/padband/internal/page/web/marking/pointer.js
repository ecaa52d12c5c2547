// @ts-check
// Mouse, pen and fingers on the photo. One finger or the mouse marks; two
// fingers, the wheel, the middle button, or the space key with a drag move the photo.
import { box } from './shape.js';

/** @import { Point } from './shape.js' */
/** @import { Marking } from './marking.js' */
/** @import { Region } from '../state/files.js' */
/** @import { Store } from '../state/store.js' */
/** @import { Lens } from '../photo/lens.js' */
/** @import { View } from '../photo/view.js' */

/**
 * What a press is for: to move the photo, to move a mark or its grip, to draw a
 * box, to set a point, or to zoom with two fingers. On is the mark under it. What
 * was grabbed is there for a drag: a tap is for what lies under it.
 * @typedef {{kind: 'pan' | 'draw', on: Region | null}} OnPhoto
 * @typedef {{kind: 'shift', id: string} | {kind: 'grip', grip: number} | {kind: 'point'}} OnMark
 * @typedef {{kind: 'pinch', gap: number, mid: Point}} Pinch
 * @typedef {OnPhoto | OnMark | Pinch} Doing
 */

const wheelLine = 18; // CSS pixels to a line of a wheel
const mouseReach = 10, fingerReach = 22; // CSS pixels about a grip that count as on it
const cornerSize = 10; // CSS pixels about a chart's corner that a tap is on
const mouseStill = 4, fingerStill = 8; // CSS pixels that are no drag yet

export class Pointer {
  /**
   * @param {HTMLElement} stage
   * @param {Store} store
   * @param {View} view
   * @param {Marking} marking
   * @param {Lens} lens
   */
  constructor(stage, store, view, marking, lens) {
    this.stage = stage;
    this.store = store;
    this.view = view;
    this.marking = marking;
    this.lens = lens;
    /** @type {Map<number, Point>} where each finger is */
    this.down = new Map();
    /** @type {Doing | null} */
    this.doing = null;
    /** @type {Point} where the press began */
    this.from = [0, 0];
    this.far = false; // the press has become a drag
    this.panning = false; // the tool that moves the photo is on
    this.space = false; // the space key is held
    this.listen();
  }

  listen() {
    this.stage.addEventListener('pointerdown', (e) => this.press(e));
    this.stage.addEventListener('pointermove', (e) => this.moved(e));
    this.stage.addEventListener('pointerup', (e) => this.release(e));
    this.stage.addEventListener('pointercancel', (e) => this.cancel(e));
    this.stage.addEventListener('pointerleave', () => { if (!this.down.size) this.lens.hide(); });
    this.stage.addEventListener('wheel', (e) => this.wheel(e), { passive: false });
  }

  /** @param {PointerEvent} e */
  press(e) {
    if (!this.view.photo || e.button > 1 || onNote(e)) return;
    e.preventDefault();
    if (!this.store.over.note?.refused) this.store.show({ note: null });
    this.stage.focus({ preventScroll: true });
    this.stage.setPointerCapture(e.pointerId);
    const at = this.view.place(e);
    this.down.set(e.pointerId, at);
    this.store.over.cross = null;
    if (this.down.size === 2) return this.pinch();
    if (this.down.size > 2) return;
    this.from = at;
    this.far = false;
    this.doing = this.begin(e, at);
    if (this.doing.kind === 'draw' || this.doing.kind === 'point') this.lens.show(at, e.pointerType);
  }

  /**
   * begin decides what this press is for.
   * @param {PointerEvent} e
   * @param {Point} at
   * @returns {Doing}
   */
  begin(e, at) {
    if (this.panning || this.space || e.button === 1) return { kind: 'pan', on: null };
    const { step } = this.marking, cornerNext = step?.kind === 'corner';
    const grabbed = this.marking.grab(at, e.pointerType === 'mouse' ? mouseReach : fingerReach);
    if (grabbed && 'grip' in grabbed) return { kind: 'grip', grip: grabbed.grip };
    if (grabbed && !(cornerNext && !step.done)) return { kind: 'shift', id: grabbed.id };
    const on = this.marking.hit(this.view.toPhoto(at));
    if (on && on.id === this.store.selected) return { kind: 'shift', id: on.id };
    if (cornerNext) return { kind: 'point' };
    return { kind: step ? 'draw' : 'pan', on };
  }

  pinch() {
    this.lens.hide();
    this.doing = { kind: 'pinch', ...this.fingers() };
    this.store.show({ draft: null });
  }

  // fingers are how far two fingers are apart, and the middle between them.
  fingers() {
    const [a, b] = [...this.down.values()];
    return { gap: gap(a, b), mid: mid(a, b) };
  }

  /** @param {PointerEvent} e */
  moved(e) {
    if (!this.view.photo) return;
    const at = this.view.place(e), last = this.down.get(e.pointerId);
    if (!last) return this.hover(e, at);
    this.down.set(e.pointerId, at);
    if (!this.doing) return;
    if (this.doing.kind === 'pinch') return this.pinching(this.doing);
    if (!this.far && gap(at, this.from) < (e.pointerType === 'mouse' ? mouseStill : fingerStill)) return;
    const since = this.far ? last : this.from; // the first pixels count too
    this.far = true;
    this.dragged(this.doing, at, since, e.pointerType);
  }

  /**
   * @param {PointerEvent} e
   * @param {Point} at
   */
  hover(e, at) {
    if (e.pointerType === 'mouse' && this.marking.step && !this.panning) this.lens.show(at, 'mouse');
  }

  /**
   * @param {Doing} d
   * @param {Point} at
   * @param {Point} last
   * @param {string} type of the pointer
   */
  dragged(d, at, last, type) {
    const dx = at[0] - last[0], dy = at[1] - last[1], k = this.view.scale;
    if (d.kind === 'pan') return this.view.pan(dx, dy);
    if (d.kind === 'shift') {
      this.store.select(d.id);
      this.marking.shift(dx / k, dy / k, 'drag');
    }
    if (d.kind === 'draw') this.store.show({ draft: this.drawn(at) });
    if (d.kind === 'grip') {
      this.marking.grip(d.grip, this.view.toPhoto(at), 'drag');
      d.grip = this.marking.turned(this.view.toPhoto(at));
    }
    this.lens.show(at, type);
  }

  /**
   * drawn is the box from where the press began.
   * @param {Point} at
   */
  drawn(at) { return box(this.view.toPhoto(this.from), this.view.toPhoto(at)); }

  /** @param {Pinch} d */
  pinching(d) {
    if (this.down.size < 2) return; // one finger was lifted
    const now = this.fingers();
    this.view.pan(now.mid[0] - d.mid[0], now.mid[1] - d.mid[1]);
    if (d.gap > 0) this.view.zoom(now.gap / d.gap, ...now.mid);
    Object.assign(d, now);
  }

  /** @param {PointerEvent} e */
  release(e) {
    if (!this.down.delete(e.pointerId) || !this.doing) return;
    if (this.doing.kind === 'pinch') {
      if (!this.down.size) this.doing = null;
      return;
    }
    const d = this.doing;
    this.end();
    this.finish(d, this.view.place(e));
  }

  /**
   * @param {Doing} d
   * @param {Point} at
   */
  finish(d, at) {
    const { marking } = this, place = this.view.toPhoto(at);
    if (d.kind === 'point') marking.tap(place);
    else if (this.far && d.kind === 'draw') marking.draw(this.drawn(at));
    else if (!this.far && d.kind === 'pan') this.chosen(d.on);
    else if (!this.far && d.kind !== 'pinch') this.touched(at, place);
  }

  /**
   * touched is a tap on what may be dragged too: a corner of the chart, a mark, or a patch.
   * @param {Point} at
   * @param {Point} place the same in the photo
   */
  touched(at, place) {
    const corner = this.marking.cornerAt(at, cornerSize);
    if (corner) this.store.select(corner);
    else this.tapped(this.marking.hit(place), place);
  }

  /**
   * tapped chooses the mark that was tapped, or marks what was.
   * @param {Region | null} on
   * @param {Point} place
   */
  tapped(on, place) {
    if (on && on.id !== this.store.selected) this.marking.taps.onMarked(on, place);
    if (!on && this.marking.step) this.marking.tap(place);
    else this.chosen(on);
  }

  /**
   * chosen selects a mark, or none where nothing was tapped.
   * @param {Region | null} on
   */
  chosen(on) {
    if (on && on.id !== this.store.selected) this.marking.choose(on);
    else if (!on && !this.panning) this.store.select(null);
  }

  /** @param {PointerEvent} e */
  cancel(e) {
    this.down.delete(e.pointerId);
    this.end();
  }

  // end is the end of a press and of what it did step by step.
  end() {
    this.doing = null;
    this.lens.hide();
    this.store.endGesture();
    this.store.show({ draft: null });
  }

  /** @param {WheelEvent} e */
  wheel(e) {
    if (!this.view.photo || onNote(e)) return;
    e.preventDefault();
    const [x, y] = this.view.place(e);
    const lines = e.deltaMode === WheelEvent.DOM_DELTA_LINE ? wheelLine : 1;
    this.view.zoom(Math.exp(-e.deltaY * lines * (e.ctrlKey ? 0.01 : 0.0018)), x, y);
  }
}

/**
 * onNote is whether a press is on what the page says there, not on the photo.
 * @param {Event} e
 */
const onNote = (e) => e.target instanceof Element && e.target.closest('.note') !== null;

/**
 * @param {Point} a
 * @param {Point} b
 */
const gap = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);

/**
 * @param {Point} a
 * @param {Point} b
 * @returns {Point}
 */
const mid = (a, b) => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
