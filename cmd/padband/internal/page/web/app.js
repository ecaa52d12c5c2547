// The page: from a photo to a reading.
import * as api from './server/api.js';
import { Against } from './reading/against.js';
import { ChartPick } from './chart/pick.js';
import { $, ask, el } from './common/dom.js';
import { Keep } from './keeping/record.js';
import { Keys } from './marking/keys.js';
import { Lens } from './photo/lens.js';
import { List } from './marking/list.js';
import { Marking, sentence } from './marking/marking.js';
import { Overlay } from './photo/overlay.js';
import { Pointer } from './marking/pointer.js';
import { Reading } from './reading/reading.js';
import { Sample } from './sample/form.js';
import { Save } from './keeping/save.js';
import { centre } from './marking/shape.js';
import { cornerOf, Store } from './state/store.js';
import { current, key, previous } from './marking/steps.js';
import { View } from './photo/view.js';

const store = new Store();
const view = new View($('stage'), $('preview'), $('sharp'));
const overlay = new Overlay($('overlay'), store, view);
const marking = new Marking(store, view, overlay, tell);
const lens = new Lens($('lens'), $('lens-near'), $('lens-sharp'), view);
const pointer = new Pointer($('stage'), store, view, overlay, marking, lens);
const reading = new Reading(store, overlay);
const against = new Against(() => reading.changed());
reading.against = against;
const pick = new ChartPick(store, takeChart, fail);
const save = new Save(store);
const keep = new Keep(store);
new Keys($('stage'), store, view, overlay, marking, pointer, tell);
new Sample(store);
new List(store, view, marking);

function fail(e) { $('problem').textContent = sentence(e.message); showProblem(); }
function showProblem() { if (!store.photo) $('start-part').append($('problem')); }

let told = '';
function tell(text) { told = text; refresh(); }

// --- the photo

// unsaved asks the store, once it has what is still being typed, and the record's
// form for what only a record would hold.
function unsaved() {
  const at = document.activeElement;
  if (at && at.form) {
    at.blur(); // which tells of a change
    at.focus({ preventScroll: true });
  }
  return store.unsaved || keep.unsaved;
}

// mayLeave asks, where something would be lost.
const mayLeave = async () => !unsaved() || ask('Leave this photo?', [el('p', {}, store.unsaved ? 'Marks that were not saved are lost.' : 'What was said and added for a record that is not kept is lost.')], 'Open the other photo');

async function open(file) {
  if (!file) return;
  if (!(await mayLeave())) return;
  const left = store.version();
  document.body.classList.add('busy');
  $('problem').textContent = '';
  try {
    const photo = await api.send(file);
    if (store.version() === left || (await mayLeave())) takePhoto(photo);
  } catch (e) {
    fail(e);
  } finally {
    document.body.classList.remove('busy');
  }
}

function takePhoto(photo) {
  store.photo = photo;
  store.use(photo.chart || store.chart);
  before = store.chart ? store.chart.chart : '';
  store.remembering = false;
  told = '';
  document.body.dataset.part = 'work';
  $('start-part').hidden = true;
  $('work-part').hidden = false;
  $('other-photo').hidden = false;
  $('photo-name').textContent = photo.name;
  document.querySelector('.panel').prepend($('problem'));
  $('reading').replaceChildren();
  store.complete = false;
  save.photo();
  keep.photo();
  photoNotes(photo);
  view.show(photo);
  store.load(photo.marks);
  if (photo.chart || (store.chart && !photo.marks)) takeChart(store.chart);
  else askForChart();
  $('stage').focus({ preventScroll: true });
}

function photoNotes(p) {
  const lines = [`${p.format}, ${p.width} x ${p.height}, colours: ${p.profile}; ${p.came}.`];
  if (p.taken) lines.push(`Taken ${p.taken.replace('T', ' ')}.`);
  lines.push(...(p.notes || []).map(sentence));
  if (p.marks_problem) lines.push(sentence(p.marks_problem));
  const kids = [el('details', {}, el('summary', {}, 'About this photo'), ...lines.map((t) => el('p', {}, t)))];
  if (p.marks_problem) kids[0].open = true;
  if (p.position) kids.unshift(el('p', { class: 'position' }, 'This photo carries the place where it was taken. Think of that before you hand it on.'));
  $('photo-notes').replaceChildren(...kids);
}

// --- the chart

let before = ''; // the name of the chart that was chosen last

function askForChart() {
  store.use(null);
  $('result-part').hidden = true;
  pick.open();
  refresh();
}

function takeChart(chart) {
  against.again();
  const other = before && before !== chart.chart;
  before = chart.chart;
  store.use(chart);
  $('chart-part').hidden = true;
  $('result-part').hidden = false;
  $('sample-part').hidden = false;
  $('marks-part').hidden = false;
  $('plan-link').href = api.plan(chart.chart);
  if (other) store.change((d) => { d.regions = d.regions.filter((r) => r.role === 'white'); d.skipped = []; d.curved = []; d.byHand = false; });
  else store.tell('doc');
}

// --- what is next

function refresh() {
  if (!store.photo) return;
  const step = store.chart ? current(store) : null;
  $('next').textContent = !store.chart ? 'Next: choose the chart that is in the photo' : step ? `Next: ${step.text}` : 'All is marked. See the reading, then save.';
  const selected = store.selected && !step ? 'Drag the mark or its corners to adjust it.' : '';
  $('hint').textContent = told || (step ? step.hint : store.chart ? selected : 'Pick it from the list, or describe it once.');
  $('back').hidden = !store.chart || !previous(store);
  $('skip').hidden = !step || (step.kind === 'white' && !step.optional);
  $('skip').textContent = !step ? 'Skip' : step.kind === 'white' ? 'Enough white' : step.kind === 'corner' ? 'Mark swatch by swatch' : `No ${step.analyte} on my strip`;
  material(step);
  $('undo').disabled = !store.past.length;
  $('redo').disabled = !store.future.length;
  $('delete').disabled = !store.selected;
  $('save-part').hidden = !store.chart || !store.doc.regions.length;
  if (store.remembering && store.doc.corners.length === 4) remember();
}

// material offers what kind of white the next one is.
function material(step) {
  $('material-part').hidden = !step || step.kind !== 'white';
}

$('material').append(...['paper', 'card', 'plastic'].map((c) => el('option', { value: c }, c)));
$('material').value = marking.material;
$('material').onchange = () => { marking.material = $('material').value; };

store.on((what) => {
  if (what === 'doc') {
    told = ''; // a change ends what was said before it
    reading.changed();
  }
  if (what && what.reveal) reveal(what.reveal);
  refresh();
});

function reveal(id) {
  const corner = cornerOf(id), r = store.region(id);
  if (corner !== null) view.reveal(store.doc.corners[corner]);
  else if (r) view.reveal(centre(r.shape));
  overlay.draw();
}

$('back').onclick = () => {
  const before = previous(store);
  if (!before) return;
  told = '';
  store.target = key(before);
  store.select(before.id || null);
  store.tell('target');
};
$('skip').onclick = () => { told = ''; marking.skip(); };

// --- tools

$('zoom-in').onclick = () => store.photo && view.zoom(1.5);
$('zoom-out').onclick = () => store.photo && view.zoom(1 / 1.5);
$('zoom-fit').onclick = () => view.fit();
$('undo').onclick = () => store.undo();
$('redo').onclick = () => store.redo();
$('delete').onclick = () => store.selected && store.remove(store.selected);
$('pan').onclick = () => {
  pointer.panning = !pointer.panning;
  $('pan').setAttribute('aria-pressed', String(pointer.panning));
};
$('other-chart').onclick = askForChart;
$('remember').onclick = () => {
  store.remembering = true;
  store.selected = null;
  if (store.doc.corners.length === 4) remember();
  else store.tell('target');
};

// remember writes where the swatches lie into the chart, for the next photo of it.
async function remember() {
  store.remembering = false;
  try {
    store.use((await api.layout(store.photo.id, store.marks(), store.chart)).chart);
    store.tell('chart');
    tell('The chart now knows where its swatches are: the next photo needs only its four corners. Save keeps that.');
    reading.changed();
  } catch (e) {
    fail(e);
  }
}

// --- dialogs, files, drops

for (const id of ['photo-file', 'photo-camera']) {
  $(id).onchange = (e) => { const f = e.target.files[0]; e.target.value = ''; open(f); };
}
$('other-photo').onclick = () => $('photo-file').click();
$('help-open').onclick = () => $('help').showModal();
$('help-close').onclick = () => $('help').close();
$('share-open').onclick = () => $('share').showModal();
$('share-close').onclick = () => $('share').close();

let inside = 0;
const carriesFile = (e) => e.dataTransfer && [...e.dataTransfer.types].includes('Files');
document.addEventListener('dragenter', (e) => { if (carriesFile(e)) { inside++; $('drop').hidden = false; } });
document.addEventListener('dragleave', (e) => { if (carriesFile(e) && --inside <= 0) { inside = 0; $('drop').hidden = true; } });
document.addEventListener('dragover', (e) => { if (carriesFile(e)) e.preventDefault(); });
document.addEventListener('drop', (e) => {
  if (!carriesFile(e)) return;
  e.preventDefault();
  inside = 0;
  $('drop').hidden = true;
  open(e.dataTransfer.files[0]);
});
window.addEventListener('beforeunload', (e) => { if (unsaved()) e.preventDefault(); });

// --- start

try {
  const s = await api.start();
  keep.asks(s.keep);
  against.begin(s.sets, s.ask || []);
  $('save-where').textContent = `Save writes marks, chart and reading, and a photo that came through this page, into: ${s.folder}`;
  if (s.shared && s.address) {
    $('share-open').hidden = false;
    $('share-address').textContent = s.address;
    $('share-address').href = s.address;
    const code = new DOMParser().parseFromString(s.qr || '', 'image/svg+xml').documentElement;
    if (code.nodeName === 'svg') $('share-code').append(document.importNode(code, true));
  }
  if (s.photo) takePhoto(s.photo);
} catch (e) {
  fail(e);
}
