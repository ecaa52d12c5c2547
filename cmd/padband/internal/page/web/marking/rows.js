// The swatches between the first and the last of a row are placed between
// them: along a line, or along a curve through one more in the middle. What a
// person moved by hand is left where it is.
import { between, centre, move, points } from './shape.js';
import { middle, partsOf } from './steps.js';

// place puts the swatches of all rows whose ends are marked into the document.
export function place(doc, chart, newId) {
  for (const a of chart.analytes) {
    for (const part of partsOf(a)) placeRow(doc, a, part, newId);
  }
}

function placeRow(doc, a, part, newId) {
  const n = a.swatches.length;
  const at = (i) => doc.regions.find((r) => r.role === 'swatch' && r.analyte === a.name && r.part === part && r.value === a.swatches[i].value);
  const first = at(0), last = at(n - 1), m = middle(a);
  if (!first || !last || first.auto || last.auto || n < 3) return;
  const curved = doc.curved.includes(a.name);
  const mid = curved && at(m) && !at(m).auto ? at(m) : null;
  if (curved && !mid) return;
  for (let i = 1; i < n - 1; i++) {
    const have = at(i);
    if (have && !have.auto) continue;
    const shape = mid ? onCurve(first.shape, mid.shape, last.shape, m / (n - 1), i / (n - 1)) : between(first.shape, last.shape, i / (n - 1));
    if (have) have.shape = shape;
    else doc.regions.push({ id: newId(), role: 'swatch', analyte: a.name, value: a.swatches[i].value, part, shape, auto: true });
  }
}

// onCurve bends the line through the ends so that it meets the middle mark too:
// a parabola in the place along the row.
function onCurve(first, mid, last, tm, t) {
  const straight = centre(between(first, last, tm)), c = centre(mid);
  const bend = (t * (1 - t)) / (tm * (1 - tm));
  const base = t <= tm ? between(first, mid, t / tm) : between(mid, last, (t - tm) / (1 - tm));
  const line = centre(between(first, last, t)), now = centre(base);
  return move({ polygon: points(base) }, line[0] + (c[0] - straight[0]) * bend - now[0], line[1] + (c[1] - straight[1]) * bend - now[1]);
}
