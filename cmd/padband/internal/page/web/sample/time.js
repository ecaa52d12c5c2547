// @ts-check
// Times as a person types them, and as the files have them: with their offset from UTC.

/** @param {number} n */
const two = (n) => String(n).padStart(2, '0');

/**
 * local is a time of the clock on the wall, as an input takes it.
 * @param {Date} d
 */
export function local(d) {
  const day = `${d.getFullYear()}-${two(d.getMonth() + 1)}-${two(d.getDate())}`;
  return `${day}T${two(d.getHours())}:${two(d.getMinutes())}:${two(d.getSeconds())}`;
}

/**
 * typedPart is a time of a file without its offset, as an input takes it.
 * @param {string} [stamped]
 */
export const typedPart = (stamped = '') => stamped.slice(0, 'yyyy-mm-ddThh:mm:ss'.length);

/**
 * stamp is a typed time with its offset, as the files have it; a time that was
 * there before and is the same keeps its own.
 * @param {string} typed
 * @param {string} [before]
 */
export function stamp(typed, before = '') {
  const whole = typed.length === 'yyyy-mm-ddThh:mm'.length ? `${typed}:00` : typed;
  if (before && typedPart(before) === whole) return before;
  const d = new Date(typed), off = -d.getTimezoneOffset();
  return `${local(d)}${off < 0 ? '-' : '+'}${two(Math.floor(Math.abs(off) / 60))}:${two(Math.abs(off) % 60)}`;
}
