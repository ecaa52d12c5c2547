// @ts-check
// What is to be done next, above the photo, and the tools below it.
import { $, el } from '../common/dom.js';
import { current, isUnsaid, key, previous } from './steps.js';

/** @import { Marking } from './marking.js' */
/** @import { Pointer } from './pointer.js' */
/** @import { Step } from './steps.js' */
/** @import { Store } from '../state/store.js' */
/** @import { View } from '../photo/view.js' */

const zoomed = 1.5; // by one press
const materials = ['paper', 'card', 'plastic'];
const lookHint = 'Each pad stands with its own row under the question. Drag an outline that is off its patch.';

export class Next {
  /**
   * @param {Store} store
   * @param {View} view
   * @param {Marking} marking
   * @param {Pointer} pointer
   */
  constructor(store, view, marking, pointer) {
    this.store = store;
    this.view = view;
    this.marking = marking;
    this.pointer = pointer;
    this.material = $('material', HTMLSelectElement);
    this.material.append(...materials.map((c) => el('option', { value: c }, c)));
    this.wireSteps();
    this.wireTools();
    store.on((what) => { if (what !== 'over') this.draw(); });
  }

  // wireSteps wires what goes from step to step.
  wireSteps() {
    const { store, marking } = this;
    this.material.onchange = () => { marking.material = this.material.value; };
    $('back').onclick = () => this.back();
    $('skip').onclick = () => {
      store.told = '';
      marking.skip();
    };
  }

  // wireTools wires the row of tools.
  wireTools() {
    const { store, view } = this;
    $('zoom-in').onclick = () => store.photo && view.zoom(zoomed);
    $('zoom-out').onclick = () => store.photo && view.zoom(1 / zoomed);
    $('zoom-fit').onclick = () => view.fit();
    $('undo').onclick = () => store.undo();
    $('redo').onclick = () => store.redo();
    $('delete').onclick = () => store.selected && store.remove(store.selected);
    $('pan').onclick = () => {
      this.pointer.panning = !this.pointer.panning;
      this.draw();
    };
  }

  back() {
    const before = previous(this.store);
    if (!before) return;
    this.store.told = '';
    this.store.aim(key(before), before.id);
  }

  draw() {
    const { store } = this;
    if (!store.photo) return;
    const step = current(store);
    $('next').textContent = nextWords(store, step);
    $('hint').textContent = store.told || hint(store, step);
    $('back').hidden = !store.chart || store.doc.unchecked || !previous(store);
    $('skip').hidden = !step || store.doc.unchecked || (step.kind === 'white' && !step.optional);
    $('skip').textContent = skipWords(step);
    $('material-part').hidden = step?.kind !== 'white' || store.doc.unchecked;
    this.material.value = this.marking.material;
    $('pan').setAttribute('aria-pressed', String(this.pointer.panning));
    $('undo', HTMLButtonElement).disabled = !store.past.length;
    $('redo', HTMLButtonElement).disabled = !store.future.length;
    $('delete', HTMLButtonElement).disabled = !store.selected;
  }
}

/**
 * @param {Store} store
 * @param {Step | null} step
 */
function nextWords(store, step) {
  if (!store.chart) return 'Next: choose the chart that is in the photo';
  if (store.doc.unchecked) return 'Next: look at the outlines that were found';
  return step ? `Next: ${step.text}` : 'All is marked. See the reading, then save.';
}

/**
 * @param {Store} store
 * @param {Step | null} step
 */
function hint(store, step) {
  if (store.chart && store.doc.unchecked) return store.selected ? 'Drag the mark or its corners to adjust it.' : lookHint;
  if (step) return step.hint;
  if (!store.chart) return 'Pick it from the list, or describe it once.';
  const unsaid = store.chart.analytes.filter((a) => isUnsaid(store, a)).map((a) => a.name);
  if (unsaid.length) return `Not said yet: whether the row of ${unsaid.join(', of ')} runs in this order. See "Marks and steps".`;
  return store.selected ? 'Drag the mark or its corners to adjust it.' : '';
}

/** @param {Step | null} step */
function skipWords(step) {
  if (!step) return 'Skip';
  if (step.kind === 'white') return 'Enough white';
  if (step.kind === 'wet') return 'No wet white';
  return step.kind === 'corner' ? 'Mark swatch by swatch' : `No ${step.analyte} on my strip`;
}
