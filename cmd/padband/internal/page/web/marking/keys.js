// The whole of marking with the keyboard alone.
import { box } from './shape.js';

const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

export class Keys {
  constructor(stage, store, view, overlay, marking, pointer, tell) {
    Object.assign(this, { stage, store, view, overlay, marking, pointer, tell, corner: null });
    stage.addEventListener('keydown', (e) => this.stageKey(e));
    stage.addEventListener('keyup', (e) => { if (e.key === ' ') pointer.space = false; });
    stage.addEventListener('blur', () => { pointer.space = false; this.hideCross(); });
    document.addEventListener('keydown', (e) => this.anyKey(e));
  }

  anyKey(e) {
    if (!(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== 'z' || e.target.matches('input, textarea, select')) return;
    e.preventDefault();
    if (e.shiftKey) this.store.redo();
    else this.store.undo();
  }

  stageKey(e) {
    if (!this.view.photo || e.ctrlKey || e.metaKey || e.altKey) return;
    if (arrows[e.key]) this.arrow(arrows[e.key], e.shiftKey);
    else if (!this.plain(e)) return;
    e.preventDefault();
  }

  // plain does the other keys and says whether there was one.
  plain(e) {
    const at = () => this.view.toSurface(this.cross());
    switch (e.key) {
      case '+': case '=': this.view.zoom(1.4, ...at()); break;
      case '-': this.view.zoom(1 / 1.4, ...at()); break;
      case '0': this.view.fit(); break;
      case ' ': this.pointer.space = true; break;
      case 'Enter': this.enter(); break;
      case 'Escape': this.giveUp(); break;
      case 'Delete': case 'Backspace': if (this.store.selected) this.store.remove(this.store.selected); break;
      case '[': this.marking.resize(0.95); break;
      case ']': this.marking.resize(1.05); break;
      case 'e': case 'E': this.marking.tap(this.cross()); break;
      case 's': case 'S': this.pick(); break;
      default: return false;
    }
    return true;
  }

  cross() {
    if (!this.overlay.cross) this.overlay.cross = this.view.toPhoto([this.view.width / 2, this.view.height / 2]);
    this.overlay.draw();
    return this.overlay.cross;
  }

  hideCross() {
    this.corner = null;
    this.overlay.draft = null;
    this.overlay.cross = null;
    this.overlay.draw();
  }

  arrow([dx, dy], long) {
    if (this.store.selected) return this.marking.shift(dx * (long ? 10 : 1), dy * (long ? 10 : 1), 'nudge');
    const step = (long ? 40 : 8) / this.view.scale;
    const [x, y] = this.cross();
    const { width, height } = this.view.photo;
    this.overlay.cross = [Math.min(width, Math.max(0, x + dx * step)), Math.min(height, Math.max(0, y + dy * step))];
    this.view.reveal(this.overlay.cross);
    if (this.corner) this.overlay.draft = box(this.corner, this.overlay.cross);
    this.overlay.draw();
  }

  enter() {
    if (this.store.selected) return this.release();
    const step = this.marking.step;
    if (!step) return;
    if (step.kind === 'corner') {
      this.marking.tap(this.cross());
      return this.release();
    }
    if (!this.corner) {
      this.corner = this.cross().slice();
      return this.tell('First corner taken. Move the cross to the opposite corner and press Enter.');
    }
    const drawn = box(this.corner, this.cross());
    this.corner = null;
    this.overlay.draft = null;
    this.marking.put(drawn);
  }

  // release lets go of the selected mark, so that the arrows move the cross again.
  release() {
    this.store.endGesture();
    this.store.select(null);
  }

  pick() {
    const on = this.marking.hit(this.cross());
    if (on) this.marking.choose(on);
  }

  giveUp() {
    if (this.corner) {
      this.corner = null;
      this.overlay.draft = null;
      return this.overlay.draw();
    }
    this.release();
    this.hideCross();
  }
}
