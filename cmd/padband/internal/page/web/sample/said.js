// @ts-check
// The questions about light and water, each answered with one tap.
import { el } from '../common/dom.js';

/**
 * A question: what its answers are named, what is asked, and each answer as the
 * files have it with its words. An empty answer is not said.
 * @typedef {{name: string, asks: string, answers: [string, string][]}} Question
 */

/** @type {Question} */
export const light = {
  name: 'light', asks: 'What light is on it?', answers: [
    ['daylight', 'Daylight from a window'], ['lamp', 'A lamp'], ['tube', 'A tube or ring lamp'], ['flash', "The phone's flash"],
    ['', 'Mixed, or not sure'],
  ],
};

/** @type {Question} */
export const water = {
  name: 'water', asks: 'How does the water look in a white cup, from above?', answers: [
    ['clear', 'Clear'], ['tint', 'Like weak tea'], ['dark', 'Dyed'], ['cloudy', 'Cloudy'], ['', 'Did not look'],
  ],
};

/**
 * wetWhite says what is marked as a wet white, and what is not.
 */
export const wetWhite = 'It is the corner of a coffee filter or plain paper, soaked in the same water and laid on the same white. '
  + "The strip's bare plastic is none: water runs off it.";

/**
 * asked is a question with its answers and room for a note on what was answered.
 * @param {Question} question
 * @param {Record<string, string>} [more] the name of the answers, and what is asked, where they differ
 */
export function asked(question, { name = question.name, asks = question.asks } = {}) {
  const answers = question.answers.map(([value, words]) => el('label', { class: 'answer' },
    el('input', { type: 'radio', id: `${name}-${value || 'unsaid'}`, name, value }), words));
  return el('fieldset', { class: 'said' }, el('legend', {}, asks), el('div', { class: 'row' }, ...answers),
    el('p', { class: 'note-said', role: 'status' }));
}

/**
 * answer shows what was answered, with a note on it.
 * @param {HTMLFieldSetElement} at
 * @param {string} value
 * @param {string} [note]
 */
export function answer(at, value, note = '') {
  for (const e of at.querySelectorAll('input')) e.checked = e.value === value;
  const p = at.querySelector('p');
  if (p && p.textContent !== note) p.textContent = note;
}

/** @param {string} [value] */
export const noteOnWater = (value) => (value === 'cloudy' ? 'Let it stand two minutes: if it clears from below it was air.' : '');

/**
 * noteOnLight asks again about daylight at night, by the photo's own clock. A clock decides nothing.
 * @param {string} [value]
 * @param {string} [taken]
 */
export function noteOnLight(value, taken = '') {
  const clock = taken.slice('yyyy-mm-ddT'.length, 'yyyy-mm-ddThh:mm'.length), hour = Number(clock.slice(0, 2));
  if (value !== 'daylight' || !clock || (hour >= dawn && hour < dusk)) return '';
  return `The photo's own clock says ${clock}. Was it daylight?`;
}

const dawn = 4, dusk = 22; // hours between which nobody is asked again (common practice, no source)

/**
 * looked is what was said of the water, within a sentence.
 * @param {string} value
 */
export const looked = (value) => (water.answers.find(([v]) => v === value)?.[1] ?? value).toLowerCase();
