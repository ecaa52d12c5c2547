// Mouse, pen and fingers on the photo. One finger or the mouse marks; two
// fingers, the wheel, the middle button, or the space key with a drag move the photo.
import { box } from './shape.js';

export class Pointer {
  constructor(stage, store, view, overlay, marking, lens) {
    Object.assign(this, { stage, store, view, overlay, marking, lens, down: new Map(), doing: null, panning: false, space: false });
    stage.addEventListener('pointerdown', (e) => this.press(e));
    stage.addEventListener('pointermove', (e) => this.moved(e));
    stage.addEventListener('pointerup', (e) => this.release(e));
    stage.addEventListener('pointercancel', (e) => this.cancel(e));
    stage.addEventListener('pointerleave', () => { if (!this.down.size) this.lens.hide(); });
    stage.addEventListener('wheel', (e) => this.wheel(e), { passive: false });
  }

  press(e) {
    if (!this.view.photo || e.button > 1) return;
    e.preventDefault();
    this.stage.focus({ preventScroll: true });
    this.stage.setPointerCapture(e.pointerId);
    const at = this.view.place(e);
    this.down.set(e.pointerId, at);
    this.overlay.cross = null;
    if (this.down.size === 2) return this.pinch();
    if (this.down.size > 2) return;
    this.from = at;
    this.far = false;
    this.reach = e.pointerType === 'mouse' ? 10 : 22;
    this.doing = this.begin(e, at);
    if (this.doing.kind === 'draw' || this.doing.kind === 'point') this.lens.show(at, e.pointerType);
  }

  // begin decides what this press is for.
  begin(e, at) {
    if (this.panning || this.space || e.button === 1) return { kind: 'pan' };
    const grip = this.overlay.pick(at, this.reach);
    if (grip && grip.kind === 'grip') return grip;
    if (grip && grip.kind === 'corner' && !(this.marking.step && this.marking.step.kind === 'corner' && !this.marking.step.done)) {
      this.store.select(grip.id);
      return { kind: 'shift' };
    }
    const on = this.marking.hit(this.view.toPhoto(at));
    if (on && on.id === this.store.selected) return { kind: 'shift' };
    const step = this.marking.step;
    if (step && step.kind === 'corner') return { kind: 'point' };
    if (on) return { kind: step ? 'draw' : 'pan', on };
    return { kind: step ? 'draw' : 'pan' };
  }

  pinch() {
    this.overlay.draft = null;
    this.lens.hide();
    const [a, b] = [...this.down.values()];
    this.doing = { kind: 'pinch', gap: gap(a, b), mid: mid(a, b) };
    this.overlay.draw();
  }

  moved(e) {
    const at = this.view.photo && this.view.place(e);
    if (!this.down.has(e.pointerId)) return this.hover(e, at);
    const last = this.down.get(e.pointerId);
    this.down.set(e.pointerId, at);
    if (this.doing.kind === 'pinch') return this.pinching();
    if (!this.far && Math.hypot(at[0] - this.from[0], at[1] - this.from[1]) < (e.pointerType === 'mouse' ? 4 : 8)) return;
    const since = this.far ? last : this.from; // the first pixels count too
    this.far = true;
    this.dragged(at, since, e.pointerType);
  }

  hover(e, at) {
    if (at && e.pointerType === 'mouse' && this.marking.step && !this.panning) this.lens.show(at, 'mouse');
  }

  dragged(at, last, type) {
    const d = this.doing, k = this.view.scale;
    switch (d.kind) {
      case 'pan': this.view.pan(at[0] - last[0], at[1] - last[1]); return;
      case 'shift': this.marking.shift((at[0] - last[0]) / k, (at[1] - last[1]) / k, 'drag'); break;
      case 'grip':
        this.marking.grip(d.grip, this.view.toPhoto(at), 'drag');
        d.grip = this.marking.turned(this.view.toPhoto(at));
        break;
      case 'draw':
        this.overlay.draft = box(this.view.toPhoto(this.from), this.view.toPhoto(at));
        this.overlay.draw();
        break;
    }
    this.lens.show(at, type);
  }

  pinching() {
    const [a, b] = [...this.down.values()];
    const d = this.doing, m = mid(a, b), g = gap(a, b);
    this.view.pan(m[0] - d.mid[0], m[1] - d.mid[1]);
    if (d.gap > 0) this.view.zoom(g / d.gap, m[0], m[1]);
    Object.assign(d, { gap: g, mid: m });
  }

  release(e) {
    if (!this.down.delete(e.pointerId) || !this.doing) return;
    if (this.doing.kind === 'pinch') {
      if (!this.down.size) this.doing = null;
      return;
    }
    const d = this.doing, at = this.view.place(e);
    this.doing = null;
    this.overlay.draft = null;
    this.store.endGesture();
    this.lens.hide();
    this.finish(d, at);
    this.overlay.draw();
  }

  finish(d, at) {
    if (d.kind === 'point') return this.marking.tap(this.view.toPhoto(at));
    if (this.far) {
      if (d.kind === 'draw') this.marking.put(box(this.view.toPhoto(this.from), this.view.toPhoto(at)));
      return;
    }
    if (d.on) return this.marking.choose(d.on);
    if (d.kind === 'draw') return this.marking.tap(this.view.toPhoto(at));
    if (d.kind === 'pan' && !this.panning) this.store.select(null);
  }

  cancel(e) {
    this.down.delete(e.pointerId);
    this.doing = null;
    this.overlay.draft = null;
    this.lens.hide();
    this.store.endGesture();
    this.overlay.draw();
  }

  wheel(e) {
    if (!this.view.photo) return;
    e.preventDefault();
    const [x, y] = this.view.place(e);
    const lines = e.deltaMode === 1 ? 18 : 1;
    this.view.zoom(Math.exp(-e.deltaY * lines * (e.ctrlKey ? 0.01 : 0.0018)), x, y);
  }
}

const gap = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);
const mid = (a, b) => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
