// Small helpers for building the page.

export const $ = (id) => document.getElementById(id);

// el makes an element: el('p', {class: 'quiet'}, 'text', child, ...).
export function el(name, attributes = {}, ...children) {
  const e = document.createElement(name);
  for (const [k, v] of Object.entries(attributes)) {
    if (k.startsWith('on')) e.addEventListener(k.slice(2), v);
    else if (v === true) e.setAttribute(k, '');
    else if (v !== false && v !== null && v !== undefined) e.setAttribute(k, v);
  }
  e.append(...children.filter((c) => c !== null && c !== undefined));
  return e;
}

let fields = 0;

// field is a labelled input; more are further attributes of the input.
export function field(label, name, more = {}, note = '') {
  const id = `field-${++fields}`;
  const input = el('input', { id, name, type: 'text', autocomplete: 'off', spellcheck: 'false', ...more, ...(note ? { 'aria-describedby': `${id}-note` } : {}) });
  return el('p', { class: 'field' }, el('label', { for: id }, label), input, note ? el('span', { id: `${id}-note`, class: 'quiet' }, note) : null);
}

let answered = () => {};

// ask shows a question and answers true or false. It takes the place of one that
// was not answered yet, which is then answered with no.
export function ask(title, body, yes) {
  answered(false);
  $('ask-title').textContent = title;
  $('ask-text').replaceChildren(...body);
  $('ask-yes').textContent = yes;
  const dialog = $('ask');
  if (!dialog.open) dialog.showModal();
  return new Promise((resolve) => {
    answered = resolve;
    const done = (answer) => () => { resolve(answer); dialog.close(); };
    $('ask-yes').onclick = done(true);
    $('ask-no').onclick = done(false);
    dialog.onclose = () => { if (!dialog.open) resolve(false); };
  });
}
