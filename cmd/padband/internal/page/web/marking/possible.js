// @ts-check
// What cannot be: a mark on another's, an end of a row that lies in another row,
// a row with no room for its swatches. Each is a sentence that says so.
import { isWhite } from '../state/files.js';
import { straight, ways } from './rows.js';
import { bounds, centre, contains, points } from './shape.js';

/** @import { Point, Shape } from './shape.js' */
/** @import { Step } from './steps.js' */
/** @import { Analyte, Region } from '../state/files.js' */
/** @import { Store } from '../state/store.js' */

const grid = 7; // places along each side at which two shapes are compared
const much = 0.25; // of the smaller shape in the larger: no two patches share as much
const larger = 3; // times as long: no two swatches of a row differ as much
const farthest = 1.5; // lengths of a mark from where its row has it
const closest = 1; // length of a mark from one swatch to the next: swatches do not overlap

/**
 * nameOf is what a mark is called.
 * @param {{role?: string, analyte?: string, value?: number, part?: number}} r
 */
export function nameOf(r) {
  if (r.role === 'pad') return `the ${r.analyte} pad`;
  if (r.role === 'swatch') return `${r.analyte} ${r.value}`;
  return r.role === 'wet-white' ? 'wet white' : 'white';
}

/**
 * whyNot says why a step's mark cannot have this shape, or nothing.
 * @param {Store} store
 * @param {Step} step
 * @param {Shape} shape
 */
export function whyNot(store, step, shape) {
  const others = store.doc.regions.filter((r) => !isWhite(r.role) && r.id !== step.id && !isPlacedWith(r, step));
  const on = others.find((r) => shared(r.shape, shape) > much);
  if (on) return `The mark for ${nameOf(on)} lies there already.`;
  return step.kind === 'swatch' ? whyNoRow(store, step, shape, others) : '';
}

/**
 * isPlacedWith is whether a mark was placed for the person in the same row.
 * @param {Region} r
 * @param {Step} step
 */
const isPlacedWith = (r, step) => r.auto && r.role === step.kind && r.analyte === step.analyte && r.part === step.part;

/**
 * otherEnd is the marked end of a row across from one that is being marked.
 * @param {Store} store
 * @param {Step} step
 */
export function otherEnd(store, step) {
  const a = store.chosen.analytes.find((x) => x.name === step.analyte);
  const values = a ? a.swatches.map((s) => s.value) : [], i = values.indexOf(step.value ?? NaN), last = values.length - 1;
  if (!a || step.kind !== 'swatch' || (i !== 0 && i !== last) || last < 1) return null;
  const other = store.find('swatch', a.name, values[last - i], step.part ?? 1);
  return other && !other.auto ? { analyte: a, other, isFirst: i === 0 } : null;
}

/**
 * @param {Store} store
 * @param {Step} step
 * @param {Shape} shape
 * @param {Region[]} others
 */
function whyNoRow(store, step, shape, others) {
  const row = otherEnd(store, step);
  if (!row) return farOff(store, step, shape);
  const { analyte, other, isFirst } = row, ends = isFirst ? { from: shape, to: other.shape } : { from: other.shape, to: shape };
  if (differ(shape, other.shape)) return `It is of quite another size than the swatch for ${other.value}.`;
  if (tooClose(analyte, ends.from, ends.to)) return `There is no room for ${analyte.swatches.length} swatches from ${other.value} to here.`;
  const across = crossed(analyte, ends.from, ends.to, others);
  return across ? `The row from ${other.value} to here would run over ${nameOf(across)}, so this lies in another row.` : '';
}

/**
 * farOff says so of a swatch between the ends that lies far from its place in the row.
 * @param {Store} store
 * @param {Step} step
 * @param {Shape} shape
 */
function farOff(store, step, shape) {
  const way = ways(store.doc, store.chosen).find((w) => w.a.name === step.analyte && w.part === step.part);
  const values = way ? way.a.swatches.map((s) => s.value) : [], i = values.indexOf(step.value ?? NaN);
  if (!way || i < 1 || i > values.length - 2) return '';
  const place = way.shapeAt(i / (values.length - 1)), p = centre(place), q = centre(shape), { x0, y0, x1, y1 } = bounds(place);
  if (Math.hypot(q[0] - p[0], q[1] - p[1]) <= farthest * Math.max(x1 - x0, y1 - y0)) return '';
  return `It lies far from the row of ${step.analyte}, from ${values[0]} to ${values[values.length - 1]}.`;
}

/**
 * crossed is a mark of something else that the swatches of a row would lie on.
 * @param {Analyte} a
 * @param {Shape} from
 * @param {Shape} to
 * @param {Region[]} others
 */
function crossed(a, from, to, others) {
  const run = a.swatches.length - 1, foreign = others.filter((r) => r.role === 'pad' || r.analyte !== a.name);
  for (let i = 1; i < run; i++) {
    const at = straight(from, to, i / run), on = foreign.find((r) => shared(r.shape, at) > much);
    if (on) return on;
  }
  return null;
}

/**
 * @param {Analyte} a
 * @param {Shape} from
 * @param {Shape} to
 */
function tooClose(a, from, to) {
  const p = centre(from), q = centre(to), d = Math.hypot(q[0] - p[0], q[1] - p[1]);
  const along = (lengthAlong(from, q, p) + lengthAlong(to, q, p)) / 2;
  return d / (a.swatches.length - 1) < closest * along;
}

/**
 * lengthAlong is how long a shape is in the direction from one place to another.
 * @param {Shape} s
 * @param {Point} p
 * @param {Point} q
 */
function lengthAlong(s, p, q) {
  const d = Math.hypot(q[0] - p[0], q[1] - p[1]) || 1, u = [(q[0] - p[0]) / d, (q[1] - p[1]) / d];
  const on = points(s).map(([x, y]) => x * u[0] + y * u[1]);
  return Math.max(...on) - Math.min(...on);
}

/**
 * @param {Shape} a
 * @param {Shape} b
 */
function differ(a, b) {
  const [p, q] = [a, b].map((s) => { const { x0, y0, x1, y1 } = bounds(s); return Math.sqrt((x1 - x0) * (y1 - y0)); });
  return p > larger * q || q > larger * p;
}

/**
 * shared is the share of the smaller of two shapes that lies in the other.
 * @param {Shape} a
 * @param {Shape} b
 */
export function shared(a, b) {
  const size = (/** @type {Shape} */ s) => { const { x0, y0, x1, y1 } = bounds(s); return (x1 - x0) * (y1 - y0); };
  const [small, large] = size(a) < size(b) ? [a, b] : [b, a], { x0, y0, x1, y1 } = bounds(small);
  let own = 0, both = 0;
  for (let i = 0; i < grid; i++) {
    for (let j = 0; j < grid; j++) {
      /** @type {Point} */
      const at = [x0 + ((i + 0.5) / grid) * (x1 - x0), y0 + ((j + 0.5) / grid) * (y1 - y0)];
      if (!contains(small, at)) continue;
      own++;
      if (contains(large, at)) both++;
    }
  }
  return own ? both / own : 0;
}
