// @ts-check
// What is wrong with an input, said at it.
import { button, el } from './dom.js';
import { sentence } from './words.js';

/** @import { Fault } from '../server/api.js' */
/** @import { Input } from './dom.js' */

/**
 * tellFault says at an input what is wrong with it, and offers what may be meant.
 * Without a fault it takes back what was said.
 * @param {Input} at
 * @param {Fault | null} fault
 */
export function tellFault(at, fault) {
  const id = `${at.id}-fault`, note = document.getElementById(`${at.id}-note`);
  const text = fault ? JSON.stringify([fault.what, fault.answers]) : '';
  const old = document.getElementById(id);
  if ((old?.dataset.text ?? '') === text) return;
  old?.remove();
  if (!fault) {
    at.removeAttribute('aria-invalid');
    if (note) at.setAttribute('aria-describedby', note.id);
    else at.removeAttribute('aria-describedby');
    return;
  }
  const answers = fault.answers.map((a) => button(a.says, () => choose(at, a.text)));
  at.after(el('span', { id, class: 'fault', 'data-text': text }, sentence(fault.what),
    answers.length ? el('span', { class: 'row' }, ...answers) : null));
  at.setAttribute('aria-invalid', 'true');
  at.setAttribute('aria-describedby', note ? `${id} ${note.id}` : id);
}

/**
 * choose puts an answer into the input that was asked about.
 * @param {Input} at
 * @param {string} text
 */
function choose(at, text) {
  at.value = text;
  at.focus();
  at.dispatchEvent(new Event('input', { bubbles: true }));
}
