// @ts-check
// The swatches between the first and the last of a row are placed between
// them: along a line, or along a curve through one more in the middle. What a
// person moved by hand is left where it is.
import { between, centre, move, points } from './shape.js';
import { middle, partsOf } from './steps.js';

/** @import { Shape } from './shape.js' */
/** @import { Analyte, Chart, Doc, Region } from '../state/files.js' */

/**
 * follow places the rest of a row again when one of the marks it hangs on changed.
 * @param {Doc} doc
 * @param {Chart} chart
 * @param {{role: string, analyte?: string, value?: number}} changed
 * @param {() => string} newId
 */
export function follow(doc, chart, changed, newId) {
  if (changed.role !== 'swatch') return;
  const a = chart.analytes.find((x) => x.name === changed.analyte);
  if (!a) return;
  const i = a.swatches.findIndex((s) => s.value === changed.value);
  const anchors = [0, a.swatches.length - 1, ...(doc.curved.includes(a.name) ? [middle(a)] : [])];
  if (anchors.includes(i)) place(doc, chart, newId);
}

/**
 * place puts the swatches of all rows whose ends are marked into the document.
 * @param {Doc} doc
 * @param {Chart} chart
 * @param {() => string} newId
 */
function place(doc, chart, newId) {
  for (const a of chart.analytes) {
    for (const part of partsOf(a)) placeRow(doc, a, part, newId);
  }
}

/**
 * @param {Doc} doc
 * @param {Analyte} a
 * @param {number} part
 * @param {() => string} newId
 */
function placeRow(doc, a, part, newId) {
  const marks = a.swatches.map((s) => swatchOf(doc, a.name, part, s.value));
  const run = a.swatches.length - 1, shapeAt = line(doc, a, marks);
  if (!shapeAt) return;
  for (let i = 1; i < run; i++) {
    const have = marks[i], shape = shapeAt(i / run);
    if (!have) doc.regions.push({ id: newId(), role: 'swatch', analyte: a.name, value: a.swatches[i].value, part, shape, auto: true });
    else if (have.auto) have.shape = shape;
  }
}

/**
 * @param {Doc} doc
 * @param {string} analyte
 * @param {number} part
 * @param {number} value
 * @returns {Region | undefined}
 */
function swatchOf(doc, analyte, part, value) {
  return doc.regions.find((r) => r.role === 'swatch' && r.analyte === analyte && r.part === part && r.value === value);
}

/**
 * line is where the swatches of a row lie, by their share of the way along it;
 * null while a mark that it hangs on is not there.
 * @param {Doc} doc
 * @param {Analyte} a
 * @param {(Region | undefined)[]} marks
 * @returns {((t: number) => Shape) | null}
 */
function line(doc, a, marks) {
  const run = marks.length - 1, first = marks[0], last = marks[run], mid = marks[middle(a)];
  if (run < 2 || !first || !last || first.auto || last.auto) return null;
  if (!doc.curved.includes(a.name)) return (t) => between(first.shape, last.shape, t);
  if (!mid || mid.auto) return null;
  return (t) => onCurve(first.shape, mid.shape, last.shape, middle(a) / run, t);
}

/**
 * onCurve bends the line through the ends so that it meets the middle mark too:
 * a parabola in the place along the row.
 * @param {Shape} first
 * @param {Shape} mid
 * @param {Shape} last
 * @param {number} tm the middle mark's share of the way
 * @param {number} t
 */
function onCurve(first, mid, last, tm, t) {
  const straight = centre(between(first, last, tm)), c = centre(mid);
  const bend = (t * (1 - t)) / (tm * (1 - tm));
  const base = t <= tm ? between(first, mid, t / tm) : between(mid, last, (t - tm) / (1 - tm));
  const on = centre(between(first, last, t)), now = centre(base);
  const x = on[0] + (c[0] - straight[0]) * bend, y = on[1] + (c[1] - straight[1]) * bend;
  return move({ polygon: points(base) }, x - now[0], y - now[1]);
}
