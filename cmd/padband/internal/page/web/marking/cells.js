// @ts-check
// The cells of the chart that its four corners place. Each is drawn and chosen as
// a mark is, and becomes one when a person takes it in hand.

/** @import { Placed } from '../server/api.js' */
/** @import { Region } from '../state/files.js' */
/** @import { Store } from '../state/store.js' */

/**
 * cellId is the id of a placed cell, among those of the marks.
 * @param {{analyte: string, part: number, value: number}} cell
 */
export const cellId = ({ analyte, part, value }) => `cell:${analyte}:${part}:${value}`;

/**
 * isCell is whether an id is a cell's.
 * @param {string} id
 */
export const isCell = (id) => id.startsWith('cell:');

/**
 * cellsUnmarked are the swatches placed by the chart's corners that have no mark
 * of their own, as marks.
 * @param {Store} store
 */
export function cellsUnmarked(store) {
  return store.placed
    .filter((p) => p.role === 'swatch' && !store.find('swatch', p.analyte, p.value, p.part))
    .map(asRegion);
}

/**
 * @param {Placed} p
 * @returns {Region}
 */
function asRegion(p) {
  const { role, analyte, value, part } = p;
  return { id: cellId(p), role, analyte, value, part, shape: { polygon: p.polygon }, auto: true };
}
