// Where the photo lies on the drawing surface: zoom and pan. All positions on
// the surface are CSS pixels from its top left corner, whatever the screen's
// pixel ratio; all marks are pixels of the upright photo.
import * as api from '../server/api.js';

const closest = 12; // CSS pixels to a photo pixel

export class View {
  constructor(stage, preview, sharp) {
    Object.assign(this, { stage, preview, sharp, scale: 1, x: 0, y: 0, photo: null, listeners: [] });
    new ResizeObserver(() => this.resized()).observe(stage);
  }

  on(f) { this.listeners.push(f); }

  show(photo) {
    this.photo = photo;
    this.sharp.hidden = true;
    this.preview.src = api.preview(photo.id);
    this.fit();
  }

  get width() { return this.stage.clientWidth; }
  get height() { return this.stage.clientHeight; }
  get smallest() { return Math.min(this.width / this.photo.width, this.height / this.photo.height); }

  fit() {
    if (!this.photo || !this.width) return;
    this.scale = this.smallest;
    this.x = (this.width - this.photo.width * this.scale) / 2;
    this.y = (this.height - this.photo.height * this.scale) / 2;
    this.whole = true;
    this.drawn();
  }

  resized() {
    if (!this.photo) return;
    if (this.whole || this.scale < this.smallest) this.fit();
    else this.settle();
  }

  // zoom keeps the photo's place under (x, y) where it is.
  zoom(factor, x = this.width / 2, y = this.height / 2) {
    const to = Math.min(closest, Math.max(this.smallest, this.scale * factor));
    const k = to / this.scale;
    this.x = x - (x - this.x) * k;
    this.y = y - (y - this.y) * k;
    this.scale = to;
    this.settle();
  }

  pan(dx, dy) {
    this.x += dx;
    this.y += dy;
    this.settle();
  }

  // settle keeps the photo on the surface.
  settle() {
    const inside = (at, size, room) => (size <= room ? (room - size) / 2 : Math.min(room * 0.25, Math.max(room * 0.75 - size, at)));
    this.whole = this.scale <= this.smallest * 1.001;
    this.x = inside(this.x, this.photo.width * this.scale, this.width);
    this.y = inside(this.y, this.photo.height * this.scale, this.height);
    this.drawn();
  }

  // reveal pans so that a place of the photo is in sight.
  reveal([px, py]) {
    const [x, y] = this.toSurface([px, py]), edge = 30;
    const off = (v, size) => (v < edge ? edge - v : v > size - edge ? size - edge - v : 0);
    if (off(x, this.width) || off(y, this.height)) this.pan(off(x, this.width), off(y, this.height));
  }

  toSurface([x, y]) { return [x * this.scale + this.x, y * this.scale + this.y]; }
  toPhoto([x, y]) { return [(x - this.x) / this.scale, (y - this.y) / this.scale]; }

  // place is a pointer's place on the surface, measured anew each time.
  place(event) {
    const r = this.stage.getBoundingClientRect();
    return [event.clientX - r.left - this.stage.clientLeft, event.clientY - r.top - this.stage.clientTop];
  }

  drawn() {
    const s = this.preview.style;
    s.width = `${this.photo.width * this.scale}px`;
    s.height = `${this.photo.height * this.scale}px`;
    s.transform = `translate(${this.x}px, ${this.y}px)`;
    this.sharp.hidden = true;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.sharpen(), 250);
    for (const f of this.listeners) f();
  }

  // sharpen fetches the part in sight from the server where the preview is too coarse.
  sharpen() {
    const dense = window.devicePixelRatio || 1;
    if (!this.photo.preview || this.scale * dense < (this.photo.preview.width / this.photo.width) * 1.3) return;
    const [x0, y0] = this.toPhoto([0, 0]), [x1, y1] = this.toPhoto([this.width, this.height]);
    const at = [Math.max(0, x0), Math.max(0, y0)], to = [Math.min(this.photo.width, x1), Math.min(this.photo.height, y1)];
    if (to[0] <= at[0] || to[1] <= at[1]) return;
    const [x, y] = this.toSurface(at), w = (to[0] - at[0]) * this.scale, h = (to[1] - at[1]) * this.scale;
    const src = api.part(this.photo.id, at[0], at[1], to[0] - at[0], to[1] - at[1], Math.min(1200, w * dense));
    const next = new Image(), scale = this.scale, was = [this.x, this.y];
    next.onload = () => {
      if (scale !== this.scale || was[0] !== this.x || was[1] !== this.y) return;
      this.sharp.src = src;
      Object.assign(this.sharp.style, { width: `${w}px`, height: `${h}px`, transform: `translate(${x}px, ${y}px)` });
      this.sharp.hidden = false;
    };
    next.src = src;
  }
}
