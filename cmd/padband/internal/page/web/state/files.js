// @ts-check
// The files that the page reads and writes, and the document that a person
// works on: how one becomes the other.
import { points } from '../marking/shape.js';
import { movedNames } from './moved.js';

/** @import { Point, Shape } from '../marking/shape.js' */

/**
 * A chart file, in what the page uses of it.
 * @typedef {object} Chart
 * @property {string} chart its name
 * @property {string} [title]
 * @property {string[]} [handling]
 * @property {Analyte[]} analytes
 * @property {string[]} [strip] the analytes in the order of the strip's pads, from the dipped tip
 * @property {{cells?: {role: string}[]}} [layout] where the cells lie between the four corners
 * @property {PrintColours[]} [print_colours] how the swatches of bottles looked
 */

/**
 * How the swatches of one bottle looked by daylight, in what the page uses of it.
 * @typedef {{lot: string, day: string, swatches: {part?: number}[]}} PrintColours
 */

/**
 * Which end of a row is pale.
 * @typedef {'lowest' | 'highest' | 'neither'} Palest
 */

/**
 * One row of a chart.
 * @typedef {{name: string, unit?: string, parts?: number, palest?: Palest,
 *   spoiled_by?: {analyte: string, how: string}[], swatches: {value: number, label?: string}[]}} Analyte
 */

/**
 * What a marks file says of the sample.
 * @typedef {object} Sample
 * @property {string} [place]
 * @property {string} [point]
 * @property {string} [reader]
 * @property {string} [taken]
 * @property {string} [dipped]
 * @property {string} [dilution]
 * @property {string} [note]
 * @property {boolean} [bleach_ruled_out] a pad without colour was not bleached
 * @property {string} [light] what light is on it
 * @property {string} [water] how the water looked before the dip
 * @property {{lot?: string, expires?: string, opened?: string}} [kit]
 */

/** @typedef {'pad' | 'swatch' | 'white' | 'wet-white'} Role */

/**
 * isWhite is whether marks of a role are of white, dry or wet, and belong to no analyte.
 * @param {Role} role
 */
export const isWhite = (role) => role === 'white' || role === 'wet-white';

/**
 * A mark as a marks file has it.
 * @typedef {Shape & {role: Role, material?: string, analyte?: string, value?: number, part?: number}} FileMark
 * @typedef {{by?: string, at: string, moved?: string[]}} Looked who looked at outlines that were found, when, and what was moved
 * @typedef {{format: number, chart?: string, checked?: boolean, looked?: Looked, asked?: string[], corners?: Point[],
 *   regions?: FileMark[], sample?: Sample}} MarksFile
 */

/**
 * A mark on the page. A swatch that was placed for the person is auto.
 * @typedef {object} Region
 * @property {string} id
 * @property {Role} role
 * @property {Shape} shape
 * @property {boolean} auto
 * @property {string} [material] of white
 * @property {string} [analyte] of pad and swatch
 * @property {number} [part] of pad and swatch
 * @property {number} [value] of a swatch
 * @property {Shape} [found] where the program found it
 * @property {number} [slot] of a pad that was found: its number on the strip, from the dipped tip
 */

/**
 * All that undo goes back over.
 * @typedef {object} Doc
 * @property {Region[]} regions
 * @property {Point[]} corners of the chart
 * @property {string[]} skipped analytes that are left out
 * @property {string[]} curved analytes whose row is curved
 * @property {Record<string, Point>} bends of rows, by rowKey, as the photo shows them: for a row of length 1
 * @property {boolean} enough white is marked
 * @property {boolean} byHand swatches are marked one by one, not by the chart's corners
 * @property {Sample} sample
 * @property {boolean} unchecked the program found the outlines, and nobody has looked at them
 * @property {Looked | null} looked a person looked at the outlines that were found
 * @property {number} answered how many of the questions about them
 * @property {string[]} asked codes of the questions that nobody has answered
 */

/** @returns {Doc} */
export const empty = () => ({
  regions: [], corners: [], skipped: [], curved: [], bends: {}, enough: false, byHand: false, sample: {},
  unchecked: false, looked: null, answered: 0, asked: [],
});

/**
 * readMarks is what a marks file says, as a document.
 * @param {MarksFile} marks
 * @param {Chart | null} chart
 * @param {() => string} newId
 */
export function readMarks(marks, chart, newId) {
  const doc = empty();
  doc.corners = marks.corners || [];
  doc.sample = marks.sample || {};
  doc.regions = (marks.regions || []).map((m) => region(m, newId()));
  readFound(doc, marks);
  doc.enough = doc.regions.some((r) => r.role === 'white');
  const pads = new Set(doc.regions.filter((r) => r.role === 'pad').map((r) => r.analyte));
  if (chart && pads.size && !doc.unchecked) doc.skipped = chart.analytes.map((a) => a.name).filter((n) => !pads.has(n));
  doc.byHand = doc.corners.length !== 4 && doc.regions.some((r) => r.role === 'swatch');
  return doc;
}

/**
 * readFound notes which marks the program found, as far as the file says.
 * @param {Doc} doc
 * @param {MarksFile} marks
 */
function readFound(doc, { checked, looked, asked }) {
  doc.unchecked = checked === false;
  doc.looked = looked || null;
  doc.asked = asked || [];
  if (doc.unchecked || looked) for (const r of doc.regions) r.found = structuredClone(r.shape);
}

/**
 * region is a mark of a marks file as one on the page.
 * @param {FileMark} m
 * @param {string} id
 * @returns {Region}
 */
export function region(m, id) {
  const { role } = m, shape = shapeOf(m);
  if (isWhite(role)) return { id, role, shape, auto: false, material: m.material || '' };
  const marked = { id, role, shape, auto: false, analyte: m.analyte, part: m.part || 1 };
  return role === 'swatch' ? { ...marked, value: m.value } : marked;
}

/**
 * @param {FileMark} m
 * @returns {Shape}
 */
function shapeOf({ polygon, rect, circle }) {
  if (polygon) return { polygon };
  if (rect) return { rect };
  return { circle: circle || [0, 0, 0] };
}

/**
 * marksFile is a document as a marks file.
 * @param {Doc} doc
 * @param {Chart | null} chart
 */
export function marksFile(doc, chart) {
  /** @type {MarksFile} */
  const out = { format: 1 };
  if (chart) out.chart = chart.chart;
  if (doc.unchecked) out.checked = false;
  else if (doc.looked) out.looked = looked(doc, doc.looked);
  if (doc.asked.length) out.asked = doc.asked;
  if (doc.corners.length === 4) out.corners = doc.corners;
  out.regions = fileMarks(doc);
  const sample = filled(doc.sample);
  if (sample) out.sample = sample;
  return out;
}

/**
 * looked says who looked at the outlines; a name that was given later counts too.
 * @param {Doc} doc
 * @param {Looked} was
 * @returns {Looked}
 */
function looked(doc, { by = doc.sample.reader, at }) {
  const moved = movedNames(doc);
  return { ...(by ? { by } : {}), at, ...(moved.length ? { moved } : {}) };
}

/**
 * fileMarks are the marks as a file holds them, without those of an analyte left out.
 * @param {Doc} doc
 */
export function fileMarks(doc) {
  return doc.regions.filter((r) => !doc.skipped.includes(r.analyte ?? '')).map(fileMark);
}

/**
 * @param {Region} r
 * @returns {FileMark}
 */
function fileMark({ role, shape, material, analyte, value, part }) {
  const outline = shape.circle || shape.rect ? shape : { polygon: points(shape) };
  if (isWhite(role)) return { role, ...(material ? { material } : {}), ...outline };
  if (role === 'swatch') return { role, analyte, value, part, ...outline };
  return { role, analyte, part, ...outline };
}

/**
 * filled leaves out what is empty; it is null when nothing is left.
 * @template {object} T
 * @param {T} o
 * @returns {Partial<T> | null}
 */
export function filled(o) {
  /** @type {Record<string, unknown>} */
  const out = {};
  for (const [k, v] of Object.entries(o)) {
    const kept = v && typeof v === 'object' ? filled(v) : v;
    if (kept) out[k] = kept;
  }
  return Object.keys(out).length ? /** @type {Partial<T>} */ (out) : null;
}
