// @ts-check
// What becomes of outlines that the program found: how they come into the document,
// and how an answer, a turned row or an exchanged pad changes them. What a person
// moved or marked stays where it is.
import { bounds, centre } from '../marking/shape.js';
import { isWhite, region } from '../state/files.js';
import { isFound, isMoved, isSame } from '../state/moved.js';

/** @import { Shape } from '../marking/shape.js' */
/** @import { Chart, Doc, FileMark, MarksFile, Region } from '../state/files.js' */

/** @typedef {{role: string, analyte?: string, value?: number, part?: number}} Named */

const near = 0.35; // of an outline's size: what lies nearer than this to a place lies on it

/**
 * nameOf names what a mark is of: a pad or a swatch. White has no name.
 * @param {Named} m
 */
export const nameOf = ({ role, analyte, value, part }) => `${role}|${analyte}|${value ?? ''}|${part || 1}`;

/**
 * padsOf are a chart's analytes in the order in which their pads are looked for, from the
 * dipped tip.
 * @param {Chart} chart
 */
const padsOf = (chart) => chart.strip || chart.analytes.map((a) => a.name);

/**
 * take puts outlines that were found into a document without any.
 * @param {Doc} doc
 * @param {Chart} chart
 * @param {MarksFile} marks
 * @param {() => string} newId
 */
export function take(doc, chart, marks, newId) {
  doc.corners = marks.corners || [];
  doc.regions = (marks.regions || []).map((m) => found(m, newId()));
  number(doc, chart);
  doc.unchecked = true;
  doc.looked = null;
  doc.answered = 0;
  doc.asked = marks.asked || [];
  doc.enough = doc.regions.some((r) => r.role === 'white');
  doc.byHand = doc.corners.length !== 4;
}

/**
 * number gives the pads that were found their numbers on the strip: those of the order
 * in which they were looked for. Where only the rows were in doubt, a pad keeps the
 * number of its place.
 * @param {Doc} doc
 * @param {Chart} chart
 * @param {Region[]} [before] the marks whose places keep their numbers
 */
export function number(doc, chart, before = []) {
  const order = padsOf(chart), places = before.filter((r) => r.role === 'pad' && r.found);
  for (const r of doc.regions) {
    const { found: at } = r;
    if (r.role !== 'pad' || !at) continue;
    const place = places.find((p) => p.found && isOn(p.found, at));
    r.slot = place?.slot ?? order.indexOf(r.analyte ?? '');
  }
}

/**
 * @param {FileMark} m
 * @param {string} id
 * @returns {Region}
 */
function found(m, id) {
  const r = region(m, id);
  return { ...r, found: structuredClone(r.shape) };
}

/**
 * answer changes the outlines as an answer has them: those that it has elsewhere, or
 * names otherwise, than what was found first.
 * @param {Doc} doc
 * @param {MarksFile} first what was found
 * @param {MarksFile} marks the answer's
 * @param {() => string} newId
 */
export function answer(doc, first, marks, newId) {
  const corners = marks.corners || [];
  const before = named(first), after = named(marks);
  const gone = new Set([...before.keys()].filter((n) => !after.has(n)));
  const changed = [...after].filter(([n, m]) => !before.has(n) || !isSame(outline(m), outline(before.get(n)))).map(([, m]) => m);
  const left = new Set([...gone, ...changed.map(nameOf)]);
  const moved = doc.regions.filter((r) => isMoved(r) && !isWhite(r.role) && left.has(nameOf(r)));
  const placed = changed.map((m) => kept(moved, found(m, newId())));
  const used = new Set(placed.map((r) => r.id));
  const stays = doc.regions.filter((r) => !used.has(r.id) && (isWhite(r.role) || !left.has(nameOf(r)) || !isFound(r)));
  const names = new Set(stays.filter((r) => !isWhite(r.role)).map(nameOf));
  doc.regions = [...stays, ...placed.filter((r) => !names.has(nameOf(r)))];
  if (JSON.stringify(corners) !== JSON.stringify(first.corners || [])) doc.corners = corners;
  answerWhites(doc, first, marks, newId);
}

/**
 * differing are the names of what one marks file has elsewhere than another, or alone.
 * @param {MarksFile} a
 * @param {MarksFile} b
 */
export function differing(a, b) {
  const other = named(b);
  return [...named(a)].filter(([n, m]) => !other.has(n) || !isSame(outline(m), outline(other.get(n)))).map(([n]) => n);
}

/**
 * kept is an answer's outline; of one that a person moved, that person's, by the
 * answer's name.
 * @param {Region[]} moved
 * @param {Region} r
 * @returns {Region}
 */
function kept(moved, r) {
  const own = moved.find((m) => m.role === r.role && m.found && isOn(m.found, r.shape));
  return own ? { ...own, analyte: r.analyte, value: r.value, part: r.part } : r;
}

/**
 * isOn is whether one outline lies where another does.
 * @param {Shape} a
 * @param {Shape} b
 */
function isOn(a, b) {
  const p = centre(a), q = centre(b), box = bounds(a);
  return Math.hypot(p[0] - q[0], p[1] - q[1]) < near * Math.max(box.x1 - box.x0, box.y1 - box.y0);
}

/**
 * isThere is whether a mark lies where the program found it.
 * @param {Region} r
 * @param {FileMark | undefined} m
 */
export const isThere = (r, m) => Boolean(r.found && m && isOn(r.found, outline(m)));

/**
 * answerWhites takes the white areas of an answer, where they are others.
 * @param {Doc} doc
 * @param {MarksFile} first
 * @param {MarksFile} marks
 * @param {() => string} newId
 */
function answerWhites(doc, first, marks, newId) {
  const was = whites(first), now = whites(marks);
  if (JSON.stringify(was) === JSON.stringify(now)) return;
  doc.regions = [...doc.regions.filter((r) => !isWhite(r.role) || !isFound(r)), ...now.map((m) => found(m, newId()))];
}

/** @param {MarksFile} marks */
const whites = (marks) => (marks.regions || []).filter((m) => isWhite(m.role));

/** @param {MarksFile} marks */
const named = (marks) => new Map((marks.regions || []).filter((m) => !isWhite(m.role)).map((m) => [nameOf(m), m]));

/** @param {FileMark | undefined} m */
function outline(m) {
  if (!m) return { circle: /** @type {[number, number, number]} */ ([0, 0, 0]) };
  return region(m, '').shape;
}

/**
 * byHand takes away what was found, but for what a person moved.
 * @param {Doc} doc
 */
export function byHand(doc) {
  doc.regions = doc.regions.filter((r) => !isFound(r));
  for (const r of doc.regions) delete r.found;
  doc.corners = [];
  doc.unchecked = false;
  doc.looked = null;
  doc.asked = [];
  doc.enough = false;
  doc.byHand = false;
}

/**
 * exchangePads gives the pads of two analytes to each other's rows.
 * @param {Doc} doc
 * @param {Chart} chart
 * @param {string} a
 * @param {string} b
 */
export function exchangePads(doc, chart, a, b) {
  for (const r of doc.regions) {
    if (r.role !== 'pad' || (r.analyte !== a && r.analyte !== b)) continue;
    r.slot ??= padsOf(chart).indexOf(r.analyte);
    r.analyte = r.analyte === a ? b : a;
  }
}

/**
 * padOrder are the analytes in the order of their pads, from the dipped tip; null where
 * not all of the chart's pads were found.
 * @param {Doc} doc
 * @param {Chart} chart
 * @returns {string[] | null}
 */
export function padOrder(doc, chart) {
  const known = padsOf(chart);
  /** @param {Region} r */
  const slot = (r) => r.slot ?? known.indexOf(r.analyte ?? '');
  const pads = doc.regions.filter((r) => r.role === 'pad' && r.part === 1 && r.found);
  const order = pads.sort((a, b) => slot(a) - slot(b)).map((r) => r.analyte ?? '');
  const all = known.every((name) => order.includes(name)) && order.length === known.length;
  return all && new Set(pads.map(slot)).size === order.length ? order : null;
}
