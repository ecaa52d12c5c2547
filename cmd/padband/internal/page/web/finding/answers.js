// @ts-check
// The words on the buttons that answer a question about outlines.

import { differing, nameOf } from './outlines.js';

/** @import { Choice, Question } from '../server/api.js' */

/** @type {Record<string, string>} by what an answer says */
const plain = {
  'as-shown': 'Yes', turned: 'Turn round', other: 'Other row', without: 'Leave it out', 'none-of-all': 'By hand',
};

/** where the question asks which, the answer's own text is on the button: there is no yes to tap unread */
const which = ['as-shown', 'turned', 'other'];

/** @type {Record<string, Record<string, string>>} by the question and what an answer says */
const own = {
  'strip-missing': { 'as-shown': 'Yes, as shown', other: 'Yes, but elsewhere', without: 'No strip in this photo' },
  'patch-missing': { 'as-shown': 'Where it is outlined', other: 'Elsewhere', without: 'Leave it out' },
  place: { 'as-shown': 'The one that is outlined', other: 'Another one' },
};

/**
 * answerWords are the words of an answer's button.
 * @param {Question} q
 * @param {Choice} c
 */
export function answerWords(q, c) {
  if (!own[q.code] && which.includes(c.code) && c.text) return c.text;
  return own[q.code]?.[c.code] || plain[c.code] || c.text;
}

/**
 * doubtful is the name of the patch that a question is about, where it is about one: the
 * first swatch, or pad, of its rows that another answer has elsewhere or not at all.
 * @param {Question} q
 * @returns {Set<string>}
 */
export function doubtful(q) {
  const [first, ...others] = q.answers;
  if (q.code !== 'patch-missing') return new Set();
  const names = new Set(others.flatMap((c) => differing(first.marks, c.marks)));
  const about = (first.marks.regions || []).filter((m) => names.has(nameOf(m)) && (!q.analytes || q.analytes.includes(m.analyte ?? '')));
  return new Set(about.sort((a, b) => Number(a.role === 'pad') - Number(b.role === 'pad')).slice(0, 1).map(nameOf));
}

/** @type {Record<string, string>} what a question asks, by its code */
const about = {
  direction: 'which end of a row is the lowest', rows: 'which row is which', 'strip-end': 'which end of the strip was dipped',
  'strip-missing': 'where the strip lies', 'patch-missing': 'where a patch lies that was not seen', place: 'whether all lies elsewhere',
};

/**
 * doubts say what nobody has answered, before the person looks; empty where nothing is open.
 * @param {string[]} codes of questions
 */
export function doubts(codes) {
  const open = [...new Set(codes)].map((c) => about[c] || c);
  return open.length ? `The program was not sure ${open.join(', and ')}. ` : '';
}
