// @ts-check
// Where the photo lies on the drawing surface: zoom and pan. All positions on
// the surface are CSS pixels from its top left corner, whatever the screen's
// pixel ratio; all marks are pixels of the upright photo.
import * as api from '../server/api.js';

/** @import { Photo } from '../server/api.js' */
/** @import { Point } from '../marking/shape.js' */

const closest = 12; // CSS pixels to a photo pixel
const coarse = 1.3; // so many pixels of the screen to one of the preview ask for the photo's own
const widest = 1200; // pixels of a part that is fetched

export class View {
  /**
   * @param {HTMLElement} stage
   * @param {HTMLImageElement} preview
   * @param {HTMLImageElement} sharp
   */
  constructor(stage, preview, sharp) {
    this.stage = stage;
    this.preview = preview;
    this.sharp = sharp;
    this.scale = 1;
    this.x = 0;
    this.y = 0;
    this.whole = true;
    /** @type {Photo | null} */
    this.photo = null;
    /** @type {(() => void)[]} */
    this.listeners = [];
    this.timer = 0;
    /** @type {Point} the photo's place in the middle of the surface */
    this.middle = [0, 0];
    new ResizeObserver(() => this.resized()).observe(stage);
  }

  /** @param {() => void} f */
  on(f) { this.listeners.push(f); }

  /** @param {Photo} photo */
  show(photo) {
    this.photo = photo;
    this.sharp.hidden = true;
    this.preview.src = api.preview(photo.id);
    this.fit();
  }

  get width() { return this.stage.clientWidth; }
  get height() { return this.stage.clientHeight; }

  // size is the photo's, and nothing before there is one.
  get size() { return this.photo || { width: 0, height: 0 }; }
  get smallest() { return Math.min(this.width / this.size.width, this.height / this.size.height); }

  fit() {
    if (!this.photo || !this.width) return;
    this.scale = this.smallest;
    this.x = (this.width - this.photo.width * this.scale) / 2;
    this.y = (this.height - this.photo.height * this.scale) / 2;
    this.whole = true;
    this.draw();
  }

  resized() {
    if (!this.photo) return;
    if (this.whole || this.scale < this.smallest) return this.fit();
    const [x, y] = this.toSurface(this.middle); // which stays in the middle when a phone is turned
    this.pan(this.width / 2 - x, this.height / 2 - y);
  }

  /**
   * zoom keeps the photo's place under (x, y) where it is.
   * @param {number} factor
   * @param {number} [x]
   * @param {number} [y]
   */
  zoom(factor, x = this.width / 2, y = this.height / 2) {
    const to = Math.min(closest, Math.max(this.smallest, this.scale * factor));
    const k = to / this.scale;
    this.x = x - (x - this.x) * k;
    this.y = y - (y - this.y) * k;
    this.scale = to;
    this.settle();
  }

  /**
   * @param {number} dx
   * @param {number} dy
   */
  pan(dx, dy) {
    this.x += dx;
    this.y += dy;
    this.settle();
  }

  // settle keeps the photo on the surface.
  settle() {
    this.whole = this.scale <= this.smallest * 1.001;
    this.x = inside(this.x, this.size.width * this.scale, this.width);
    this.y = inside(this.y, this.size.height * this.scale, this.height);
    this.draw();
  }

  /**
   * reveal pans so that a place of the photo is in sight.
   * @param {Point} at
   */
  reveal(at) {
    const [x, y] = this.toSurface(at);
    const dx = outside(x, this.width), dy = outside(y, this.height);
    if (dx || dy) this.pan(dx, dy);
  }

  /**
   * @param {Point} at
   * @returns {Point}
   */
  toSurface([x, y]) { return [x * this.scale + this.x, y * this.scale + this.y]; }

  /**
   * @param {Point} at
   * @returns {Point}
   */
  toPhoto([x, y]) { return [(x - this.x) / this.scale, (y - this.y) / this.scale]; }

  /**
   * place is a pointer's place on the surface, measured anew each time.
   * @param {MouseEvent} event
   * @returns {Point}
   */
  place(event) {
    const r = this.stage.getBoundingClientRect();
    return [event.clientX - r.left - this.stage.clientLeft, event.clientY - r.top - this.stage.clientTop];
  }

  draw() {
    const s = this.preview.style;
    s.width = `${this.size.width * this.scale}px`;
    s.height = `${this.size.height * this.scale}px`;
    s.transform = `translate(${this.x}px, ${this.y}px)`;
    this.middle = this.toPhoto([this.width / 2, this.height / 2]);
    this.sharp.hidden = true;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.sharpen(), 250);
    for (const f of this.listeners) f();
  }

  // sharpen fetches the part in sight from the server where the preview is too coarse.
  sharpen() {
    const { photo } = this, dense = window.devicePixelRatio || 1;
    if (!photo?.preview || this.scale * dense < (photo.preview.width / photo.width) * coarse) return;
    const [x0, y0] = this.toPhoto([0, 0]), [x1, y1] = this.toPhoto([this.width, this.height]);
    /** @type {Point} */
    const at = [Math.max(0, x0), Math.max(0, y0)];
    const wide = Math.min(photo.width, x1) - at[0], high = Math.min(photo.height, y1) - at[1];
    if (wide <= 0 || high <= 0) return;
    const w = wide * this.scale;
    this.lay(api.part(photo.id, at[0], at[1], wide, high, Math.min(widest, w * dense)), at, w, high * this.scale);
  }

  /**
   * lay puts a picture over a part of the photo, if that still lies there when
   * the picture has come.
   * @param {string} src
   * @param {Point} at
   * @param {number} w
   * @param {number} h
   */
  lay(src, at, w, h) {
    const next = new Image(), { scale, x, y } = this, [left, top] = this.toSurface(at);
    next.onload = () => {
      if (scale !== this.scale || x !== this.x || y !== this.y) return;
      this.sharp.src = src;
      Object.assign(this.sharp.style, { width: `${w}px`, height: `${h}px`, transform: `translate(${left}px, ${top}px)` });
      this.sharp.hidden = false;
    };
    next.src = src;
  }
}

/**
 * inside is the place of the photo's edge so that the photo stays on the surface.
 * @param {number} at
 * @param {number} size
 * @param {number} room
 */
function inside(at, size, room) {
  if (size <= room) return (room - size) / 2;
  return Math.min(room * 0.25, Math.max(room * 0.75 - size, at));
}

/**
 * outside is how far a place must go to be in sight.
 * @param {number} at
 * @param {number} size
 */
function outside(at, size) {
  const edge = 30;
  if (at < edge) return edge - at;
  return at > size - edge ? size - edge - at : 0;
}
