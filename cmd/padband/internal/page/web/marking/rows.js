// @ts-check
// The swatches between the first and the last of a row are placed between
// them: along a line, or along a curve where a mark between the ends shows one.
// The rows of a chart around a bottle curve alike, so a row that shows no curve
// of its own takes that of the others. What a person moved by hand is left
// where it is.
import { between, bounds, centre, move, points } from './shape.js';
import { middle, partsOf } from './steps.js';

/** @import { Point, Shape } from './shape.js' */
/** @import { Analyte, Chart, Doc, Region } from '../state/files.js' */

/**
 * A mark that a row hangs on, and its share of the way along the row.
 * @typedef {{t: number, shape: Shape}} Anchor
 */

const inside = 0.4; // of the bend in the middle: a mark nearer to an end shows none
const bent = 0.15; // of a mark's size: what is less off the line is no curve

/**
 * follow places the swatches of the rows again when one of them changed.
 * @param {Doc} doc
 * @param {Chart} chart
 * @param {{role: string}} changed
 * @param {() => string} newId
 */
export function follow(doc, chart, changed, newId) {
  if (changed.role !== 'swatch') return;
  for (const { a, part, shapeAt } of ways(doc, chart)) placeRow(doc, a, part, shapeAt, newId);
}

/**
 * ways are the rows of a chart that have all they hang on, and where the swatches
 * of each lie, by their share of the way along it.
 * @param {Doc} doc
 * @param {Chart} chart
 */
export function ways(doc, chart) {
  const rows = chart.analytes.flatMap((a) => partsOf(a).map((part) => ({ a, part, anchors: anchorsOf(doc, a, part) })));
  const shared = commonBend(doc, rows);
  return rows.filter(({ a, anchors }) => ready(doc, a, anchors)).map(({ a, part, anchors }) => {
    const bend = bendOf(anchors, doc.bends[rowKey(a.name, part)] ?? shared, doc.curved.includes(a.name));
    return { a, part, shapeAt: shapesOf(anchors, bend) };
  });
}

/**
 * rowKey names a row.
 * @param {string} analyte
 * @param {number} [part]
 */
export const rowKey = (analyte, part = 1) => `${analyte}|${part}`;

/**
 * bendFor is a bend in pixels as that of a row of length 1.
 * @param {Point} bend
 * @param {Shape} first
 * @param {Shape} last
 * @returns {Point}
 */
export function bendFor([x, y], first, last) {
  const p = centre(first), q = centre(last), d = Math.hypot(q[0] - p[0], q[1] - p[1]) || 1;
  return [x / d, y / d];
}

/**
 * straight is the shape a share of the way along a straight row.
 * @param {Shape} first
 * @param {Shape} last
 * @param {number} t
 */
export const straight = (first, last, t) => between(first, last, t);

/**
 * anchorsOf are the marks of a row that were made by hand, when its ends are among them.
 * @param {Doc} doc
 * @param {Analyte} a
 * @param {number} part
 * @returns {Anchor[]}
 */
function anchorsOf(doc, a, part) {
  const run = a.swatches.length - 1;
  /** @type {Anchor[]} */
  const all = [];
  a.swatches.forEach((s, i) => {
    const have = swatchOf(doc, a.name, part, s.value);
    if (have && !have.auto) all.push({ t: i / run, shape: have.shape });
  });
  return run > 1 && all.length > 1 && all[0].t === 0 && all[all.length - 1].t === 1 ? all : [];
}

/**
 * ready is whether all is marked that a row hangs on.
 * @param {Doc} doc
 * @param {Analyte} a
 * @param {Anchor[]} anchors
 */
function ready(doc, a, anchors) {
  if (!anchors.length) return false;
  const at = middle(a) / (a.swatches.length - 1);
  return !doc.curved.includes(a.name) || anchors.some((k) => k.t === at);
}

/**
 * @param {Doc} doc
 * @param {Analyte} a
 * @param {number} part
 * @param {(t: number) => Shape} shapeAt
 * @param {() => string} newId
 */
function placeRow(doc, a, part, shapeAt, newId) {
  const run = a.swatches.length - 1;
  for (let i = 1; i < run; i++) {
    const { value } = a.swatches[i], have = swatchOf(doc, a.name, part, value), shape = shapeAt(i / run);
    if (!have) doc.regions.push({ id: newId(), role: 'swatch', analyte: a.name, value, part, shape, auto: true });
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
 * chord is the way from the first of a row to its last.
 * @param {Anchor[]} anchors
 * @returns {Point}
 */
function chord(anchors) {
  const p = centre(anchors[0].shape), q = centre(anchors[anchors.length - 1].shape);
  return [q[0] - p[0], q[1] - p[1]];
}

/**
 * ownBend is how far the middle of a row lies off the line through its ends, as
 * its marks by hand show it: a parabola in the place along the row.
 * @param {Anchor[]} anchors
 * @returns {Point | null}
 */
function ownBend(anchors) {
  let x = 0, y = 0, all = 0;
  for (const { t, shape } of anchors) {
    const w = 4 * t * (1 - t), c = centre(shape), on = centre(straight(anchors[0].shape, anchors[anchors.length - 1].shape, t));
    if (w < inside) continue;
    x += w * (c[0] - on[0]);
    y += w * (c[1] - on[1]);
    all += w * w;
  }
  return all ? [x / all, y / all] : null;
}

/**
 * isBent is whether the middle of a row lies so far beside the line that it curves.
 * @param {Anchor[]} anchors
 * @param {Point} bend
 */
function isBent(anchors, [x, y]) {
  const [dx, dy] = chord(anchors), d = Math.hypot(dx, dy) || 1, b = bounds(anchors[0].shape);
  return Math.abs((x * dy - y * dx) / d) > bent * Math.min(b.x1 - b.x0, b.y1 - b.y0);
}

/**
 * ownShare is the bend that a row's marks by hand show, for a row of length 1.
 * @param {Anchor[]} anchors
 * @param {boolean} curved a person said so
 * @returns {Point | null}
 */
function ownShare(anchors, curved) {
  const own = anchors.length ? ownBend(anchors) : null;
  if (!own || !(curved || isBent(anchors, own))) return null;
  return bendFor(own, anchors[0].shape, anchors[anchors.length - 1].shape);
}

/**
 * commonBend is the bend of the rows that show one, for a row of length 1.
 * @param {Doc} doc
 * @param {{a: Analyte, part: number, anchors: Anchor[]}[]} rows
 * @returns {Point}
 */
function commonBend(doc, rows) {
  let x = 0, y = 0, n = 0;
  for (const { a, part, anchors } of rows) {
    const shown = ownShare(anchors, doc.curved.includes(a.name)) ?? doc.bends[rowKey(a.name, part)];
    if (!shown) continue;
    x += shown[0];
    y += shown[1];
    n++;
  }
  return n ? [x / n, y / n] : [0, 0];
}

/**
 * bendOf is the bend of a row: its own where its marks or the other rows show one.
 * @param {Anchor[]} anchors
 * @param {Point} shared
 * @param {boolean} curved a person said so
 * @returns {Point}
 */
function bendOf(anchors, shared, curved) {
  const own = ownBend(anchors), d = Math.hypot(...chord(anchors));
  if (!own) return [shared[0] * d, shared[1] * d];
  return curved || shared[0] || shared[1] || isBent(anchors, own) ? own : [0, 0];
}

/**
 * shapesOf is where the swatches of a row lie, by their share of the way along it:
 * on the curve, each shaped as the marks by hand on either side of it.
 * @param {Anchor[]} anchors
 * @param {Point} bend
 * @returns {(t: number) => Shape}
 */
function shapesOf(anchors, bend) {
  const first = anchors[0].shape, last = anchors[anchors.length - 1].shape;
  if (!bend[0] && !bend[1]) return (t) => straight(first, last, t);
  return (t) => {
    const next = Math.max(1, anchors.findIndex((k) => k.t >= t)), from = anchors[next - 1], to = anchors[next];
    const base = between(from.shape, to.shape, (t - from.t) / (to.t - from.t)), now = centre(base);
    const on = centre(straight(first, last, t)), w = 4 * t * (1 - t);
    return move({ polygon: points(base) }, on[0] + bend[0] * w - now[0], on[1] + bend[1] * w - now[1]);
  };
}
