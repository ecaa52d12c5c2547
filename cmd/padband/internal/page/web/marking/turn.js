// @ts-check
// A row turned round.

/** @import { Analyte, Doc } from '../state/files.js' */

/**
 * turnRow exchanges the values of a row's marks, the first with the last and so on:
 * each keeps its place.
 * @param {Doc} doc
 * @param {Analyte} a
 */
export function turnRow(doc, a) {
  const values = a.swatches.map((s) => s.value);
  for (const r of doc.regions) {
    if (r.role !== 'swatch' || r.analyte !== a.name) continue;
    const i = values.indexOf(r.value ?? NaN);
    if (i >= 0) r.value = values[values.length - 1 - i];
  }
}
