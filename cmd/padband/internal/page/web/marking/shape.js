// Marked regions as the marks file has them: {polygon}, {rect} or {circle}, in
// pixels of the upright photo. A region that nobody touched stays as it was read.

const round = (v) => Math.round(v * 10) / 10;
export const point = (x, y) => [round(x), round(y)];

export function box(a, b) {
  const [x0, x1] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
  const [y0, y1] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
  return { polygon: [point(x0, y0), point(x1, y0), point(x1, y1), point(x0, y1)] };
}

// points are the outline, for drawing and for handles.
export function points(s) {
  if (s.polygon) return s.polygon;
  if (s.rect) {
    const [x, y, w, h] = s.rect;
    return [[x, y], [x + w, y], [x + w, y + h], [x, y + h]];
  }
  const [cx, cy, r] = s.circle;
  return Array.from({ length: 24 }, (_, i) => [cx + r * Math.cos(i * Math.PI / 12), cy + r * Math.sin(i * Math.PI / 12)]);
}

// handles are the points a person can drag.
export function handles(s) {
  return s.circle ? [0, 6, 12, 18].map((i) => points(s)[i]) : points(s);
}

export function bounds(s) {
  const p = points(s);
  const xs = p.map((q) => q[0]), ys = p.map((q) => q[1]);
  return { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
}

export function centre(s) {
  const b = bounds(s);
  return [(b.x0 + b.x1) / 2, (b.y0 + b.y1) / 2];
}

export function move(s, dx, dy) {
  if (s.circle) return { circle: [...point(s.circle[0] + dx, s.circle[1] + dy), s.circle[2]] };
  if (s.rect) return { rect: [...point(s.rect[0] + dx, s.rect[1] + dy), s.rect[2], s.rect[3]] };
  return { polygon: s.polygon.map(([x, y]) => point(x + dx, y + dy)) };
}

export function grow(s, factor) {
  const [cx, cy] = centre(s);
  if (s.circle) return { circle: [s.circle[0], s.circle[1], Math.max(3, round(s.circle[2] * factor))] };
  return { polygon: points(s).map(([x, y]) => point(cx + (x - cx) * factor, cy + (y - cy) * factor)) };
}

// drag puts one handle elsewhere. A box keeps its sides upright.
export function drag(s, index, to) {
  if (s.circle) return { circle: [s.circle[0], s.circle[1], Math.max(3, round(Math.hypot(to[0] - s.circle[0], to[1] - s.circle[1])))] };
  const p = points(s);
  if (upright(p)) return box(p[(index + 2) % 4], to);
  return { polygon: p.map((q, i) => (i === index ? point(...to) : q)) };
}

function upright(p) {
  return p.length === 4 && p.every((q, i) => q[0] === p[(i + 1) % 4][0] || q[1] === p[(i + 1) % 4][1]);
}

export function contains(s, [x, y]) {
  const p = points(s);
  let inside = false;
  for (let i = 0, j = p.length - 1; i < p.length; j = i++) {
    if ((p[i][1] > y) !== (p[j][1] > y) && x < ((p[j][0] - p[i][0]) * (y - p[i][1])) / (p[j][1] - p[i][1]) + p[i][0]) inside = !inside;
  }
  return inside;
}

// between is the shape a share of the way from one to another, both as polygons
// of as many corners; otherwise the first's shape about the place between.
export function between(a, b, t) {
  const p = points(a), q = alike(p, points(b));
  if (p.length === q.length) return { polygon: p.map((v, i) => point(v[0] + (q[i][0] - v[0]) * t, v[1] + (q[i][1] - v[1]) * t)) };
  const ca = centre(a), cb = centre(b), from = t < 0.5 ? a : b, c = centre(from);
  return move({ polygon: points(from) }, ca[0] + (cb[0] - ca[0]) * t - c[0], ca[1] + (cb[1] - ca[1]) * t - c[1]);
}

// alike turns the order of an outline's corners to that of another of as many.
function alike(p, q) {
  if (p.length !== q.length) return q;
  const cp = centre({ polygon: p }), cq = centre({ polygon: q });
  const off = (r) => p.reduce((sum, v, i) => { const w = q[(i + r) % q.length]; return sum + Math.hypot(v[0] - cp[0] - w[0] + cq[0], v[1] - cp[1] - w[1] + cq[1]); }, 0);
  let best = 0;
  for (let r = 1; r < q.length; r++) if (off(r) < off(best)) best = r;
  return q.map((_, i) => q[(i + best) % q.length]);
}

// fit keeps a shape inside the photo.
export function fit(s, width, height) {
  const b = bounds(s);
  const dx = Math.max(0, -b.x0) + Math.min(0, width - b.x1);
  const dy = Math.max(0, -b.y0) + Math.min(0, height - b.y1);
  if (!dx && !dy) return s;
  if (b.x1 - b.x0 > width || b.y1 - b.y0 > height) {
    return { polygon: points(s).map(([x, y]) => point(Math.min(width, Math.max(0, x)), Math.min(height, Math.max(0, y)))) };
  }
  return move(s, dx, dy);
}
