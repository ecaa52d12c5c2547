// @ts-check
// What the page says.

/**
 * sentence is a text with a capital and a full stop.
 * @param {string} text
 */
export function sentence(text) {
  const s = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(s) ? s : `${s}.`;
}

/**
 * told is what was thrown, in a sentence.
 * @param {unknown} e
 */
export function told(e) {
  return sentence(e instanceof Error ? e.message : String(e));
}
