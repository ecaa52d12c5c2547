// @ts-check
// The marking page: from a photo to a reading. What it shows is drawn from one
// state, the store, by its parts: each in the folder of its subject.
import { Colours } from './chart/colours.js';
import { ChartPick } from './chart/pick.js';
import { Remember } from './chart/remember.js';
import { $, say } from './common/dom.js';
import { told } from './common/words.js';
import { Find } from './finding/find.js';
import { LookAt } from './finding/look.js';
import { WhoLooked } from './finding/looked.js';
import { Keep } from './keeping/record.js';
import { Save } from './keeping/save.js';
import { Show } from './keeping/show.js';
import { Keys } from './marking/keys.js';
import { List } from './marking/list.js';
import { Marking } from './marking/marking.js';
import { Next } from './marking/next.js';
import { Pointer } from './marking/pointer.js';
import { Lens } from './photo/lens.js';
import { NoteBox } from './photo/note.js';
import { Open } from './photo/open.js';
import { Overlay } from './photo/overlay.js';
import { View } from './photo/view.js';
import { Against } from './reading/against.js';
import { Reading } from './reading/reading.js';
import { Dip } from './sample/dip.js';
import { Sample } from './sample/form.js';
import { Look } from './sample/look.js';
import * as api from './server/api.js';
import { draft, keepDraft } from './state/draft.js';
import { empty } from './state/files.js';
import { shotOf } from './state/shots.js';
import { Store } from './state/store.js';
import { Due } from './strip/due.js';
import { Shots } from './strip/shots.js';

/** @import { Photo, Start } from './server/api.js' */
/** @import { Draft } from './state/draft.js' */

const stage = $('stage');
const store = new Store();
const view = new View(stage, $('preview', HTMLImageElement), $('sharp', HTMLImageElement));
new Overlay($('overlay', SVGSVGElement), store, view);
const marking = new Marking(store, view);
const pointer = new Pointer(stage, store, view, marking, new Lens($('lens'), $('lens-near'), $('lens-sharp'), view));
new NoteBox($('note'), store, view);
const against = new Against(store);
const shots = new Shots(store, view);
new Reading(store, marking, against, new Sample(store, marking), (id) => shots.open(id));
const pick = new ChartPick(store, () => against.again(), fail);
new Colours(store);
const save = new Save(store);
const keep = new Keep(store);
new Show(store);
new Open(store, { take: takePhoto, fail, unsaved: () => keep.unsaved });
new Keys(stage, store, view, marking, pointer);
const dip = new Dip(store);
new Due(store, dip);
const look = new Look(store);
const find = new Find(store, marking);
new LookAt(store, find);
new List(store, marking);
new Next(store, view, marking, pointer);
new WhoLooked(store, find, new Remember(store, fail));

/** @param {unknown} e */
function fail(e) {
  store.problem = told(e);
  store.tell('told');
}

/**
 * takePhoto begins with a photo, or goes on with what was marked in it before the
 * page was loaded again.
 * @param {Photo} photo
 * @param {Draft | null} [before]
 * @param {Photo[]} [others] further photos of its strip
 */
function takePhoto(photo, before = null, others = []) {
  store.begin(photo);
  pick.photo();
  save.photo();
  keep.photo();
  view.show(photo);
  store.load(photo.marks);
  dip.photo(photo);
  look.photo(photo);
  pick.begin();
  stage.focus({ preventScroll: true });
  if (before) goOn(before, others);
}

/**
 * @param {Draft} before
 * @param {Photo[]} others
 */
function goOn(before, others) {
  const { shot } = store, strip = before.strip || [];
  const all = strip.map(({ photo, doc }) => {
    const other = others.find((p) => p.id === photo);
    return photo === before.photo ? shot : other ? shotOf(other, { ...empty(), ...doc }) : null;
  });
  if (all.includes(shot)) store.shots = all.flatMap((s) => s || []);
  if (all.includes(null)) fail('a photo of this strip is no longer open here; choose it again');
  store.again(before);
  if (!before.chart) return store.tell('doc');
  pick.before = before.chart.chart;
  pick.take(before.chart);
}

/**
 * photoOf is the photo that the page begins with: that of the draft while it is open.
 * @param {Start} s
 * @param {Draft | null} before
 */
async function photoOf(s, before) {
  if (!before || s.photo?.id === before.photo) return s.photo;
  return api.photoAgain(before.photo).catch(() => s.photo);
}

/**
 * othersOf are the further photos of a strip that are still open.
 * @param {Draft} before
 */
async function othersOf({ photo, strip = [] }) {
  const all = await Promise.all(strip.filter((s) => s.photo !== photo).map((s) => api.photoAgain(s.photo).catch(() => null)));
  return all.flatMap((p) => p || []);
}

// draw says what goes wrong beside what it is about: the choice of a photo, or the photo's marks.
function draw() {
  const problem = $('problem'), panel = document.querySelector('.panel'), first = store.photo && problem.parentElement !== panel;
  document.body.classList.toggle('busy', store.busy > 0);
  if (first) panel?.prepend(problem);
  else if (!store.photo && store.problem) $('start-part').append(problem);
  say(problem, store.problem);
}
store.on((what) => { if (what !== 'over') draw(); });

for (const id of ['help', 'share']) {
  const dialog = $(id, HTMLDialogElement);
  $(`${id}-open`).onclick = () => dialog.showModal();
  $(`${id}-close`).onclick = () => dialog.close();
}

/** @param {Start} s */
function share(s) {
  if (!s.shared || !s.address) return;
  $('share-open').hidden = false;
  $('share-address').textContent = s.address;
  $('share-address', HTMLAnchorElement).href = s.address;
  const code = new DOMParser().parseFromString(s.qr || '', 'image/svg+xml').documentElement;
  if (code.nodeName === 'svg') $('share-code').append(document.importNode(code, true));
}

try {
  const s = await api.start();
  keep.asks(s.keep);
  against.begin(s.sets, s.ask || []);
  if (s.finds) find.begin();
  $('save-where').textContent = `Save writes marks, chart and reading, and a photo that came through this page, into: ${s.folder}`;
  share(s);
  const before = draft(), photo = await photoOf(s, before);
  keepDraft(store);
  if (photo && photo.id === before?.photo) takePhoto(photo, before, await othersOf(before));
  else if (photo) takePhoto(photo);
} catch (e) {
  fail(e);
}
