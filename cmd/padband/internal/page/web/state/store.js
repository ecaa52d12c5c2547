// @ts-check
// The state of the page: all that its parts draw from. Who changes it tells so,
// and every part draws itself anew. What is marked is one document, replaced
// whole at each change, so that a change can be undone.
import { empty, marksFile, readMarks } from './files.js';
import { share, shotOf, stripWork, versionOf } from './shots.js';

/** @import { Answer, Asked, Photo, Placed, Work } from '../server/api.js' */
/** @import { Draft } from './draft.js' */
/** @import { Chart, Doc, MarksFile, Region, Role } from './files.js' */
/** @import { Shot } from './shots.js' */
/** @import { Point, Shape } from '../marking/shape.js' */

/**
 * What changed: the document, what is selected, the step a person chose, the
 * cells that the corners place, the reading, what it is set against, the chart,
 * a record, what is said, outlines that were found, the time of a dip that waits for its
 * photo, the photos of the strip, or what is shown over the photo for the moment.
 * @typedef {'doc' | 'select' | 'target' | 'placed' | 'reading' | 'against' | 'chart' | 'kept' | 'told' | 'found' | 'dip' | 'shots'
 *   | 'over'} Change
 */

/**
 * What is shown over the photo besides the marks.
 * @typedef {object} Over
 * @property {Shape | null} draft a box that is being drawn
 * @property {Point | null} cross the keyboard's place
 * @property {Set<string>} lit marks that a warning or a reading is about
 * @property {Note | null} note
 */

/**
 * What is said at a place of the photo. After a refusal the next tap is asked about.
 * @typedef {{at: Point, text: string, refused: boolean, answers: {words: string, first?: boolean, do: () => void}[]}} Note
 */

const mostUndone = 200;

export class Store {
  constructor() {
    this.shot = shotOf(null); // the photo that is shown, with what is marked in it
    /** @type {Shot[]} all photos of its strip, in the order in which they were added */
    this.shots = [this.shot];
    /** @type {Chart | null} */
    this.chart = null;
    /** @type {Chart | null} the chart that was there last, while another is being chosen */
    this.last = null;
    /** @type {string | null} the selected mark or corner */
    this.selected = null;
    /** @type {string | null} the step a person chose over the next in line */
    this.target = null;
    /** @type {string | null} the gesture under way, whose steps undo together */
    this.gesture = null;
    this.remembering = false; // the corners are marked to keep the chart's layout
    this.told = ''; // what is said beside the next step, until a change
    this.problem = ''; // what went wrong
    this.busy = 0; // how many things under way a person waits for
    /** @type {Over} */
    this.over = { draft: null, cross: null, lit: new Set(), note: null };
    /** @type {Answer | null} the reading that is shown */
    this.answer = null;
    /** @type {Placed[]} cells the server placed by the corners */
    this.placed = [];
    this.complete = false; // a reading of all that is marked is there
    /** @type {Asked} what readings are set against */
    this.asked = { limits: [], units: [] };
    /** @type {((what: Change) => void)[]} */
    this.listeners = [];
    this.count = 0;
    this.saved = this.version(); // what lies in the photo's files, or came with it
    /** @type {string[]} versions in records and downloads: no later one replaces them */
    this.handed = [];
  }

  // unsaved is whether leaving the page or the photo now loses what a person did.
  get unsaved() {
    const now = this.version();
    return now !== this.saved && !this.handed.includes(now);
  }

  get photo() { return this.shot.photo; }
  get doc() { return this.shot.doc; }
  set doc(doc) { this.shot.doc = doc; }
  get past() { return this.shot.past; }
  get future() { return this.shot.future; }

  // others are the photos of the strip that are not shown.
  get others() { return this.shots.filter((s) => s !== this.shot); }

  // version is all that a person did to the photos, as one text to be compared:
  // marks, sample and chart as the files hold them, and corners not yet all
  // there. Empty when nothing was done.
  version() { return this.shots.map((s) => versionOf(s.doc, this.last)).filter(Boolean).join('\n'); }

  // taken is the version that is about to be saved; a change from here on is a
  // step of its own, so that undo leads back to it.
  taken() {
    this.endGesture();
    return this.version();
  }

  // opened is the photo where one is known to be open.
  get opened() {
    if (!this.photo) throw new Error('no photo is open');
    return this.photo;
  }

  // chosen is the chart where one is known to be chosen.
  get chosen() {
    if (!this.chart) throw new Error('no chart is chosen');
    return this.chart;
  }

  /**
   * work is what is read, saved or kept: of all photos of the strip.
   * @returns {Work}
   */
  work() {
    const strip = this.shots.length > 1 ? { strip: stripWork(this.shots, this.chart) } : {};
    return { marks: marksFile(this.doc, this.chart), chart: this.chosen, ask: this.asked, ...strip };
  }

  /**
   * use takes a chart, or none while another is being chosen.
   * @param {Chart | null} chart
   */
  use(chart) {
    this.chart = chart;
    this.last = chart || this.last;
  }

  /** @param {(what: Change) => void} f */
  on(f) { this.listeners.push(f); }

  /** @param {Change} what */
  tell(what) {
    if (what === 'doc') this.told = ''; // a change ends what was said before it
    if (what === 'doc' || what === 'target' || what === 'chart') this.over.note = null;
    for (const f of this.listeners) f(what);
  }

  /** @param {string} text */
  say(text) {
    this.told = text;
    this.tell('told');
  }

  /**
   * during shows that the page is busy until some work ends.
   * @param {() => Promise<void>} work
   */
  async during(work) {
    this.busy++;
    this.tell('told');
    try {
      await work();
    } finally {
      this.busy--;
      this.tell('told');
    }
  }

  /** @param {Partial<Over>} over */
  show(over) {
    Object.assign(this.over, over);
    this.tell('over');
  }

  /**
   * change makes a new document; steps of one gesture undo together.
   * @param {(doc: Doc) => void} edit
   * @param {string | null} [gesture]
   */
  change(edit, gesture = null) {
    const next = structuredClone(this.doc);
    edit(next);
    if (!gesture || gesture !== this.gesture) {
      this.past.push(this.doc);
      if (this.past.length > mostUndone) this.past.shift();
    }
    this.gesture = gesture;
    share(this.doc.sample, next.sample, this.others);
    this.doc = next;
    this.shot.future = [];
    this.tell('doc');
  }

  endGesture() { this.gesture = null; }

  undo() { this.swap(this.past, this.future); }
  redo() { this.swap(this.future, this.past); }

  /**
   * @param {Doc[]} from
   * @param {Doc[]} to
   */
  swap(from, to) {
    const doc = from.pop();
    if (!doc) return;
    to.push(this.doc);
    share(this.doc.sample, doc.sample, this.others);
    this.doc = doc;
    this.gesture = null;
    this.selected = null;
    this.target = null;
    this.tell('doc');
  }

  /** @param {string | null} id */
  select(id) {
    if (this.selected === id) return;
    this.selected = id;
    this.tell('select');
  }

  /**
   * aim chooses the step that is next, over the first that is not done.
   * @param {string} step its key
   * @param {string | null} selected
   */
  aim(step, selected) {
    this.target = step;
    this.selected = selected;
    this.tell('target');
  }

  /**
   * region is a mark of the document.
   * @param {string | null} id
   */
  region(id) { return this.doc.regions.find((r) => r.id === id) || null; }

  newId() { return `m${++this.count}`; }

  /**
   * find is the mark of a pad or a swatch.
   * @param {Role} role
   * @param {string} analyte
   * @param {number} value of a swatch
   * @param {number} part
   * @returns {Region | null}
   */
  find(role, analyte, value, part) {
    const is = (/** @type {Region} */ r) => r.role === role && r.analyte === analyte
      && (role !== 'swatch' || r.value === value) && r.part === part;
    return this.doc.regions.find(is) || null;
  }

  /** @param {string} id */
  remove(id) {
    const corner = cornerOf(id);
    this.selected = null;
    this.change((d) => {
      if (corner !== null) d.corners = [];
      else d.regions = d.regions.filter((r) => r.id !== id);
    });
  }

  /**
   * begin begins anew with a photo.
   * @param {Photo} photo
   */
  begin(photo) {
    this.shot = shotOf(photo);
    this.shots = [this.shot];
    this.remembering = false;
    this.told = '';
    this.answer = null;
    this.complete = false;
  }

  /**
   * load begins with the marks that came with a photo, or with none.
   * @param {MarksFile | null} marks
   */
  load(marks) {
    Object.assign(this.shot, shotOf(this.photo, this.docOf(marks)));
    this.unselect();
    this.last = this.chart;
    this.saved = this.version();
    this.handed = [];
    this.tell('doc');
  }

  /**
   * docOf is what came with a photo.
   * @param {MarksFile | null} marks
   */
  docOf(marks) { return marks ? readMarks(marks, this.chart, () => this.newId()) : empty(); }

  unselect() {
    this.selected = null;
    this.target = null;
    this.gesture = null;
    this.placed = [];
  }

  /**
   * go shows another photo of the strip.
   * @param {Shot} shot
   */
  go(shot) {
    this.endGesture();
    this.shot = shot;
    this.unselect();
    this.told = '';
    this.tell('shots');
    this.tell('doc');
  }

  /**
   * again goes on with what was marked before the page was loaded again. What the
   * photo's files hold was loaded before.
   * @param {Draft} draft
   */
  again({ doc, chart, target }) {
    const numbers = [doc, ...this.others.map((s) => s.doc)].flatMap((d) => d.regions.map((r) => Number(r.id.slice(1)) || 0));
    this.doc = { ...empty(), ...doc };
    this.count = Math.max(this.count, ...numbers);
    this.use(chart);
    this.target = target;
  }
}

/**
 * cornerOf is the number of a chart's corner by its id, or null.
 * @param {string | null} id
 */
export const cornerOf = (id) => (id?.startsWith('corner:') ? Number(id.slice('corner:'.length)) : null);

/**
 * cornerId is the id of a chart's corner.
 * @param {number} corner
 */
export const cornerId = (corner) => `corner:${corner}`;
