// @ts-check
// The whole of marking with the keyboard alone.
import { isInput } from '../common/dom.js';
import { box } from './shape.js';

/** @import { Point } from './shape.js' */
/** @import { Marking } from './marking.js' */
/** @import { Pointer } from './pointer.js' */
/** @import { Store } from '../state/store.js' */
/** @import { View } from '../photo/view.js' */

const shortStep = 8, longStep = 40; // CSS pixels that the cross moves
const shortShift = 1, longShift = 10; // pixels of the photo that a mark moves

export class Keys {
  /**
   * @param {HTMLElement} stage
   * @param {Store} store
   * @param {View} view
   * @param {Marking} marking
   * @param {Pointer} pointer
   */
  constructor(stage, store, view, marking, pointer) {
    this.store = store;
    this.view = view;
    this.marking = marking;
    this.pointer = pointer;
    /** @type {Point | null} the first corner of a box */
    this.corner = null;
    stage.addEventListener('keydown', (e) => this.stageKey(e));
    stage.addEventListener('keyup', (e) => { if (e.key === ' ') pointer.space = false; });
    stage.addEventListener('blur', () => { pointer.space = false; this.hideCross(); });
    document.addEventListener('keydown', (e) => this.anyKey(e));
  }

  /** @param {KeyboardEvent} e */
  anyKey(e) {
    if (!(e.ctrlKey || e.metaKey) || e.key.toLowerCase() !== 'z' || isInput(e.target)) return;
    e.preventDefault();
    if (e.shiftKey) this.store.redo();
    else this.store.undo();
  }

  /** @param {KeyboardEvent} e */
  stageKey(e) {
    if (!this.view.photo || e.target !== e.currentTarget || e.ctrlKey || e.metaKey || e.altKey) return;
    if (this.plain(e)) e.preventDefault();
  }

  /**
   * plain does what a key is for and says whether there was anything.
   * @param {KeyboardEvent} e
   */
  plain(e) {
    switch (e.key) {
      case 'ArrowLeft': this.arrow(-1, 0, e.shiftKey); break;
      case 'ArrowRight': this.arrow(1, 0, e.shiftKey); break;
      case 'ArrowUp': this.arrow(0, -1, e.shiftKey); break;
      case 'ArrowDown': this.arrow(0, 1, e.shiftKey); break;
      case '+': case '=': this.zoom(1.4); break;
      case '-': this.zoom(1 / 1.4); break;
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

  /** @param {number} factor */
  zoom(factor) { this.view.zoom(factor, ...this.view.toSurface(this.cross())); }

  // cross is the keyboard's place in the photo; it begins in the middle of what is in sight.
  cross() {
    const cross = this.store.over.cross || this.view.toPhoto([this.view.width / 2, this.view.height / 2]);
    this.store.show({ cross });
    return cross;
  }

  hideCross() {
    this.corner = null;
    this.store.show({ draft: null, cross: null });
  }

  /**
   * @param {number} dx
   * @param {number} dy
   * @param {boolean} long
   */
  arrow(dx, dy, long) {
    const by = long ? longShift : shortShift;
    if (this.store.selected) return this.marking.shift(dx * by, dy * by, 'nudge');
    const step = (long ? longStep : shortStep) / this.view.scale, { width, height } = this.view.size;
    const [x, y] = this.cross();
    /** @type {Point} */
    const cross = [Math.min(width, Math.max(0, x + dx * step)), Math.min(height, Math.max(0, y + dy * step))];
    this.view.reveal(cross);
    this.store.show(this.corner ? { cross, draft: box(this.corner, cross) } : { cross });
  }

  enter() {
    if (this.store.selected) return this.release();
    const { step } = this.marking;
    if (!step) return;
    if (step.kind === 'corner') {
      this.marking.tap(this.cross());
      return this.release();
    }
    if (!this.corner) {
      this.corner = this.cross();
      return this.store.say('First corner taken. Move the cross to the opposite corner and press Enter.');
    }
    const drawn = box(this.corner, this.cross());
    this.corner = null;
    this.store.over.draft = null;
    this.marking.draw(drawn);
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
      return this.store.show({ draft: null });
    }
    this.release();
    this.hideCross();
    this.store.show({ note: null });
  }
}
