// @ts-check
// The photos of one strip: each with what is marked in it. What is said of the strip is
// said of all of them.
import { empty, fileMarks, filled, marksFile } from './files.js';

/** @import { Photo, ShotWork } from '../server/api.js' */
/** @import { Chart, Doc, Sample } from './files.js' */

/**
 * A photo of the strip, none before one is opened, with what is marked in it.
 * @typedef {object} Shot
 * @property {Photo | null} photo
 * @property {Doc} doc
 * @property {Doc[]} past
 * @property {Doc[]} future
 */

/**
 * shotOf is a photo with nothing marked in it.
 * @param {Photo | null} photo
 * @param {Doc} [doc]
 * @returns {Shot}
 */
export const shotOf = (photo, doc = empty()) => ({ photo, doc, past: [], future: [] });

/** what is said of one photo alone */
const own = ['taken', 'light', 'note'];

/**
 * ofStrip is what was said of the strip.
 * @param {Sample} sample
 * @returns {Sample}
 */
export function ofStrip(sample) {
  return structuredClone(Object.fromEntries(Object.entries(sample).filter(([name]) => !own.includes(name))));
}

/**
 * share gives what was said of the strip anew to its other photos.
 * @param {Sample} before
 * @param {Sample} after
 * @param {Shot[]} others
 */
export function share(before, after, others) {
  const a = ofStrip(before), b = ofStrip(after);
  /** @param {string} name */
  const text = (name) => [a, b].map((s) => JSON.stringify(Object.entries(s).find(([k]) => k === name)));
  const changed = Object.fromEntries([...new Set([...Object.keys(a), ...Object.keys(b)])]
    .filter((name) => text(name)[0] !== text(name)[1])
    .map((name) => [name, Object.entries(b).find(([k]) => k === name)?.[1]]));
  if (!Object.keys(changed).length) return;
  for (const s of others) s.doc = { ...s.doc, sample: { ...s.doc.sample, ...structuredClone(changed) } };
}

/**
 * versionOf is all that a person did to a photo, as one text to be compared; see Store.
 * @param {Doc} doc
 * @param {Chart | null} chart
 */
export function versionOf(doc, chart) {
  const { corners, looked } = doc, regions = fileMarks(doc), sample = filled(doc.sample);
  if (!corners.length && !regions.length && !sample) return '';
  return JSON.stringify([corners, regions, sample, chart, ...(looked ? [looked] : [])]);
}

/**
 * stripWork is what is sent of the photos of a strip.
 * @param {Shot[]} shots
 * @param {Chart | null} chart
 * @returns {ShotWork[]}
 */
export const stripWork = (shots, chart) => shots.flatMap(({ photo, doc }) => (
  photo ? [{ id: photo.id, marks: marksFile(doc, chart) }] : []));
