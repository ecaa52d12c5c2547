// @ts-check
// Small helpers for building the page.

/**
 * An attribute of an element: true stands alone, false and nothing are left
 * out, and a function listens where the name begins with "on".
 * @typedef {string | number | boolean | null | undefined | ((event: Event) => unknown)} Attribute
 * @typedef {Node | string | null | undefined} Child
 * @typedef {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} Input
 */

/**
 * $ is the page's element of an id. The kind is named where more is used of it
 * than every element has.
 * @template {Element} [T=HTMLElement]
 * @param {string} id
 * @param {new () => T} [kind]
 * @returns {T}
 */
export function $(id, kind) {
  const e = document.getElementById(id);
  if (!e || (kind && !(e instanceof kind))) throw new Error(`the page has no ${id}`);
  return /** @type {T} */ (/** @type {Element} */ (e));
}

/**
 * el makes an element: el('p', {class: 'quiet'}, 'text', child, ...).
 * @template {keyof HTMLElementTagNameMap} K
 * @param {K} name
 * @param {Record<string, Attribute>} [attributes]
 * @param {...Child} children
 * @returns {HTMLElementTagNameMap[K]}
 */
export function el(name, attributes = {}, ...children) {
  const e = document.createElement(name);
  for (const [k, v] of Object.entries(attributes)) {
    if (typeof v === 'function') e.addEventListener(k.slice('on'.length), v);
    else if (v === true) e.setAttribute(k, '');
    else if (v !== false && v !== null && v !== undefined) e.setAttribute(k, String(v));
  }
  e.append(...children.filter((c) => c !== null && c !== undefined));
  return e;
}

/**
 * button is a button with words on it.
 * @param {string} words
 * @param {(event: Event) => unknown} onclick
 * @param {Record<string, Attribute>} [more]
 */
export function button(words, onclick, more = {}) {
  return el('button', { type: 'button', onclick, ...more }, words);
}

let fields = 0;

/**
 * field is a labelled input; more are further attributes of the input.
 * @param {string} label
 * @param {string} name
 * @param {Record<string, Attribute>} [more]
 * @param {string} [note]
 */
export function field(label, name, more = {}, note = '') {
  const id = `field-${++fields}`;
  const described = note ? { 'aria-describedby': `${id}-note` } : {};
  return el('p', { class: 'field' },
    el('label', { for: id }, label),
    el('input', { id, name, type: 'text', autocomplete: 'off', spellcheck: 'false', ...more, ...described }),
    note ? el('span', { id: `${id}-note`, class: 'quiet' }, note) : null);
}

/**
 * named is the input of a name in a form.
 * @param {HTMLFormElement} form
 * @param {string} name
 * @returns {Input}
 */
export function named(form, name) {
  const e = form.elements.namedItem(name);
  if (!isInput(e)) throw new Error(`the form has no ${name}`);
  return e;
}

/**
 * isInput is whether something is an input that a person types into or chooses from.
 * @param {unknown} e
 * @returns {e is Input}
 */
export function isInput(e) {
  return e instanceof HTMLInputElement || e instanceof HTMLSelectElement || e instanceof HTMLTextAreaElement;
}

/**
 * valueOf is what the input holds that an event is about.
 * @param {Event} event
 */
export function valueOf(event) {
  return isInput(event.target) ? event.target.value : '';
}

/**
 * say puts words on the page, unless they are there: what is read aloud would be read again.
 * @param {HTMLElement} e
 * @param {string} words
 */
export function say(e, words) {
  if (e.textContent !== words) e.textContent = words;
}
