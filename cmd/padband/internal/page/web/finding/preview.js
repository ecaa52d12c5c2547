// @ts-check
// A small picture of what an answer would mark: the part of the photo that a question is
// about, with that answer's outlines, and what tells it from the others written on it.
import { el } from '../common/dom.js';
import { bounds, centre, points } from '../marking/shape.js';
import * as api from '../server/api.js';
import { region } from '../state/files.js';
import { differing, nameOf } from './outlines.js';

/** @import { Choice, Photo, Question } from '../server/api.js' */
/** @import { Chart, Region } from '../state/files.js' */
/** @typedef {{x: number, y: number, w: number, h: number}} Frame */

const NS = 'http://www.w3.org/2000/svg';
const wide = 320; // pixels of the picture
const around = 0.08; // of what is shown, left free beside it
const slim = 0.42; // of its length a picture is broad, at least
const mostRows = 3; // whose ends are written on; of more, the arrows tell

/**
 * previewOf is the picture of an answer; null where the answers differ in nothing that
 * can be shown, and of the one that marks nothing.
 * @param {Photo} photo
 * @param {Chart} chart
 * @param {Question} q
 * @param {Choice} c
 */
export function previewOf(photo, chart, q, c) {
  const names = doubted(q), cornered = cornersDiffer(q), at = frame(photo, q, names, cornered);
  if (!at || c.code === 'none-of-all') return null;
  const corners = (cornered && c.marks.corners) || [];
  const shown = regionsOf(c).filter((r) => names.has(nameOf(r)));
  const svg = document.createElementNS(NS, 'svg');
  svg.setAttribute('viewBox', `${at.x} ${at.y} ${at.w} ${at.h}`);
  for (const kind of ['casing', 'line']) {
    if (q.code === 'direction') for (const line of arrows(chart, shown)) svg.append(drawn(line, 'polyline', `${kind} crop-arrow`));
    else for (const r of shown) svg.append(drawn(points(r.shape), 'polygon', kind));
    if (corners.length) svg.append(drawn(corners, 'polygon', kind));
  }
  const img = el('img', { src: api.part(photo.id, at.x, at.y, at.w, at.h, wide), alt: '', draggable: 'false' });
  const first = corners.slice(0, 1).map((spot) => ({ text: '1', spot }));
  const written = [...notes(q, chart, shown), ...first].map(({ text, spot: [x, y] }) => {
    const across = (100 * (x - at.x)) / at.w, note = el('span', { class: 'preview-note', 'data-across': across.toFixed(1) }, text);
    note.style.left = `clamp(0.7rem, ${across}%, calc(100% - 0.7rem))`;
    note.style.top = `${(100 * (y - at.y)) / at.h}%`;
    return note;
  });
  const box = el('span', { class: 'crop preview', 'aria-hidden': 'true' }, img, svg, ...written);
  box.style.setProperty('--shape', String(at.w / at.h));
  return box;
}

/**
 * doubted are the names of what the answers have at different places, or not all of them.
 * @param {Question} q
 */
function doubted(q) {
  const [first, ...others] = q.answers.filter((c) => c.code !== 'none-of-all');
  const names = others.flatMap((c) => [...differing(first.marks, c.marks), ...differing(c.marks, first.marks)]);
  return new Set(names);
}

/**
 * cornersDiffer is whether the answers have the chart's corners at different places.
 * @param {Question} q
 */
function cornersDiffer(q) {
  const [first, ...others] = q.answers.filter((c) => c.code !== 'none-of-all').map((c) => JSON.stringify(c.marks.corners || []));
  return others.some((c) => c !== first);
}

/** @param {Choice} c */
const regionsOf = (c) => (c.marks.regions || []).map((m) => region(m, ''));

/**
 * frame is the part of the photo that holds what is in doubt, wherever an answer has it.
 * @param {Photo} photo
 * @param {Question} q
 * @param {Set<string>} names
 * @param {boolean} cornered the corners are in doubt
 * @returns {Frame | null}
 */
function frame({ width, height }, q, names, cornered) {
  const boxes = q.answers.flatMap(regionsOf).filter((r) => names.has(nameOf(r))).map((r) => bounds(r.shape));
  for (const { marks: { corners } } of q.answers) if (cornered && corners?.length) boxes.push(bounds({ polygon: corners }));
  if (!boxes.length) return null;
  const x0 = Math.min(...boxes.map((b) => b.x0)), x1 = Math.max(...boxes.map((b) => b.x1));
  const y0 = Math.min(...boxes.map((b) => b.y0)), y1 = Math.max(...boxes.map((b) => b.y1));
  const lone = cornered ? 1 : 3; // a lone patch is shown with what is beside it
  const least = Math.max(...boxes.map((b) => lone * Math.max(b.x1 - b.x0, b.y1 - b.y0)));
  const long = Math.max(x1 - x0, y1 - y0, least) * (1 + 2 * around);
  /**
   * @param {number} from
   * @param {number} to
   * @param {number} room
   */
  const span = (from, to, room) => {
    const size = Math.min(room, Math.max((to - from) + 2 * around * long, slim * long));
    return { at: Math.max(0, Math.min((from + to - size) / 2, room - size)), size };
  };
  const x = span(x0, x1, width), y = span(y0, y1, height);
  return { x: x.at, y: y.at, w: x.size, h: y.size };
}

/**
 * @param {[number, number][]} all
 * @param {string} shape
 * @param {string} kind
 */
function drawn(all, shape, kind) {
  const p = document.createElementNS(NS, shape);
  p.setAttribute('points', all.map((q) => q.join(',')).join(' '));
  p.setAttribute('class', `crop-${kind}`);
  return p;
}

/**
 * rowsOf are the swatches that are shown of each analyte, from the lowest.
 * @param {Chart} chart
 * @param {Region[]} shown
 */
function rowsOf(chart, shown) {
  /** @param {string} name */
  const rowOf = (name) => shown.filter((r) => r.role === 'swatch' && r.analyte === name && r.part === 1);
  const all = chart.analytes.map(({ name }) => ({ name, row: rowOf(name) }));
  for (const { row } of all) row.sort((a, b) => (a.value ?? 0) - (b.value ?? 0));
  return all.filter(({ row }) => row.length > 1);
}

/**
 * arrows lead from the lowest swatch of each row to the highest.
 * @param {Chart} chart
 * @param {Region[]} shown
 * @returns {[number, number][][]}
 */
function arrows(chart, shown) {
  return rowsOf(chart, shown).map(({ row }) => {
    const [x0, y0] = centre(row[0].shape), [x1, y1] = centre(row[row.length - (row.length > 3 ? 2 : 1)].shape); // the end is written on
    const dx = x1 - x0, dy = y1 - y0, n = 3 * row.length; // the head is a third of a swatch's place
    return [[x0, y0], [x1, y1], [x1 - (dx + dy) / n, y1 - (dy - dx) / n], [x1, y1], [x1 - (dx - dy) / n, y1 - (dy + dx) / n]];
  });
}

/**
 * notes are what is written on the picture: values at the ends of rows, names beside
 * rows, and names at the ends of the strip.
 * @param {Question} q
 * @param {Chart} chart
 * @param {Region[]} shown
 * @returns {{text: string, spot: [number, number]}[]}
 */
function notes(q, chart, shown) {
  const rows = rowsOf(chart, shown);
  if (q.code === 'direction' && rows.length <= mostRows) {
    return rows.flatMap(({ row }) => [row[0], row[row.length - 1]].map((r) => ({ text: String(r.value), spot: centre(r.shape) })));
  }
  if (q.code === 'rows') return rows.map(({ name, row }) => ({ text: name, spot: centre(row[Math.floor(row.length / 2)].shape) }));
  if (q.code !== 'strip-end') return [];
  const order = chart.strip || chart.analytes.map((a) => a.name);
  const pads = shown.filter((r) => r.role === 'pad').sort((a, b) => order.indexOf(a.analyte ?? '') - order.indexOf(b.analyte ?? ''));
  const ends = pads.length > 1 ? [pads[0], pads[pads.length - 1]] : pads;
  return ends.map((r) => ({ text: r.analyte ?? '', spot: centre(r.shape) }));
}
