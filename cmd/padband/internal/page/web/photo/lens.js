// @ts-check
// The magnifier: what lies under the pointer, enlarged, beside the mouse or
// above the finger. It shows the preview at once and the photo's own pixels
// when the pointer rests.
import * as api from '../server/api.js';

/** @import { Point } from '../marking/shape.js' */
/** @import { View } from './view.js' */

const side = 132, gap = 28;
const over = 48; // above a finger
const past = 44; // beside a finger, where there is no room above it

export class Lens {
  /**
   * @param {HTMLElement} box
   * @param {HTMLElement} near
   * @param {HTMLElement} sharp
   * @param {View} view
   */
  constructor(box, near, sharp, view) {
    this.box = box;
    this.near = near;
    this.sharp = sharp;
    this.view = view;
    this.pictured = ''; // the photo whose preview is in it
    this.timer = 0;
  }

  /**
   * show enlarges a place of the surface.
   * @param {Point} at
   * @param {string} type of the pointer
   */
  show(at, type) {
    const { scale, size } = this.view, [px, py] = this.view.toPhoto(at);
    if (px < 0 || py < 0 || px > size.width || py > size.height) return this.hide();
    const zoom = Math.max(scale * 3, 1.5), s = this.near.style;
    this.picture();
    s.backgroundSize = `${size.width * zoom}px ${size.height * zoom}px`;
    s.backgroundPosition = `${side / 2 - px * zoom}px ${side / 2 - py * zoom}px`;
    this.box.hidden = false;
    this.put(at, type);
    this.sharp.style.backgroundImage = '';
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.rest(px, py, zoom), 200);
  }

  // picture takes the preview of the photo, once.
  picture() {
    const { id } = this.view.photo ?? { id: '' };
    if (this.pictured !== id) this.near.style.backgroundImage = `url("${api.preview(id)}")`;
    this.pictured = id;
  }

  /**
   * @param {Point} at
   * @param {string} type
   */
  put(at, type) {
    const [left, top] = type === 'mouse' ? this.besideMouse(at) : this.aboveFinger(at);
    this.box.style.transform = `translate(${Math.max(0, left)}px, ${Math.max(0, top)}px)`;
  }

  /** @param {Point} at */
  besideMouse([x, y]) {
    const { width, height } = this.view, top = y - side - gap / 2;
    return [x + gap + side > width ? x - gap - side : x + gap, top < 0 ? Math.min(y + gap, height - side) : top];
  }

  /** @param {Point} at */
  aboveFinger([x, y]) {
    const { width } = this.view, top = Math.max(0, y - side - over);
    if (top === 0 && y < side + 10) return [x < width / 2 ? Math.min(width - side, x + past) : x - side - past, 0];
    return [Math.min(x - side / 2, width - side), top];
  }

  /**
   * rest shows the photo's own pixels about a place, away from its edges.
   * @param {number} px
   * @param {number} py
   * @param {number} zoom
   */
  rest(px, py, zoom) {
    const { photo } = this.view, s = side / zoom;
    if (!photo || px < s / 2 || py < s / 2 || px > photo.width - s / 2 || py > photo.height - s / 2) return;
    this.sharp.style.backgroundImage = `url("${api.part(photo.id, px - s / 2, py - s / 2, s, s, side * 2)}")`;
  }

  hide() {
    clearTimeout(this.timer);
    this.box.hidden = true;
  }
}
