// @ts-check
// Marked regions as the marks file has them: {polygon}, {rect} or {circle}, in
// pixels of the upright photo. A region that nobody touched stays as it was read.

/**
 * A place in the photo, or on the surface that it is drawn on.
 * @typedef {[x: number, y: number]} Point
 */

/**
 * @typedef {{polygon: Point[], rect?: undefined, circle?: undefined}} Polygon
 * @typedef {{rect: [x: number, y: number, w: number, h: number], polygon?: undefined, circle?: undefined}} Rect
 * @typedef {{circle: [x: number, y: number, r: number], polygon?: undefined, rect?: undefined}} Circle
 * @typedef {Polygon | Rect | Circle} Shape
 */

const least = 3; // pixels of a circle's radius

/** @param {number} v */
const round = (v) => Math.round(v * 10) / 10;

/**
 * point is a place to a tenth of a pixel.
 * @param {number} x
 * @param {number} y
 * @returns {Point}
 */
export const point = (x, y) => [round(x), round(y)];

/**
 * box is the upright box between two opposite corners.
 * @param {Point} a
 * @param {Point} b
 * @returns {Polygon}
 */
export function box(a, b) {
  const [x0, x1] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
  const [y0, y1] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
  return { polygon: [point(x0, y0), point(x1, y0), point(x1, y1), point(x0, y1)] };
}

/**
 * points are the outline, for drawing and for handles.
 * @param {Shape} s
 * @returns {Point[]}
 */
export function points(s) {
  if (s.polygon) return s.polygon;
  if (s.rect) {
    const [x, y, w, h] = s.rect;
    return [[x, y], [x + w, y], [x + w, y + h], [x, y + h]];
  }
  const [cx, cy, r] = s.circle;
  return Array.from({ length: 24 }, (_, i) => [cx + r * Math.cos(i * Math.PI / 12), cy + r * Math.sin(i * Math.PI / 12)]);
}

/**
 * handles are the points a person can drag.
 * @param {Shape} s
 */
export function handles(s) {
  return s.circle ? [0, 6, 12, 18].map((i) => points(s)[i]) : points(s);
}

/** @param {Shape} s */
export function bounds(s) {
  const p = points(s);
  const xs = p.map((q) => q[0]), ys = p.map((q) => q[1]);
  return { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
}

/**
 * area is that of the box about a shape.
 * @param {Shape} s
 */
export function area(s) {
  const b = bounds(s);
  return (b.x1 - b.x0) * (b.y1 - b.y0);
}

/**
 * @param {Shape} s
 * @returns {Point}
 */
export function centre(s) {
  const b = bounds(s);
  return [(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2];
}

/**
 * @param {Shape} s
 * @param {number} dx
 * @param {number} dy
 * @returns {Shape}
 */
export function move(s, dx, dy) {
  if (s.circle) return { circle: [...point(s.circle[0] + dx, s.circle[1] + dy), s.circle[2]] };
  if (s.rect) return { rect: [...point(s.rect[0] + dx, s.rect[1] + dy), s.rect[2], s.rect[3]] };
  return { polygon: s.polygon.map(([x, y]) => point(x + dx, y + dy)) };
}

/**
 * @param {Shape} s
 * @param {number} factor
 * @returns {Shape}
 */
export function grow(s, factor) {
  const [cx, cy] = centre(s);
  if (s.circle) return { circle: [s.circle[0], s.circle[1], Math.max(least, round(s.circle[2] * factor))] };
  return { polygon: points(s).map(([x, y]) => point(cx + (x - cx) * factor, cy + (y - cy) * factor)) };
}

/**
 * drag puts one handle elsewhere. A box keeps its sides upright.
 * @param {Shape} s
 * @param {number} index
 * @param {Point} to
 * @returns {Shape}
 */
export function drag(s, index, to) {
  if (s.circle) {
    const [x, y] = s.circle;
    return { circle: [x, y, Math.max(least, round(Math.hypot(to[0] - x, to[1] - y)))] };
  }
  const p = points(s);
  if (upright(p)) return box(p[(index + 2) % 4], to);
  return { polygon: p.map((q, i) => (i === index ? point(...to) : q)) };
}

/** @param {Point[]} p */
function upright(p) {
  return p.length === 4 && p.every((q, i) => q[0] === p[(i + 1) % 4][0] || q[1] === p[(i + 1) % 4][1]);
}

/**
 * contains is whether a place lies in a shape: a ray from it to the right crosses
 * the outline an odd number of times.
 * @param {Shape} s
 * @param {Point} at
 */
export function contains(s, [x, y]) {
  const p = points(s);
  let inside = false;
  for (let i = 0, j = p.length - 1; i < p.length; j = i++) {
    const [xi, yi] = p[i], [xj, yj] = p[j];
    if ((yi > y) !== (yj > y) && x < ((xj - xi) * (y - yi)) / (yj - yi) + xi) inside = !inside;
  }
  return inside;
}

/**
 * between is the shape a share of the way from one to another, both as polygons
 * of as many corners; otherwise the first's shape about the place between.
 * @param {Shape} a
 * @param {Shape} b
 * @param {number} t
 * @returns {Shape}
 */
export function between(a, b, t) {
  const p = points(a), q = alike(p, points(b));
  if (p.length === q.length) return { polygon: p.map((v, i) => toward(v, q[i], t)) };
  const ca = centre(a), cb = centre(b), nearer = t < 0.5 ? a : b, c = centre(nearer);
  return move({ polygon: points(nearer) }, ca[0] + (cb[0] - ca[0]) * t - c[0], ca[1] + (cb[1] - ca[1]) * t - c[1]);
}

/**
 * toward is the place a share of the way from one to another.
 * @param {Point} a
 * @param {Point} b
 * @param {number} t
 */
const toward = (a, b, t) => point(a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t);

/**
 * alike turns the order of an outline's corners to that of another of as many.
 * @param {Point[]} p
 * @param {Point[]} q
 */
function alike(p, q) {
  if (p.length !== q.length) return q;
  const cp = centre({ polygon: p }), cq = centre({ polygon: q });
  /** @param {number} r */
  const off = (r) => p.reduce((sum, v, i) => {
    const w = q[(i + r) % q.length];
    return sum + Math.hypot(v[0] - cp[0] - w[0] + cq[0], v[1] - cp[1] - w[1] + cq[1]);
  }, 0);
  let best = 0;
  for (let r = 1; r < q.length; r++) if (off(r) < off(best)) best = r;
  return q.map((_, i) => q[(i + best) % q.length]);
}

/**
 * fit keeps a shape inside the photo.
 * @param {Shape} s
 * @param {number} width
 * @param {number} height
 * @returns {Shape}
 */
export function fit(s, width, height) {
  const b = bounds(s);
  const dx = Math.max(0, -b.x0) + Math.min(0, width - b.x1);
  const dy = Math.max(0, -b.y0) + Math.min(0, height - b.y1);
  if (!dx && !dy) return s;
  if (b.x1 - b.x0 > width || b.y1 - b.y0 > height) {
    return { polygon: points(s).map((q) => clamp(q, width, height)) };
  }
  return move(s, dx, dy);
}

/**
 * clamp is the place of the photo that is nearest.
 * @param {Point} at
 * @param {number} width
 * @param {number} height
 */
export const clamp = ([x, y], width, height) => point(Math.min(width, Math.max(0, x)), Math.min(height, Math.max(0, y)));
