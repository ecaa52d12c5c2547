// Calls by eye: the server holds the order, the clock and the calls; this page
// shows one pad and sends what is called. Addresses are relative: the page's own
// carries the token.
import { $ } from '../common/dom.js';
import { View, unit } from './pad.js';

let state = null;
let view = null;
let busy = false;

class Refusal extends Error {
  constructor(message, status) {
    super(message);
    this.status = status;
  }
}

async function ask(path, body) {
  let answer;
  try {
    answer = await fetch(path, body === undefined ? {} : { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body) });
  } catch {
    throw new Refusal('padband does not answer: is it still running? Start it again with the same command; what was called is kept', 0);
  }
  const told = await answer.json().catch(() => null);
  if (!answer.ok) throw new Refusal((told && told.error) || `padband refused this (${answer.status})`, answer.status);
  return told;
}

const sentence = (text) => `${text[0].toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? '' : '.'}`;

function tell(error) {
  $('problem').textContent = error ? sentence(error.message) : '';
  if (error) $('problem').scrollIntoView({ block: 'nearest' });
}

function part(name) {
  for (const p of ['start', 'pad', 'end']) $(`${p}-part`).hidden = p !== name;
  $('whole-open').hidden = name !== 'pad' || Boolean(state.problem);
}

// work does one thing at a time, and says what goes wrong. A call that came too
// late, from a second press or another tab, shows the pad whose turn it is.
async function work(what) {
  if (busy) return;
  busy = true;
  document.body.classList.add('busy');
  try {
    await what();
  } catch (e) {
    if (e.status === 409) await show(await ask('api/pad'), true).catch(tell);
    tell(e);
  } finally {
    busy = false;
    document.body.classList.remove('busy');
  }
}

// show puts a state on the page: the beginning, a pad, or the end.
async function show(next, begun) {
  state = next;
  $('count').textContent = state.reader;
  if (!state.pad) return end();
  if (!begun && !state.begun) return begin();
  await showPad();
}

function begin() {
  $('start-reader').textContent = `Calls of ${state.reader}: ${state.at} of ${state.of} made.`;
  part('start');
}

// showPad shows a pad when all its pictures are there, and only then is it timed.
async function showPad() {
  view = new View(state, () => {
    tell(null);
    view.show();
  });
  $('yours').textContent = '';
  const pictures = view.build();
  try {
    await Promise.all(pictures.map((p) => p.decode()));
  } catch {
    throw new Refusal('the pictures did not come; reload the page', 0);
  }
  part('pad');
  $('count').textContent = `pad ${state.at + 1} of ${state.of}, ${state.reader}`;
  tell(null);
  $('back').disabled = !state.back;
  await ask(`api/pads/${state.at}/shown`, {});
  scrollTo(0, 0);
  $('pad-title').focus({ preventScroll: true });
  document.title = `padband: ${state.pad.analyte}${unit(state.pad) ? `, ${unit(state.pad)}` : ''}`;
}

function end() {
  $('end-title').textContent = state.of === 1 ? '1 call is made' : `${state.of} calls are made`;
  $('end-file').textContent = state.file;
  $('end-compare').textContent = `padband compare ${state.file} OTHER.csv`;
  $('end-back').hidden = !state.back;
  part('end');
  tell(null);
  $('end-title').focus();
}

$('begin').onclick = () => work(() => showPad());

$('call').onsubmit = (e) => {
  e.preventDefault();
  work(async () => {
    const call = view.call();
    if (!call) throw new Refusal('choose a swatch, between two, or type a number; or say that you cannot call it', 422);
    const { kind, value, text } = call;
    await show(await ask(`api/pads/${state.at}/call`, { kind, value, text }), true);
  });
};

$('back').onclick = $('end-back').onclick = () => work(async () => show(await ask('api/back', {}), true));

$('whole-open').onclick = () => {
  $('whole-photo').src = `api/pads/${state.at}/photo`;
  $('whole').showModal();
};
$('whole-close').onclick = () => $('whole').close();
$('whole-size').onclick = () => {
  const large = $('whole-frame').classList.toggle('large');
  $('whole-size').setAttribute('aria-pressed', String(large));
};

work(async () => show(await ask('api/pad'), false));
