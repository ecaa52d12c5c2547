// @ts-check
// What is to be marked, in order, and what of it is done.
import { wetWhite } from '../sample/said.js';
import { cornerId } from '../state/store.js';

/** @import { Analyte, Region } from '../state/files.js' */
/** @import { Store } from '../state/store.js' */

/**
 * A step: one thing to be marked.
 * @typedef {object} Step
 * @property {'white' | 'corner' | 'pad' | 'swatch' | 'wet'} kind
 * @property {boolean} done
 * @property {string | null} id of its mark or corner, when there is one
 * @property {string} name
 * @property {string} text what to do
 * @property {string} hint
 * @property {boolean} [optional]
 * @property {number} [index] of a white area, a wet white or a corner
 * @property {string} [analyte]
 * @property {number} [value]
 * @property {number} [part]
 */

const cornerNames = ['top left', 'top right', 'bottom right', 'bottom left'];
const advisedWhites = 3;

/** @param {Analyte} a */
export const partsOf = (a) => Array.from({ length: a.parts || 1 }, (_, i) => i + 1);

/**
 * key names a step.
 * @param {Step} s
 */
export const key = (s) => [s.kind, s.analyte ?? '', s.value ?? '', s.part ?? '', s.index ?? ''].join('|');

/**
 * @param {Analyte} a
 * @param {number} part
 */
const partName = (a, part) => ((a.parts || 1) > 1 ? `, part ${part}` : '');

/**
 * middle is the swatch a curved row is marked by, besides its ends.
 * @param {Analyte} a
 */
export const middle = (a) => Math.floor((a.swatches.length - 1) / 2);

/**
 * byCorners is whether the swatches are placed by the chart's corners.
 * @param {Store} store
 */
export const byCorners = (store) => Boolean(store.chart?.layout) && !store.doc.byHand;

/**
 * all lists every step of the chart for this document.
 * @param {Store} store
 * @returns {Step[]}
 */
export function all(store) {
  const { chart, doc } = store;
  if (!chart) return [];
  const read = chart.analytes.filter((a) => !doc.skipped.includes(a.name));
  return [...whites(store), ...corners(store), ...read.flatMap((a) => [...pads(store, a), ...row(store, a)]), ...wets(store)];
}

/**
 * whiteInChart is whether the chart's layout brings white areas with it.
 * @param {Store} store
 */
const whiteInChart = (store) => byCorners(store) && (store.chart?.layout?.cells || []).some((c) => c.role === 'white');

/**
 * @param {Store} store
 * @returns {Step[]}
 */
function whites(store) {
  const { doc } = store, free = whiteInChart(store);
  const have = doc.regions.filter((r) => r.role === 'white');
  const n = Math.max(doc.enough ? have.length : Math.max(have.length, advisedWhites), free ? 0 : 1);
  return Array.from({ length: n }, (_, i) => white(i, have[i], free));
}

/**
 * @param {number} index
 * @param {Region | undefined} have
 * @param {boolean} free
 * @returns {Step}
 */
function white(index, have, free) {
  const step = { done: Boolean(have), id: have ? have.id : null, name: `white ${index + 1}` };
  if (index === 0) {
    const text = 'mark a piece of bare white paper or card', hint = 'It shows the light. Tap on bare white near the strip.';
    return { kind: 'white', index, ...step, optional: free, text, hint };
  }
  const hint = 'Three or more, on all sides of strip and chart, show how the light changes. Or skip.';
  return { kind: 'white', index, ...step, optional: true, text: 'mark another piece of white, away from the last', hint };
}

/**
 * wets are the wet whites that are marked, and one to mark where a person asked for it.
 * @param {Store} store
 * @returns {Step[]}
 */
function wets(store) {
  const have = store.doc.regions.filter((r) => r.role === 'wet-white');
  const steps = have.map((r, i) => wet(i, r));
  const next = wet(have.length);
  return store.target === key(next) ? [...steps, next] : steps;
}

/**
 * nextWet is the key of the wet white that is to be marked next.
 * @param {Store} store
 */
export const nextWet = (store) => key(wet(store.doc.regions.filter((r) => r.role === 'wet-white').length));

/**
 * @param {number} index
 * @param {Region} [have]
 * @returns {Step}
 */
const wet = (index, have) => ({
  kind: 'wet', index, done: Boolean(have), id: have ? have.id : null, name: `wet white${index ? ` ${index + 1}` : ''}`,
  optional: true, text: 'mark the wet white', hint: wetWhite,
});

/**
 * @param {Store} store
 * @returns {Step[]}
 */
function corners(store) {
  if (!byCorners(store) && !store.remembering) return [];
  const marked = store.doc.corners.length;
  return cornerNames.map((name, index) => ({
    kind: 'corner', index, done: index < marked, id: index < marked ? cornerId(index) : null,
    name: `chart corner, ${name}`, text: `tap the chart's ${name} corner`,
    hint: 'The printed dot there if the chart has dots, else the corner of the print. Press and slide to see it enlarged.',
  }));
}

/**
 * @param {Store} store
 * @param {Analyte} a
 * @returns {Step[]}
 */
function pads(store, a) {
  return partsOf(a).map((part) => {
    const have = store.find('pad', a.name, 0, part), of = partName(a, part);
    return {
      kind: 'pad', analyte: a.name, part, done: Boolean(have), id: have && have.id, name: `${a.name} pad${of}`,
      text: `${a.name}: mark the wet pad on the strip${of}`, hint: 'Tap inside the pad, or draw a box well inside it.',
    };
  });
}

/**
 * row are the swatches of an analyte: its ends first, which place the others.
 * @param {Store} store
 * @param {Analyte} a
 * @returns {Step[]}
 */
function row(store, a) {
  const n = a.swatches.length;
  const order = [0, n - 1];
  if (store.doc.curved.includes(a.name) && n > 2) order.push(middle(a));
  for (let i = 1; i < n - 1; i++) if (!order.includes(i)) order.push(i);
  return partsOf(a).flatMap((part) => order.map((i, nth) => swatch(store, a, i, part, nth)));
}

/**
 * @param {Store} store
 * @param {Analyte} a
 * @param {number} i which of the row
 * @param {number} part
 * @param {number} nth when it is asked for
 * @returns {Step}
 */
function swatch(store, a, i, part, nth) {
  const { value, label } = a.swatches[i], have = store.find('swatch', a.name, value, part);
  const words = `${label || value}${partName(a, part)}`;
  return {
    kind: 'swatch', analyte: a.name, value, part, done: Boolean(have) || isPlaced(store, a, value, part), id: have && have.id,
    name: `${a.name} swatch ${words}`, text: `${a.name}: mark the printed swatch for ${words}`, hint: swatchHint(nth),
  };
}

/**
 * isPlaced is whether the chart's corners place a swatch, or are about to.
 * @param {Store} store
 * @param {Analyte} a
 * @param {number} value
 * @param {number} part
 */
function isPlaced(store, a, value, part) {
  if (!byCorners(store)) return false;
  if (store.doc.corners.length === 4) return true;
  return store.placed.some((p) => p.role === 'swatch' && p.analyte === a.name && p.value === value && p.part === part);
}

/**
 * isWhole is whether an analyte is read and all its swatches are marked.
 * @param {Store} store
 * @param {Analyte} a
 */
export function isWhole(store, a) {
  const steps = all(store).filter((s) => s.kind === 'swatch' && s.analyte === a.name);
  return steps.length > 0 && steps.every((s) => s.done);
}

/**
 * isUnsaid is whether a row is read whose order was not said yet.
 * @param {Store} store
 * @param {Analyte} a
 */
export const isUnsaid = (store, a) => !a.palest && isWhole(store, a);

/** @param {number} nth */
function swatchHint(nth) {
  if (nth === 0) return 'The lowest value of the row first, then the highest: those between are placed for you.';
  if (nth === 1) return 'Those between are placed for you; adjust them where they miss.';
  return 'A curved row needs this one too.';
}

/**
 * current is the step to be done now: the chosen one, else the first not done.
 * @param {Store} store
 */
export function current(store) {
  const steps = all(store);
  const chosen = store.target && steps.find((s) => key(s) === store.target);
  return chosen || steps.find((s) => !s.done) || null;
}

/**
 * previous is the step before the current one.
 * @param {Store} store
 */
export function previous(store) {
  const steps = all(store), now = current(store);
  const i = now ? steps.findIndex((s) => key(s) === key(now)) : steps.length;
  return i > 0 ? steps[i - 1] : null;
}
