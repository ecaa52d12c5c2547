// @ts-check
// The box that is placed where a tap finds no edge: as large, and turned, as the
// marks that are most like it.
import { isWhite } from '../state/files.js';
import { area, centre, move } from './shape.js';

/** @import { Point, Shape } from './shape.js' */
/** @import { Step } from './steps.js' */
/** @import { Region } from '../state/files.js' */
/** @import { Store } from '../state/store.js' */

const manyTimes = 2.5; // the area of its likes: what is larger, or smaller, is not one of them

/**
 * likes are the marks that a step's mark should be as large as, the likest first:
 * its own row, other rows, and pads; for a pad other pads, then swatches.
 * @param {Store} store
 * @param {Step} step
 */
function likes(store, step) {
  /** @param {Region} r */
  const rank = (r) => {
    const near = r.role === step.kind ? 0 : 4, own = r.analyte === step.analyte ? 0 : 2;
    return near + own + (r.auto ? 1 : 0);
  };
  /** @param {Region} r */
  const isOther = (r) => !isWhite(r.role) && r.id !== step.id;
  return store.doc.regions.filter(isOther).sort((a, b) => rank(a) - rank(b));
}

/**
 * boxAt is the box for a step's patch at a place; null where nothing is marked
 * yet that it could be like.
 * @param {Store} store
 * @param {Step} step
 * @param {Point} at
 * @returns {{shape: Shape, as: string} | null}
 */
export function boxAt(store, step, at) {
  const like = nearest(likes(store, step), step);
  if (!like) return null;
  const c = centre(like.shape);
  return { shape: move(like.shape, at[0] - c[0], at[1] - c[1]), as: asLarge(like, step) };
}

/**
 * nearest is, of the likest marks of a row, the one whose value is nearest.
 * @param {Region[]} all
 * @param {Step} step
 */
function nearest(all, step) {
  const row = all.filter((r) => r.role === 'swatch' && r.analyte === step.analyte && r.part === step.part && !r.auto);
  /** @param {Region} r */
  const off = (r) => Math.abs((r.value ?? 0) - (step.value ?? 0));
  if (step.kind !== 'swatch' || !row.length) return all[0];
  return row.sort((a, b) => off(a) - off(b))[0];
}

/**
 * @param {Region} like
 * @param {Step} step
 */
function asLarge(like, step) {
  if (like.role === 'pad') return like.analyte === step.analyte ? 'its pad' : `the ${like.analyte} pad`;
  return like.analyte === step.analyte ? 'the swatches of its row' : `the swatches of ${like.analyte}`;
}

/**
 * isOfASize is whether a shape is about as large as those of its kind are.
 * @param {Store} store
 * @param {Step} step
 * @param {Shape} shape
 */
export function isOfASize(store, step, shape) {
  const like = nearest(likes(store, step).filter((r) => r.role === step.kind), step);
  if (!like) return true;
  const k = area(shape) / area(like.shape);
  return k < manyTimes && k > 1 / manyTimes;
}
