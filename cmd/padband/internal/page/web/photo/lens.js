// The magnifier: what lies under the pointer, enlarged, beside the mouse or
// above the finger. It shows the preview at once and the photo's own pixels
// when the pointer rests.
import * as api from '../server/api.js';

const side = 132, gap = 28;

export class Lens {
  constructor(box, near, sharp, view) {
    Object.assign(this, { box, near, sharp, view });
  }

  show(at, type) {
    const v = this.view;
    const [px, py] = v.toPhoto(at);
    if (px < 0 || py < 0 || px > v.photo.width || py > v.photo.height) return this.hide();
    const zoom = Math.max(v.scale * 3, 1.5);
    const src = `url("${api.preview(v.photo.id)}")`;
    if (this.near.style.backgroundImage !== src) this.near.style.backgroundImage = src;
    this.near.style.backgroundSize = `${v.photo.width * zoom}px ${v.photo.height * zoom}px`;
    this.near.style.backgroundPosition = `${side / 2 - px * zoom}px ${side / 2 - py * zoom}px`;
    this.box.hidden = false;
    this.put(at, type);
    this.sharp.style.backgroundImage = '';
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.rest(px, py, zoom), 200);
  }

  put([x, y], type) {
    const v = this.view;
    let left = type === 'mouse' ? x + gap : x - side / 2, top = y - side - (type === 'mouse' ? gap / 2 : 48);
    if (left + side > v.width) left = type === 'mouse' ? x - gap - side : v.width - side;
    if (top < 0) top = type === 'mouse' ? Math.min(y + gap, v.height - side) : 0;
    if (type !== 'mouse' && top === 0 && y < side + 10) left = x < v.width / 2 ? Math.min(v.width - side, x + 44) : x - side - 44;
    this.box.style.transform = `translate(${Math.max(0, left)}px, ${Math.max(0, top)}px)`;
  }

  rest(px, py, zoom) {
    const s = side / zoom;
    const src = api.part(this.view.photo.id, px - s / 2, py - s / 2, s, s, side * 2);
    if (px < s / 2 || py < s / 2 || px > this.view.photo.width - s / 2 || py > this.view.photo.height - s / 2) return;
    this.sharp.style.backgroundImage = `url("${src}")`;
  }

  hide() {
    clearTimeout(this.timer);
    this.box.hidden = true;
  }
}
