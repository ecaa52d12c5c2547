// @ts-check
// Which outlines that the program found a person moved.

/** @import { Shape } from '../marking/shape.js' */
/** @import { Doc, Region } from './files.js' */

/**
 * isSame is whether two outlines are one.
 * @param {Shape} a
 * @param {Shape} b
 */
export const isSame = (a, b) => JSON.stringify(a) === JSON.stringify(b);

/**
 * isMoved is whether a person moved an outline that was found.
 * @param {Region} r
 */
export const isMoved = (r) => Boolean(r.found && !isSame(r.found, r.shape));

/**
 * isFound is whether an outline lies where the program found it.
 * @param {Region} r
 */
export const isFound = (r) => Boolean(r.found && !isMoved(r));

/**
 * movedNames are the outlines that were moved, and the pads and swatches that a person
 * marked anew, as the marks file names them.
 * @param {Doc} doc
 * @returns {string[]}
 */
export function movedNames(doc) {
  const now = doc.regions.filter((r) => (r.analyte ? !isFound(r) : isMoved(r))).map(inWords);
  return [...new Set([...(doc.looked?.moved || []), ...now])];
}

/**
 * inWords names a mark for people.
 * @param {Region} r
 */
function inWords({ role, analyte, value, part = 1 }) {
  const of = [role, analyte, value].filter((w) => w !== undefined && w !== '').join(' ');
  return part > 1 ? `${of}, part ${part}` : of;
}
