// @ts-check
// Where the names and values of the marks are written: beside the mark, where
// nothing is written yet, and farther off with a line to it where marks lie close
// together. Every mark in sight gets its label; where there is no room, a short one.

/** @import { Point } from '../marking/shape.js' */

/**
 * A mark to be labelled: what it says, where it lies on the surface, whether it
 * comes before others, and whether its label is best beside it, as on a strip.
 * @typedef {{text: string, left: number, top: number, right: number, bottom: number, first: boolean, beside: boolean}} Labelled
 * @typedef {{text: string, at: Point, from: Point | null, size: number}} Label
 * @typedef {{left: number, top: number, right: number, bottom: number}} Box
 */

const sizes = [13, 11, 10]; // CSS pixels of the letters
const onLabel = 1000, onMark = 8; // what it costs to cover a square of ten pixels
const broad = 0.62; // of its height a letter is wide, at most on the average
const near = 3; // CSS pixels from the mark to its label
const rows = [0, 1, 2, 3, 4]; // lines of writing off the mark
const farOff = 6; // CSS pixels that a label may lie off before a line leads to it

/**
 * labels finds a place for the label of every mark on a surface.
 * @param {Labelled[]} marks
 * @param {Box[]} written what is written there already
 * @param {number} width
 * @param {number} height
 * @returns {Label[]}
 */
export function labels(marks, written, width, height) {
  const taken = [...written];
  /** @param {Labelled} m */
  const inSight = (m) => m.right > 0 && m.left < width && m.bottom > 0 && m.top < height;
  const all = marks.filter(inSight).sort((a, b) => Number(b.first) - Number(a.first));
  return all.map((m) => {
    const best = place(m, all, taken, width, height);
    taken.push(best.box);
    return best.label;
  });
}

/**
 * place is the place of one label that covers least of what is there.
 * @param {Labelled} m
 * @param {Labelled[]} marks
 * @param {Box[]} taken
 * @param {number} width
 * @param {number} height
 */
function place(m, marks, taken, width, height) {
  let best = { cost: Infinity, ...candidate(m, m.text, sizes[0], 0, width, height) };
  for (let way = 0; way < ways; way++) {
    for (const [nth, { text, size }] of writings(m.text).entries()) {
      const c = candidate(m, text, size, way, width, height), later = 2 * way + nth / 2;
      if (later >= best.cost) return best;
      const cost = later + onLabel * covered(c.box, taken) + onMark * covered(c.box, marks);
      if (cost < best.cost) best = { cost, ...c };
    }
  }
  return best;
}

/**
 * writings are the ways to write a label where it stands: smaller, then shorter.
 * @param {string} text
 */
const writings = (text) => spellings(text).flatMap((t) => sizes.map((size) => ({ text: t, size })));

const ways = 4 * rows.length; // above, below, right, left, or the sides first; near and farther

/**
 * candidate is one way to write a label: where, and what it takes.
 * @param {Labelled} m
 * @param {string} text
 * @param {number} size
 * @param {number} way
 * @param {number} width
 * @param {number} height
 */
function candidate(m, text, size, way, width, height) {
  const off = rows[Math.floor(way / 4)] * (size + 2), w = text.length * size * broad + 2, h = size + 2;
  const mx = (m.left + m.right) / 2, my = (m.top + m.bottom) / 2;
  const [cx, cy] = [
    [mx, m.top - near - h / 2 - off], [mx, m.bottom + near + h / 2 + off],
    [m.right + near + w / 2 + off, my], [m.left - near - w / 2 - off, my],
  ][(way + (m.beside ? 2 : 0)) % 4];
  const x = clamp(cx, w / 2, width - w / 2), y = clamp(cy, h / 2, height - h / 2);
  const box = { left: x - w / 2, top: y - h / 2, right: x + w / 2, bottom: y + h / 2 };
  /** @type {Point} */
  const at = [x, y + size * 0.36];
  return { box, label: { text, size, at, from: leader(m, box) } };
}

/**
 * leader is where the line to a label that lies off its mark begins.
 * @param {Labelled} m
 * @param {Box} b
 * @returns {Point | null}
 */
function leader(m, b) {
  const dx = Math.max(m.left - b.right, b.left - m.right, 0), dy = Math.max(m.top - b.bottom, b.top - m.bottom, 0);
  if (Math.hypot(dx, dy) <= farOff) return null;
  return [clamp((b.left + b.right) / 2, m.left, m.right), clamp((b.top + b.bottom) / 2, m.top, m.bottom)];
}

/**
 * spellings are a text and, of a long name, a short one.
 * @param {string} text
 */
function spellings(text) {
  const short = text.split(' ').map((word) => (word.length > 5 ? `${word.slice(0, 4)}.` : word)).join(' ');
  return short === text ? [text] : [text, short];
}

/**
 * covered is how much of a box others take, in squares of ten pixels.
 * @param {Box} b
 * @param {Box[]} others
 */
function covered(b, others) {
  let sum = 0;
  for (const o of others) {
    const w = Math.min(b.right, o.right) - Math.max(b.left, o.left), h = Math.min(b.bottom, o.bottom) - Math.max(b.top, o.top);
    if (w > 0 && h > 0) sum += (w * h) / 100;
  }
  return sum;
}

/**
 * @param {number} v
 * @param {number} least
 * @param {number} most
 */
const clamp = (v, least, most) => Math.min(Math.max(v, least), Math.max(least, most));
