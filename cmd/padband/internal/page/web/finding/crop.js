// @ts-check
// A small picture of a mark, cut from the person's own photo, with the outline on it.
import { bounds, points } from '../marking/shape.js';
import { el } from '../common/dom.js';
import * as api from '../server/api.js';

/** @import { Photo } from '../server/api.js' */
/** @import { Region } from '../state/files.js' */

const NS = 'http://www.w3.org/2000/svg';
const around = 1.5; // how much wider the picture is than the mark, as in the report
const wide = 160; // pixels

/**
 * crop is the picture.
 * @param {Photo} photo
 * @param {Region} r
 * @param {string} alt
 */
export function crop(photo, r, alt) {
  const { x, y, side } = square(photo, r);
  const img = el('img', { src: api.part(photo.id, x, y, side, side, wide), alt, width: wide, height: wide, draggable: 'false' });
  const svg = document.createElementNS(NS, 'svg');
  svg.setAttribute('viewBox', `${x} ${y} ${side} ${side}`);
  svg.setAttribute('aria-hidden', 'true');
  for (const kind of ['casing', 'line']) svg.append(outline(r, kind));
  return el('span', { class: 'crop' }, img, svg);
}

/**
 * square is the part of the photo that is shown of a mark, within the photo.
 * @param {Photo} photo
 * @param {Region} r
 */
function square({ width, height }, r) {
  const b = bounds(r.shape), side = Math.min(width, height, around * Math.max(b.x1 - b.x0, b.y1 - b.y0));
  /**
   * @param {number} from
   * @param {number} to
   * @param {number} room
   */
  const at = (from, to, room) => Math.max(0, Math.min((from + to - side) / 2, room - side));
  return { x: at(b.x0, b.x1, width), y: at(b.y0, b.y1, height), side };
}

/**
 * @param {Region} r
 * @param {string} kind
 */
function outline(r, kind) {
  const p = document.createElementNS(NS, 'polygon');
  p.setAttribute('points', points(r.shape).map((q) => q.join(',')).join(' '));
  p.setAttribute('class', `crop-${kind}`);
  return p;
}
