// @ts-check
// A question that a person answers with yes or no.
import { $ } from './dom.js';

/** @type {(answer: boolean) => void} */
let answered = () => {};

/**
 * ask shows a question and answers true or false. It takes the place of one that
 * was not answered yet, which is then answered with no.
 * @param {string} title
 * @param {Node[]} body
 * @param {string} yes
 * @returns {Promise<boolean>}
 */
export function ask(title, body, yes) {
  answered(false);
  $('ask-title').textContent = title;
  $('ask-text').replaceChildren(...body);
  $('ask-yes').textContent = yes;
  const dialog = $('ask', HTMLDialogElement);
  if (!dialog.open) dialog.showModal();
  return new Promise((resolve) => {
    answered = resolve;
    /** @param {boolean} answer */
    const done = (answer) => () => { resolve(answer); dialog.close(); };
    $('ask-yes').onclick = done(true);
    $('ask-no').onclick = done(false);
    dialog.onclose = () => { if (!dialog.open) resolve(false); };
  });
}
