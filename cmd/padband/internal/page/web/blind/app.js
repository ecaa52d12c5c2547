// @ts-check
// Calls by eye: the server holds the order, the clock and the calls; this page
// shows one pad and sends what is called. Addresses are relative: the page's own
// carries the token.
import { $, say } from '../common/dom.js';
import { told } from '../common/words.js';
import { call, json, Refusal } from '../server/call.js';
import { PadView, unitOf } from './pad.js';

/** @import { Turn } from './pad.js' */

const gone = 'Start it again with the same command; what was called is kept';
const late = 409; // the status of a call that is not for the pad whose turn it is
const unchosen = 'choose a swatch, between two, or type a number; or say that you cannot call it';

/** @typedef {'start' | 'pad' | 'end'} Part */

/** @type {{turn: Turn | null, part: Part | null, view: PadView | null, busy: boolean, problem: string, large: boolean}} */
const state = { turn: null, part: null, view: null, busy: false, problem: '', large: false };

/** @param {string} path */
const get = (path) => /** @type {Promise<Turn>} */ (call(path, {}, gone));

/**
 * @param {string} path
 * @param {unknown} body
 */
const post = (path, body) => /** @type {Promise<Turn>} */ (call(path, json(body), gone));

/** @param {string} problem */
function tell(problem) {
  state.problem = problem;
  draw();
  if (problem) $('problem').scrollIntoView({ block: 'nearest' });
}

/** @param {Part} part */
function go(part) {
  state.part = part;
  draw();
}

// draw puts the state on the page.
function draw() {
  const { turn, part, busy, problem, large } = state;
  document.body.classList.toggle('busy', busy);
  say($('problem'), problem);
  $('whole-frame').classList.toggle('large', large);
  $('whole-size').setAttribute('aria-pressed', String(large));
  if (!turn) return;
  for (const p of ['start', 'pad', 'end']) $(`${p}-part`).hidden = p !== part;
  $('whole-open').hidden = part !== 'pad' || Boolean(turn.problem);
  $('count').textContent = part === 'pad' ? `pad ${turn.at + 1} of ${turn.of}, ${turn.reader}` : turn.reader;
  $('start-reader').textContent = `Calls of ${turn.reader}: ${turn.at} of ${turn.of} made.`;
  $('back', HTMLButtonElement).disabled = !turn.back;
  $('end-title').textContent = turn.of === 1 ? '1 call is made' : `${turn.of} calls are made`;
  $('end-file').textContent = turn.file;
  $('end-compare').textContent = `padband compare ${turn.file} OTHER.csv`;
  $('end-back').hidden = !turn.back;
}

/**
 * work does one thing at a time, and says what goes wrong. A call that came too
 * late, from a second press or another tab, shows the pad whose turn it is.
 * @param {() => Promise<void>} what
 */
async function work(what) {
  if (state.busy) return;
  state.busy = true;
  draw();
  try {
    await what();
  } catch (e) {
    if (e instanceof Refusal && e.status === late) await showAgain();
    tell(told(e));
  } finally {
    state.busy = false;
    draw();
  }
}

/**
 * show puts a turn on the page: the beginning, a pad, or the end.
 * @param {Turn} turn
 * @param {boolean} begun
 */
async function show(turn, begun) {
  state.turn = turn;
  if (!turn.pad) return end();
  if (!begun && !turn.begun) return go('start');
  await showPad();
}

// showAgain shows the pad whose turn it is.
async function showAgain() {
  try {
    await show(await get('api/pad'), true);
  } catch (e) {
    tell(told(e));
  }
}

// showPad shows a pad when all its pictures are there, and only then is it timed.
async function showPad() {
  const { turn } = state;
  if (!turn?.pad) return;
  const view = new PadView(turn, turn.pad, () => {
    tell('');
    view.draw();
  });
  state.view = view;
  try {
    await Promise.all(view.build().map((p) => p.decode()));
  } catch {
    throw new Refusal('the pictures did not come; reload the page', 0);
  }
  go('pad');
  tell('');
  await post(`api/pads/${turn.at}/shown`, {});
  scrollTo(0, 0);
  $('pad-title').focus({ preventScroll: true });
  const unit = unitOf(turn.pad);
  document.title = `padband: ${turn.pad.analyte}${unit ? `, ${unit}` : ''}`;
}

function end() {
  go('end');
  tell('');
  $('end-title').focus();
}

// send calls the pad as it is chosen.
async function send() {
  const made = state.view?.call();
  if (!made) throw new Refusal(unchosen, 422);
  const { kind, value, text } = made;
  await show(await post(`api/pads/${state.turn?.at}/call`, { kind, value, text }), true);
}

$('begin').onclick = () => work(showPad);
$('call').onsubmit = (e) => {
  e.preventDefault();
  work(send);
};
$('back').onclick = $('end-back').onclick = () => work(async () => show(await post('api/back', {}), true));

const whole = $('whole', HTMLDialogElement);
$('whole-open').onclick = () => {
  $('whole-photo', HTMLImageElement).src = `api/pads/${state.turn?.at}/photo`;
  whole.showModal();
};
$('whole-close').onclick = () => whole.close();
$('whole-size').onclick = () => {
  state.large = !state.large;
  draw();
};

work(async () => show(await get('api/pad'), false));
