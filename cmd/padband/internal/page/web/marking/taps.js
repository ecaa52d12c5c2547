// @ts-check
// What becomes of a tap, or of a box that was drawn: a mark for what is asked
// for, or a refusal in words where the finger is. One after the other: a tap is
// taken when what became of the tap before it is known.
import * as api from '../server/api.js';
import { told } from '../common/words.js';
import { Refusal } from '../server/call.js';
import { boxAt, isOfASize } from './like.js';
import { nameOf, otherEnd, whyNot } from './possible.js';
import { bendFor } from './rows.js';
import { centre, point, points } from './shape.js';
import { key } from './steps.js';

/** @import { Marking } from './marking.js' */
/** @import { Point, Shape } from './shape.js' */
/** @import { Step } from './steps.js' */
/** @import { Region } from '../state/files.js' */
/** @import { Note, Store } from '../state/store.js' */

const noEdge = 422; // the server's answer where no patch stands out

export class Taps {
  /**
   * @param {Store} store
   * @param {Marking} marking
   */
  constructor(store, marking) {
    this.store = store;
    this.marking = marking;
    /** @type {Promise<void>} what is done with the taps until now */
    this.done = Promise.resolve();
  }

  /**
   * take marks what is asked for at a place, with a box where one was drawn.
   * @param {Point} at
   * @param {Shape | null} [drawn]
   */
  take(at, drawn = null) {
    const { photo } = this.store;
    this.done = this.done.then(() => (this.store.photo === photo ? this.one(at, drawn) : undefined));
    return this.done;
  }

  /**
   * @param {Point} at
   * @param {Shape | null} drawn
   */
  async one(at, drawn) {
    const { step, store, marking } = { store: this.store, marking: this.marking, step: this.marking.step };
    if (!step) return;
    if (step.kind === 'corner') return drawn ? undefined : marking.corner(step.index ?? 0, at);
    if (step.kind === 'white' || step.kind === 'wet') return this.white(step, at, drawn);
    if (store.over.note?.refused) return this.sure(step, at, drawn);
    return this.mark(step, at, drawn);
  }

  /**
   * @param {Step} step
   * @param {Point} at
   * @param {Shape | null} drawn
   */
  white(step, at, drawn) {
    const shape = drawn || this.marking.square(at), why = this.marking.tooSmall(shape);
    if (why) return this.refuse(step, at, why);
    this.marking.put(step, shape);
  }

  /**
   * sure asks, after a refusal, whether the next tap is for what was asked for
   * then: a person who did not see the refusal is one further on.
   * @param {Step} step
   * @param {Point} at
   * @param {Shape | null} drawn
   */
  sure(step, at, drawn) {
    const again = () => {
      this.say(null);
      this.done = this.done.then(() => this.mark(step, at, drawn));
    };
    const answers = [{ words: 'Yes, mark it', first: true, do: again }, { words: 'No', do: () => this.say(null) }];
    this.say({ at, text: `The last one was not marked. Is this ${what(step)}?`, refused: true, answers });
  }

  /**
   * @param {Step} step
   * @param {Point} at
   * @param {Shape | null} drawn
   */
  async mark(step, at, drawn) {
    try {
      const { shape, said } = drawn ? { shape: drawn, said: '' } : await this.found(step, at);
      const why = this.marking.tooSmall(shape) || whyNot(this.store, step, shape);
      if (why) return this.refuse(step, at, why);
      const row = await this.row(step, shape);
      if (!this.marking.step || key(this.marking.step) !== key(step)) return; // taken back meanwhile
      if (row.why) return this.refuse(step, at, row.why);
      this.marking.put(step, shape, row.bend);
      if (said) this.say({ at: centre(shape), text: said, refused: false, answers: [] });
    } catch (e) {
      this.refuse(step, at, told(e));
    }
  }

  /**
   * row is what the photo shows between an end of a row and the end across.
   * @param {Step} step
   * @param {Shape} shape
   * @returns {Promise<{why: string, bend: Point | null}>}
   */
  async row(step, shape) {
    const row = otherEnd(this.store, step);
    if (!row || row.analyte.swatches.length < 3) return { why: '', bend: null };
    const { analyte, other, isFirst } = row, [first, last] = isFirst ? [shape, other.shape] : [other.shape, shape];
    const { off, bend } = await api.line(this.store.opened.id, { polygon: points(first) }, { polygon: points(last) }, analyte.swatches);
    const why = `The swatches between do not lie on the line from ${other.value} to here, so this is in another row.`;
    return { why: off ? why : '', bend: bend && bendFor(bend, first, last) };
  }

  /**
   * found is the outline of the patch at a place, or a box of its likes' size.
   * @param {Step} step
   * @param {Point} at
   * @returns {Promise<{shape: Shape, said: string}>}
   */
  async found(step, at) {
    const { store } = this;
    try {
      const { polygon } = await api.edge(store.opened.id, at[0], at[1]);
      /** @type {Shape} */
      const shape = { polygon: polygon.map(([x, y]) => point(x, y)) };
      if (isOfASize(store, step, shape)) return { shape, said: '' };
      return this.placed(step, at, 'The edge that was found there is of something else');
    } catch (e) {
      if (!(e instanceof Refusal) || e.status !== noEdge) throw e;
      return this.placed(step, at, 'No edge stands out there');
    }
  }

  /**
   * @param {Step} step
   * @param {Point} at
   * @param {string} because
   */
  placed(step, at, because) {
    const box = boxAt(this.store, step, at), size = box ? `as large as ${box.as}` : 'of no known size';
    const said = `${because}, so a box ${size} was placed for ${what(step)}. Drag it, or its corners, if it does not lie inside.`;
    return { shape: box?.shape ?? this.marking.square(at), said };
  }

  /**
   * refuse says why nothing was marked, and what is asked for still.
   * @param {Step} step
   * @param {Point} at
   * @param {string} why
   */
  refuse(step, at, why) {
    const answers = [{ words: 'Understood', first: true, do: () => this.say(null) }];
    const refused = step.kind !== 'white' && step.kind !== 'wet';
    this.say({ at, text: `Not marked. ${why} Still to mark: ${what(step)}.`, refused, answers });
  }

  /**
   * onMarked says what was tapped where something else is asked for.
   * @param {Region} on
   * @param {Point} at
   */
  onMarked(on, at) {
    const { step } = this.marking;
    if (!step || step.kind === 'corner' || step.id === on.id) return;
    this.say({ at, text: `This is marked already: ${nameOf(on)}. Still to mark: ${what(step)}.`, refused: false, answers: [] });
  }

  /** @param {Point} at */
  beside(at) { this.say({ at, text: 'That is beside the photo.', refused: false, answers: [] }); }

  /** @param {Note | null} note */
  say(note) { this.store.show({ note }); }
}

/** @param {Step} step */
const what = (step) => (step.kind === 'pad' ? `the ${step.name}` : step.name);
