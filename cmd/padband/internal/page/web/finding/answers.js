// @ts-check
// The words on the buttons that answer a question about outlines.

import { differing } from './outlines.js';

/** @import { Choice, Question } from '../server/api.js' */

/** @type {Record<string, string>} by what an answer says */
const plain = {
  'as-shown': 'Yes', turned: 'Turn round', other: 'Other row', without: 'Leave it out', 'none-of-all': 'By hand',
};

/** @type {Record<string, string>} where the question asks which, and the answer's own text tells it */
const which = { 'as-shown': 'As shown', turned: 'Turn round', other: 'Other row' };

/** @type {Record<string, Record<string, string>>} by the question and what an answer says */
const own = {
  'strip-missing': { 'as-shown': 'Yes, as shown', other: 'Yes, but elsewhere', without: 'No strip in this photo' },
  'patch-missing': { other: 'No, it is elsewhere', without: 'No, leave it out' },
  place: { 'as-shown': 'The one that is outlined', other: 'Another one' },
};

/**
 * answerWords are the words of an answer's button.
 * @param {Question} q
 * @param {Choice} c
 */
export function answerWords(q, c) {
  const asksWhich = !own[q.code] && which[c.code] && c.text;
  if (asksWhich) return `${which[c.code]}: ${c.text.charAt(0).toLowerCase()}${c.text.slice(1)}`;
  return own[q.code]?.[c.code] || plain[c.code] || c.text;
}

/**
 * doubtful are the names of the patches that a question is about, where it is about
 * single patches: those that another answer has elsewhere, or not at all.
 * @param {Question} q
 * @returns {Set<string>}
 */
export function doubtful(q) {
  const [first, ...others] = q.answers;
  return new Set(q.code === 'patch-missing' ? others.flatMap((c) => differing(first.marks, c.marks)) : []);
}
