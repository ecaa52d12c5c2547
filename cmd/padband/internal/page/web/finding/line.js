// @ts-check
// The line of one analyte: its pad and its swatches cut out of the photo, in the order
// of the chart, and what can be done where they are not right.
import { button, el } from '../common/dom.js';
import { partsOf } from '../marking/steps.js';
import { crop } from './crop.js';
import { nameOf } from './outlines.js';

/** @import { Photo } from '../server/api.js' */
/** @import { Analyte, Doc, Region } from '../state/files.js' */

/**
 * What can be done with a line, and what is said of it.
 * @typedef {object} Doing
 * @property {string} choosing the analyte whose pad is being given to another row
 * @property {Map<string, string>} against how rows contradict the chart
 * @property {(key: string, make: () => HTMLElement) => HTMLElement} picture
 * @property {(analyte: string) => void} turn
 * @property {(analyte: string) => void} choose
 * @property {(a: string, b: string) => void} exchange
 * @property {(id: string) => void} select
 */

/**
 * On is where: asked names patches that are in doubt, and cells are swatches that only the chart's corners place.
 * @typedef {{doc: Doc, rows: Analyte[], cells: Region[], photo: Photo, asked: Set<string>, do: Doing}} On
 */

/**
 * lineOf is the line of an analyte.
 * @param {Analyte} a
 * @param {On} on
 */
export function lineOf(a, on) {
  const why = on.do.against.get(a.name);
  return el('li', { class: 'found-line', 'data-analyte': a.name },
    el('div', { class: 'found-head' }, el('h3', {}, a.name), ...buttons(a, on)),
    on.do.choosing === a.name ? others(a, on) : null,
    why ? el('p', { class: 'found-against' }, why) : null,
    ...partsOf(a).map((part) => cells(a, part, on)));
}

/**
 * @param {Analyte} a
 * @param {On} on
 */
function buttons(a, on) {
  const name = { 'data-act': `turn ${a.name}`, 'aria-label': `Turn round the row of ${a.name}` };
  const turn = on.cells.some((c) => c.analyte === a.name) ? [] : [button('Turn round', () => on.do.turn(a.name), name)];
  if (!likes(a, on).length) return turn;
  const open = on.do.choosing === a.name;
  return [...turn, button('Other row', () => on.do.choose(a.name), {
    'data-act': `other ${a.name}`, 'aria-label': `Other row for the pad of ${a.name}`, 'aria-expanded': String(open),
  })];
}

/**
 * likes are the other analytes whose pads can stand in the place of one's pad.
 * @param {Analyte} a
 * @param {On} on
 */
function likes(a, { doc, rows }) {
  const has = (/** @type {Analyte} */ b) => doc.regions.some((r) => r.role === 'pad' && r.analyte === b.name);
  return has(a) ? rows.filter((b) => b !== a && has(b) && (b.parts || 1) === (a.parts || 1)) : [];
}

/**
 * others lets a person say whose pad it is.
 * @param {Analyte} a
 * @param {On} on
 */
function others(a, on) {
  const all = likes(a, on).map((b) => button(b.name, () => on.do.exchange(a.name, b.name), { 'data-act': `pad ${a.name} ${b.name}` }));
  return el('p', { class: 'row', role: 'group', 'aria-label': `Whose pad is beside the row of ${a.name}?` }, 'This pad is that of', ...all);
}

/**
 * @param {Analyte} a
 * @param {number} part
 * @param {On} on
 */
function cells(a, part, on) {
  /**
   * @param {string} role
   * @param {number} [value]
   */
  const find = (role, value) => [...on.doc.regions, ...on.cells]
    .find((r) => r.role === role && r.analyte === a.name && r.part === part && r.value === value);
  const of = (a.parts || 1) > 1 ? `, part ${part}` : '';
  return el('ol', { class: 'found-row' },
    cell('found-pad', 'pad', find('pad'), `${a.name}, pad${of}`, on),
    ...a.swatches.map((s) => cell('', s.label || String(s.value), find('swatch', s.value), `${a.name}, swatch for ${s.value}${of}`, on)));
}

/**
 * @param {string} kind
 * @param {string} text
 * @param {Region | undefined} r
 * @param {string} alt
 * @param {On} on
 */
function cell(kind, text, r, alt, on) {
  if (!r) return el('li', { class: kind }, el('span', { class: 'crop none' }, 'not found'), el('b', {}, text));
  const key = JSON.stringify([on.photo.id, r.shape, alt]), doubt = on.asked.has(nameOf(r)) ? 'found-asked' : '';
  return el('li', { class: `${kind} ${doubt}`, onclick: () => on.do.select(r.id) },
    on.do.picture(key, () => crop(on.photo, r, alt)), el('b', {}, text));
}
