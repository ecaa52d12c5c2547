// @ts-check
// An earlier photo of the strip, for outlines to be carried over from.
import { stripWork } from '../state/shots.js';

/** @import { ShotWork } from '../server/api.js' */
/** @import { Store } from '../state/store.js' */

/**
 * lookedAt is another photo of the strip whose pads are marked and were looked at, or null.
 * @param {Store} store
 * @returns {ShotWork | null}
 */
export function lookedAt({ others, chart }) {
  const ready = others.filter(({ doc }) => !doc.unchecked && doc.regions.some((r) => r.role === 'pad'));
  return stripWork(ready.slice(0, 1), chart)[0] || null;
}
