// @ts-check
// Which marks a reading or a warning is about.
import { cellId } from '../marking/cells.js';

/** @import { Region } from '../state/files.js' */
/** @import { Placed } from '../server/api.js' */
/** @import { Store } from '../state/store.js' */

/**
 * A place that a warning is about, as the reading's JSON has it.
 * @typedef {{kind: string, analyte?: string, value?: number, part?: number, number?: number}} Place
 */

/**
 * marksAt are the ids of the marks at a place; of swatches that only the chart's
 * layout places, those of the cells.
 * @param {Store} store
 * @param {Place} place
 * @returns {string[]}
 */
export function marksAt(store, { kind, analyte, value, part, number = 0 }) {
  /** @param {Region | Placed} r */
  const here = (r) => r.analyte === analyte && (!part || (r.part || 1) === part);
  /** @param {string} role */
  const marks = (role) => store.doc.regions.filter((r) => r.role === role && here(r));
  const cells = store.placed.filter(here);
  switch (kind) {
    case 'pad': case 'part': return ids(marks('pad'));
    case 'swatch': return swatch(marks('swatch'), cells, value);
    case 'row': return [...ids(marks('swatch')), ...cells.map(cellId)];
    case 'white': return ids(store.doc.regions.filter((r) => r.role === 'white').slice(number - 1, number));
    default: return [];
  }
}

/** @param {Region[]} marks */
const ids = (marks) => marks.map((r) => r.id);

/**
 * @param {Region[]} marks
 * @param {Placed[]} cells
 * @param {number | undefined} value
 */
function swatch(marks, cells, value) {
  const marked = marks.filter((r) => r.value === value);
  return marked.length ? ids(marked) : cells.filter((p) => p.value === value).map(cellId);
}

/**
 * marksOfReading are the ids of a pad and of the swatches that its value lies between.
 * @param {Store} store
 * @param {string} analyte
 * @param {number[]} bracket
 */
export function marksOfReading(store, analyte, bracket) {
  const swatches = bracket.flatMap((value) => marksAt(store, { kind: 'swatch', analyte, value }));
  return [...marksAt(store, { kind: 'pad', analyte }), ...swatches];
}
