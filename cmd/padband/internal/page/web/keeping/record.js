// Keeping the reading as evidence: what is known of it, further photos, and the
// record that comes of it.
import * as api from '../server/api.js';
import { $, el, field } from '../common/dom.js';
import { sentence } from '../marking/marking.js';
import { Attached } from './attached.js';
import { moment } from '../sample/form.js';

export class Keep {
  constructor(store) {
    this.store = store;
    this.facts = [];
    this.kept = null; // the version that the record shown holds
    this.keptApart = ''; // what else it holds; see apart
    $('keep-open').onclick = () => (this.open ? this.close() : this.show());
    $('record-close').onclick = () => this.close();
    $('record-keep').onclick = () => this.keep();
    $('record-form').onsubmit = (e) => e.preventDefault();
    $('record-form').onchange = () => this.missing();
    store.on((what) => this.changed(what));
  }

  // asks is what the server says that a record holds and takes.
  asks(keep) {
    this.facts = keep.facts;
    this.attached = new Attached(keep, (text) => this.say(text));
    $('record-form').replaceChildren(...keep.facts.filter((f) => f.apart).map((f) => (
      f.name === 'read' ? field('Read by eye at', f.name, { type: 'datetime-local', step: 1 }, 'if somebody compared the pads with the chart by eye')
        : field(f.words, f.name, {}, f.ask))));
  }

  get open() { return !$('record-part').hidden; }

  changed(what) {
    if (what === 'doc' || what === 'reading') $('keep-open').hidden = !this.store.complete && !this.open;
    if (this.open && this.store.chart) this.describe();
    if (this.kept !== null) $('kept-earlier').hidden = this.kept === this.store.version();
  }

  // photo begins anew for another photo.
  photo() {
    if (this.open) this.close();
    this.kept = null;
    this.keptApart = '';
    $('record-form').reset();
    $('record-kept').replaceChildren();
    this.say('');
    if (this.attached) this.attached.clear();
  }

  // show moves the sample's form here: each fact is asked for in one place.
  show() {
    $('record-sample').append($('sample-form'));
    document.body.dataset.record = 'open';
    $('record-part').hidden = false;
    $('keep-open').setAttribute('aria-expanded', 'true');
    this.describe();
    $('record-title').focus();
  }

  // describe says what will be kept.
  describe() {
    const { photo, chart } = this.store;
    $('record-position').hidden = !photo.position;
    $('record-holds').replaceChildren(...[
      `the photo ${photo.name}, byte for byte ${photo.from_file ? 'as it lies in its file' : 'as it was received'}`,
      `the chart ${chart.title || chart.chart}, the marks, and the reading with all its figures`,
      'a report to be shown, and a list of checksums that shows any later change',
    ].map((t) => el('li', {}, t)));
    this.rules(chart.handling || []);
    this.missing();
  }

  close() {
    $('sample-part').append($('sample-form'));
    delete document.body.dataset.record;
    $('record-part').hidden = true;
    $('keep-open').setAttribute('aria-expanded', 'false');
    $('keep-open').focus();
  }

  // rules tells, where it is asked whether they were followed, what they are.
  rules(lines) {
    const note = $('record-form').querySelector('[name="handling"] ~ .quiet');
    note.textContent = `yes, no, or how${lines.length ? `. The chart's rule: ${lines.join(' ')}` : ''}`;
  }

  // said are the facts that only the record holds.
  said() {
    const out = {};
    for (const i of $('record-form').elements) {
      if (i.value.trim()) out[i.name] = i.type === 'datetime-local' ? moment(i.value) : i.value.trim();
    }
    return out;
  }

  // apart is what only the record would hold: facts, and further photos.
  apart() {
    const facts = this.said(), files = this.attached ? this.attached.files : [];
    return files.length || Object.keys(facts).length ? JSON.stringify([facts, files.map((f) => [f.kind, f.file.name, f.file.size])]) : '';
  }

  // unsaved is whether a person said or added something that no record holds.
  get unsaved() { return this.apart() !== this.keptApart && this.apart() !== ''; }

  // missing tells what nobody has said, in the words of the fields.
  missing() {
    const s = this.store.doc.sample, kit = s.kit || {};
    const known = { ...this.said(), place: s.place, point: s.point, tester: s.reader, taken: this.store.photo.taken || s.taken, dipped: s.dipped, lot: kit.lot, expires: kit.expires, opened: kit.opened, note: s.note };
    const names = this.facts.map((f) => f.name).filter((n) => !known[n]);
    $('record-missing').textContent = names.length ? `Not said yet: ${this.labels(names)}. What is not known may stay empty: the record then says that it is missing.` : 'Everything that is asked for is said.';
  }

  labels(names) { return names.map((n) => this.label(n)).join(', '); }

  label(name) {
    const inForm = $('sample-form').elements.namedItem(name === 'tester' ? 'reader' : name) || $('record-form').elements.namedItem(name);
    return (inForm ? inForm.labels[0].textContent : name).toLowerCase();
  }

  async keep() {
    if (this.busy) return;
    if (!this.store.complete) return this.say('Finish the marks first, or leave out what is not on the strip: a record is of a whole reading.');
    const { photo, chart } = this.store, version = this.store.taken(), apart = this.apart();
    const work = { marks: this.store.marks(), chart, facts: this.said(), zip: $('record-zip').checked };
    this.busy = true;
    document.body.classList.add('busy');
    this.say('Keeping the record.');
    try {
      this.done(await api.keep(photo.id, work, this.attached.files), photo, version, apart);
    } catch (e) {
      this.say(e.status === 0 && this.attached.files.length ? 'padband does not answer, or a further photo can no longer be read. Is padband still running? If it is, remove the further photos and choose them again.' : sentence(e.message));
    } finally {
      this.busy = false;
      document.body.classList.remove('busy');
    }
  }

  done(r, photo, version, apart) {
    if (photo !== this.store.photo) return this.say(`The record of ${photo.name} was kept: ${r.name}, fingerprint ${r.fingerprint}.`);
    this.kept = version;
    this.keptApart = apart;
    this.store.handed.push(version);
    this.say('');
    $('record-kept').replaceChildren(
      el('h3', { id: 'kept-title', tabindex: -1 }, 'Kept'),
      el('p', {}, el('b', { id: 'kept-name' }, r.name), ` in ${r.folder}`),
      el('p', { class: 'fingerprint-words' }, 'The fingerprint of this record. Write this down or have it countersigned today:'),
      el('p', { id: 'fingerprint', class: 'fingerprint' }, r.fingerprint),
      el('p', { class: 'quiet' }, 'Whoever has it from today can see later that this very record is shown, unchanged.'),
      r.missing.length ? el('p', {}, `Not known, left out: ${this.labels(r.missing)}.`) : null,
      el('p', { id: 'kept-earlier', class: 'position', hidden: true }, 'Marks or sample were changed since: this record holds what was there before.'),
      el('p', { class: 'row' },
        el('a', { class: 'button', id: 'kept-report', href: r.report, download: '' }, 'Download the report'),
        el('a', { class: 'button', id: 'kept-zip', href: r.archive, download: '' }, 'Download the record (zip)')),
      el('p', { class: 'quiet' }, `To check it later: padband verify ${r.name}`));
    this.changed('kept');
    $('kept-title').focus();
  }

  say(text) { $('record-said').textContent = text; }
}
