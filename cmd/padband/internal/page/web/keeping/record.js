// @ts-check
// Keeping the reading as evidence: what is known of it, further photos, and the
// record that comes of it.
import * as api from '../server/api.js';
import { $, el, field, isInput, named } from '../common/dom.js';
import { told } from '../common/words.js';
import { labels } from '../sample/form.js';
import { stamp } from '../sample/time.js';
import { Refusal } from '../server/call.js';
import { Attached } from './attached.js';
import { keptNodes } from './kept.js';

/** @import { Fact, Keeping, Kept, Photo } from '../server/api.js' */
/** @import { Shot } from '../state/shots.js' */
/** @import { Store } from '../state/store.js' */

/**
 * What a person does about a record of one photo.
 * @typedef {object} State
 * @property {boolean} open the part of the page is
 * @property {Record<string, string>} typed what only the record holds, by the names of the facts
 * @property {Kept | null} kept the record
 * @property {string} version what the record holds
 * @property {string} apart what else it holds; see apart
 */

/** @returns {State} */
const fresh = () => ({ open: false, typed: {}, kept: null, version: '', apart: '' });

const unfinished = 'Finish the marks first, or leave out what is not on the strip: a record is of a whole reading.';
const gone = 'padband does not answer, or a further photo can no longer be read. Is padband still running? '
  + 'If it is, remove the further photos and choose them again.';

export class Keep {
  /** @param {Store} store */
  constructor(store) {
    this.store = store;
    this.state = fresh();
    this.zip = false;
    this.busy = false;
    /** @type {Fact[]} */
    this.facts = [];
    /** @type {Attached | null} */
    this.attached = null;
    /** @type {Kept | null} the record that is drawn */
    this.drawn = null;
    this.form = $('record-form', HTMLFormElement);
    this.wire();
    store.on((what) => { if (what !== 'over') this.draw(); });
  }

  wire() {
    $('keep-open').onclick = () => (this.state.open ? this.close() : this.open());
    $('record-close').onclick = () => this.close();
    $('record-keep').onclick = () => this.keep();
    $('record-folder').onchange = () => { this.zip = false; };
    $('record-zip').onchange = () => { this.zip = true; };
    this.form.onsubmit = (e) => e.preventDefault();
    this.form.oninput = (e) => { if (isInput(e.target)) this.state.typed[e.target.name] = e.target.value; };
    this.form.onchange = () => this.draw();
  }

  /**
   * asks is what the server says that a record holds and takes.
   * @param {Keeping} keeping
   */
  asks(keeping) {
    this.facts = keeping.facts;
    this.attached = new Attached(keeping, (text) => this.say(text));
    this.form.replaceChildren(...this.apartFacts().map((f) => factField(f)));
  }

  // apartFacts are those that a marks file has no place for.
  apartFacts() { return this.facts.filter((f) => f.apart); }

  get further() { return this.attached ? this.attached.files : []; }

  // photo begins anew for another photo.
  photo() {
    if (this.state.open) this.close();
    this.state = fresh();
    for (const f of this.apartFacts()) named(this.form, f.name).value = '';
    this.say('');
    this.attached?.clear();
    this.draw();
  }

  open() {
    this.state.open = true;
    this.draw();
    $('record-title').focus();
  }

  close() {
    this.state.open = false;
    this.draw();
    $('keep-open').focus();
  }

  draw() {
    const { open, kept, version } = this.state;
    $('keep-open').hidden = !this.store.complete && !open;
    $('keep-open').setAttribute('aria-expanded', String(open));
    $('record-part').hidden = !open;
    document.body.toggleAttribute('data-record', open);
    this.moveSample();
    $('record-folder', HTMLInputElement).checked = !this.zip;
    $('record-zip', HTMLInputElement).checked = this.zip;
    if (open && this.store.chart) this.describe();
    if (kept !== this.drawn) $('record-kept').replaceChildren(...(kept ? keptNodes(kept, this.names(kept.missing)) : []));
    this.drawn = kept;
    if (kept) $('kept-earlier').hidden = version === this.store.version();
  }

  // moveSample has the sample's form here while this is open: each fact is asked for in one place.
  moveSample() {
    const sample = $('sample-form'), to = $(this.state.open ? 'record-sample' : 'sample-part');
    if (sample.parentElement !== to) to.append(sample);
  }

  // describe says what will be kept.
  describe() {
    const { shots, chosen } = this.store, rules = chosen.handling || [], photos = shots.flatMap((s) => s.photo || []);
    $('record-position').hidden = !photos.some((p) => p.position);
    $('record-holds').replaceChildren(...[
      ...photos.map((p) => `the photo ${p.name}, byte for byte ${p.from_file ? 'as it lies in its file' : 'as it was received'}`),
      `the chart ${chosen.title || chosen.chart}, the marks, and the reading with all its figures`,
      'a report to be shown, and a list of checksums that shows any later change',
    ].map((words) => el('li', {}, words)));
    const note = $(`${named(this.form, 'handling').id}-note`); // asks whether the rules were followed
    note.textContent = `yes, no, or how${rules.length ? `. The chart's rule: ${rules.join(' ')}` : ''}`;
    $('record-missing').textContent = missingWords(this.names(this.missing()));
  }

  // said are the facts that only the record holds.
  said() {
    /** @type {Record<string, string>} */
    const out = {};
    for (const { name } of this.apartFacts()) {
      const typed = (this.state.typed[name] || '').trim();
      if (typed) out[name] = name === 'read' ? stamp(typed) : typed;
    }
    return out;
  }

  // apart is what only the record would hold: facts, and further photos.
  apart() {
    const facts = this.said(), { further } = this;
    if (!further.length && !Object.keys(facts).length) return '';
    return JSON.stringify([facts, further.map((f) => [f.kind, f.file.name, f.file.size])]);
  }

  // unsaved is whether a person said or added something that no record holds.
  get unsaved() {
    const now = this.apart();
    return now !== this.state.apart && now !== '';
  }

  // missing are the facts that nobody has said, by their names.
  missing() {
    const { reader, taken, kit, ...sample } = this.store.doc.sample;
    /** @type {Record<string, unknown>} */
    const known = { ...this.said(), ...sample, ...kit, tester: reader, taken: this.store.opened.taken || taken };
    return this.facts.filter((f) => !f.optional && !known[f.name]).map((f) => f.name);
  }

  /**
   * names are what facts are called in the forms.
   * @param {string[]} facts
   */
  names(facts) { return facts.map((name) => this.name(name)).join(', '); }

  /** @param {string} fact */
  name(fact) {
    const apart = this.apartFacts().find((f) => f.name === fact);
    const own = labels[fact === 'tester' ? 'reader' : fact];
    return (own ?? (apart ? factWords(apart) : fact)).toLowerCase();
  }

  async keep() {
    if (this.busy) return;
    if (!this.store.complete) return this.say(unfinished);
    this.busy = true;
    await this.store.during(() => this.send());
    this.busy = false;
  }

  async send() {
    const { store, zip, further } = this, photo = store.opened, { shots } = store, version = store.taken(), apart = this.apart();
    this.say('Keeping the record.');
    try {
      this.done(await api.keep(photo.id, { ...store.work(), facts: this.said(), zip }, further), photo, shots, version, apart);
    } catch (e) {
      this.say(e instanceof Refusal && e.status === 0 && this.further.length ? gone : told(e));
    }
  }

  /**
   * @param {Kept} kept
   * @param {Photo} photo
   * @param {Shot[]} shots
   * @param {string} version
   * @param {string} apart
   */
  done(kept, photo, shots, version, apart) {
    if (shots !== this.store.shots) return this.say(`The record of ${photo.name} was kept: ${kept.name}, fingerprint ${kept.fingerprint}.`);
    Object.assign(this.state, { kept, version, apart });
    this.store.handed.push(version);
    this.say('');
    this.draw();
    $('kept-title').focus();
  }

  /** @param {string} text */
  say(text) { $('record-said').textContent = text; }
}

/** @param {Fact} f */
const factWords = (f) => (f.name === 'read' ? 'Read by eye at' : f.words);

/** @param {Fact} f */
function factField(f) {
  if (f.name !== 'read') return field(factWords(f), f.name, {}, f.ask);
  return field(factWords(f), f.name, { type: 'datetime-local', step: 1 }, 'if somebody compared the pads with the chart by eye');
}

/** @param {string} names */
function missingWords(names) {
  if (!names) return 'Everything that is asked for is said.';
  return `Not said yet: ${names}. What is not known may stay empty: the record then says that it is missing.`;
}
