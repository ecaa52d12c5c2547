// What is to be marked, in order, and what of it is done.

const cornerNames = ['top left', 'top right', 'bottom right', 'bottom left'];
const advisedWhites = 3;

export const partsOf = (a) => Array.from({ length: a.parts || 1 }, (_, i) => i + 1);
export const key = (s) => [s.kind, s.analyte ?? '', s.value ?? '', s.part ?? '', s.index ?? ''].join('|');
const partName = (a, part) => ((a.parts || 1) > 1 ? `, part ${part}` : '');

// middle is the swatch a curved row is marked by, besides its ends.
export const middle = (a) => Math.floor((a.swatches.length - 1) / 2);

export const byCorners = (store) => Boolean(store.chart.layout) && !store.doc.byHand;

// all lists every step of the chart for this document.
export function all(store) {
  const { chart, doc } = store;
  if (!chart) return [];
  return [...whites(store), ...corners(store), ...chart.analytes.filter((a) => !doc.skipped.includes(a.name)).flatMap((a) => [...pads(store, a), ...row(store, a)])];
}

// whiteInChart: the chart's layout brings white areas with it.
const whiteInChart = (store) => byCorners(store) && (store.chart.layout.cells || []).some((c) => c.role === 'white');

function whites(store) {
  const { doc } = store, free = whiteInChart(store);
  const have = doc.regions.filter((r) => r.role === 'white');
  const n = Math.max(doc.enough ? have.length : Math.max(have.length, advisedWhites), free ? 0 : 1);
  return Array.from({ length: n }, (_, i) => ({
    kind: 'white', index: i, done: i < have.length, id: have[i] && have[i].id, optional: i > 0 || free,
    name: `white ${i + 1}`,
    text: i === 0 ? 'mark a piece of bare white paper or card' : 'mark another piece of white, away from the last',
    hint: i === 0 ? 'It shows the light. Tap on bare white near the strip.' : 'Three or more, on all sides of strip and chart, show how the light changes. Or skip.',
  }));
}

function corners(store) {
  if (!byCorners(store) && !store.remembering) return [];
  return cornerNames.map((name, i) => ({
    kind: 'corner', index: i, done: i < store.doc.corners.length, id: i < store.doc.corners.length ? `corner:${i}` : null,
    name: `chart corner, ${name}`, text: `tap the chart's ${name} corner`,
    hint: 'The printed dot there if the chart has dots, else the corner of the print. Press and slide to see it enlarged.',
  }));
}

function pads(store, a) {
  return partsOf(a).map((part) => {
    const have = store.find('pad', a.name, 0, part);
    return {
      kind: 'pad', analyte: a.name, part, done: Boolean(have), id: have && have.id, name: `${a.name} pad${partName(a, part)}`,
      text: `${a.name}: mark the wet pad on the strip${partName(a, part)}`, hint: 'Tap inside the pad, or draw a box well inside it.',
    };
  });
}

function row(store, a) {
  const n = a.swatches.length;
  const order = [0, n - 1];
  if (store.doc.curved.includes(a.name) && n > 2) order.push(middle(a));
  for (let i = 1; i < n - 1; i++) if (!order.includes(i)) order.push(i);
  return partsOf(a).flatMap((part) => order.map((i) => swatch(store, a, i, part, order.indexOf(i))));
}

function swatch(store, a, i, part, place) {
  const s = a.swatches[i];
  const have = store.find('swatch', a.name, s.value, part);
  const set = store.placed.some((p) => p.role === 'swatch' && p.analyte === a.name && p.value === s.value && p.part === part);
  const label = s.label || String(s.value);
  return {
    kind: 'swatch', analyte: a.name, value: s.value, part, done: Boolean(have) || (byCorners(store) && (set || store.doc.corners.length === 4)), id: have && have.id,
    name: `${a.name} swatch ${label}${partName(a, part)}`, text: `${a.name}: mark the printed swatch for ${label}${partName(a, part)}`,
    hint: place === 0 ? 'The lowest value of the row first, then the highest: those between are placed for you.'
      : place === 1 ? 'Those between are placed for you; adjust them where they miss.' : 'A curved row needs this one too.',
  };
}

// current is the step to be done now: the chosen one, else the first not done.
export function current(store) {
  const steps = all(store);
  if (store.target) {
    const chosen = steps.find((s) => key(s) === store.target);
    if (chosen) return chosen;
  }
  return steps.find((s) => !s.done) || null;
}

// previous is the step before the current one.
export function previous(store) {
  const steps = all(store), now = current(store);
  const i = now ? steps.findIndex((s) => key(s) === key(now)) : steps.length;
  return i > 0 ? steps[i - 1] : null;
}
