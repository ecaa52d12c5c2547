// @ts-check
// The calls of the marking page, and what the server answers.
import { call, json } from './call.js';

/** @import { Chart, MarksFile, Palest, PrintColours } from '../state/files.js' */

/**
 * A photo that is open.
 * @typedef {object} Photo
 * @property {string} id
 * @property {string} name
 * @property {number} width
 * @property {number} height
 * @property {{width: number, height: number}} preview
 * @property {string} format
 * @property {string} profile
 * @property {string} taken
 * @property {string} came in words
 * @property {boolean} from_file it did not come from a browser
 * @property {boolean} position it carries where it was taken
 * @property {string[] | null} notes
 * @property {MarksFile | null} marks
 * @property {string} marks_problem
 * @property {Chart | null} chart
 */

/**
 * What the page begins with.
 * @typedef {object} Start
 * @property {Photo | null} photo
 * @property {string} folder where Save writes to, for people
 * @property {boolean} shared
 * @property {string} address for other machines, when the page is shared
 * @property {string} qr that address as a picture, in SVG
 * @property {Keeping} keep
 * @property {{name: string, title: string}[]} sets sets of limits
 * @property {string[] | null} ask limits that the command chose
 * @property {boolean} finds outlines are looked for in photos
 */

/**
 * A chart that can be chosen.
 * @typedef {object} ChartInfo
 * @property {string} name
 * @property {string} title
 * @property {string} from
 * @property {string[]} analytes
 * @property {boolean} layout
 */

/**
 * What a record asks for and how much it takes.
 * @typedef {object} Keeping
 * @property {Fact[]} facts
 * @property {number} most further photos
 * @property {number} bytes of one of them
 * @property {number} total of all of them
 */

/**
 * A fact of the sample; it stands apart when a marks file has no place for it, and nobody misses an optional one.
 * @typedef {{name: string, words: string, ask: string, apart: boolean, optional: boolean}} Fact
 */

/**
 * A record that was kept.
 * @typedef {object} Kept
 * @property {string} name
 * @property {string} folder
 * @property {string} fingerprint
 * @property {string[]} missing names of facts
 * @property {string} report an address
 * @property {string} archive an address
 */

/**
 * A chart as it is typed.
 * @typedef {object} TypedChart
 * @property {string} title
 * @property {string} name
 * @property {string} version
 * @property {string} handling
 * @property {string} kit_life_days
 * @property {TypedAnalyte[]} analytes
 */

/**
 * One row of a chart as it is typed.
 * @typedef {object} TypedAnalyte
 * @property {string} kind
 * @property {string} spacing
 * @property {string} name
 * @property {string} unit
 * @property {string} as
 * @property {string} values
 * @property {string} read_window
 * @property {string} kit_error
 * @property {string} parts
 */

/**
 * What a chart that is being typed was taken for.
 * @typedef {object} Understood
 * @property {UnderstoodRow[]} rows
 * @property {Fault[]} faults
 */

/**
 * One row of it, and what may be chosen for it.
 * @typedef {object} UnderstoodRow
 * @property {string} text empty where its values are not understood
 * @property {string[]} notes
 * @property {{name: string, means: string}[]} units the likeliest first
 * @property {string[]} forms the likeliest first
 */

/**
 * A field that cannot be taken as it stands. Answers are texts for it, with what they mean.
 * @typedef {{field: string, what: string, answers: {says: string, text: string}[]}} Fault
 */

/**
 * What is set against a reading, and the units it is said in too.
 * @typedef {{limits: string[], units: string[]}} Asked
 */

/**
 * What is to be read, saved or kept.
 * @typedef {{marks: MarksFile, chart: Chart, ask: Asked, strip?: ShotWork[]}} Work
 */

/**
 * A photo of several of a strip with its marks.
 * @typedef {{id: string, marks: MarksFile}} ShotWork
 */

/**
 * What is known of the photos of a strip before they are read.
 * @typedef {object} Strip
 * @property {string[]} photos when each was taken, in words
 * @property {string} fault why they cannot be of one strip; empty where they can
 * @property {string} why the same in words
 * @property {string[]} due which photos are to be taken, and when
 * @property {string} until when the first of them is past
 * @property {boolean} in_time every analyte with a time has a photo in time
 */

/**
 * A swatch or a white area that the chart's corners place.
 * @typedef {object} Placed
 * @property {'swatch' | 'white'} role
 * @property {string} analyte
 * @property {number} value
 * @property {number} part
 * @property {[number, number][]} polygon
 */

/**
 * A reading of the marks as they are.
 * @typedef {object} Answer
 * @property {string} json the reading file, empty when nothing can be read yet
 * @property {string} html
 * @property {string} say what is read aloud
 * @property {Placed[] | null} placed
 * @property {{analyte: string, text: string}[] | null} pending
 * @property {boolean} complete all that is marked was read
 * @property {string[] | null} moments when to take a photo of this chart's pads
 * @property {string[] | null} photos ids of the photos that one answer of a strip is from, by their numbers in html
 * @property {string[] | null} left which photos of the strip are left out of it, and why
 * @property {PrintColours | null} colours what the chart may remember of the bottle, by this photo
 */

/**
 * A row that is marked whole, with the end that is pale in this photo.
 * @typedef {object} RowShown
 * @property {string} analyte
 * @property {Palest} palest
 * @property {string} against how its colours contradict the chart, in one sentence
 * @property {{value: number, label: string, part: number, picture: string}[]} cells cut-outs, in order of value, part by part
 */

/**
 * What the program found in a photo, with the questions that are open about it.
 * Why_not says why nothing was found, or not all. The first answer is as the marks are.
 * @typedef {{marks: MarksFile | null, questions: Question[], why_not: string}} Outline
 * @typedef {{code: string, text: string, analytes?: string[], answers: Choice[]}} Question
 * @typedef {{code: string, text: string, marks: MarksFile}} Choice
 */

const gone = 'Start it again and open the address it prints';

/** @param {string} id */
const photo = (id) => `api/photos/${encodeURIComponent(id)}`;

/** @returns {Promise<Start>} */
export const start = () => call('api/start', {}, gone);

/**
 * photoAgain is a photo that is open already.
 * @param {string} id
 * @returns {Promise<Photo>}
 */
export const photoAgain = (id) => call(photo(id), {}, gone);

/** @returns {Promise<ChartInfo[]>} */
export const charts = () => call('api/charts', {}, gone);

/**
 * @param {string} name
 * @returns {Promise<Chart>}
 */
export const chart = (name) => call(`api/charts/${encodeURIComponent(name)}`, {}, gone);

/**
 * describe makes a chart of what was typed.
 * @param {TypedChart} typed
 * @returns {Promise<{chart: Chart}>}
 */
export const describe = (typed) => call('api/charts', json(typed), gone);

/**
 * understand is what a chart is taken for while it is typed.
 * @param {TypedChart} typed
 * @param {AbortSignal} signal
 * @returns {Promise<Understood>}
 */
export const understand = (typed, signal) => call('api/charts/understood', json(typed, signal), gone);

/**
 * edge finds the edge of the patch at a place of the photo.
 * @param {string} id
 * @param {number} x
 * @param {number} y
 * @returns {Promise<{polygon: [number, number][]}>}
 */
export const edge = (id, x, y) => call(`${photo(id)}/edge`, json({ x, y }), gone);

/**
 * line is what lies between two marks that are to be the ends of a row: whether
 * they are of two rows, and how far its middle is off the line between them, in
 * pixels, where the photo shows it.
 * @param {string} id
 * @param {{polygon: [number, number][]}} first
 * @param {{polygon: [number, number][]}} last
 * @param {{value: number}[]} swatches of the row
 * @returns {Promise<{off: boolean, bend: [number, number] | null}>}
 */
export function line(id, first, last, swatches) {
  return call(`${photo(id)}/line`, json({ first, last, swatches: swatches.map(({ value }) => ({ value })) }), gone);
}

/**
 * outline looks for the strip, the chart and white; with an earlier photo of the same
 * strip, as there.
 * @param {string} id
 * @param {Chart} chart
 * @param {ShotWork | null} [earlier]
 * @returns {Promise<Outline>}
 */
export const outline = (id, chart, earlier = null) => call(`${photo(id)}/outline`, json({ chart, earlier }), gone);

/**
 * strip tells of photos of a strip before they are read, and which are still to be taken.
 * @param {{photos: ShotWork[], chart: Chart, dipped: string, now: string}} work
 * @returns {Promise<Strip>}
 */
export const strip = (work) => call('api/strip', json(work), gone);

/**
 * layout is the chart with the places of its swatches in it.
 * @param {string} id
 * @param {Work} work
 * @returns {Promise<{chart: Chart}>}
 */
export const layout = (id, { marks, chart: c }) => call(`${photo(id)}/layout`, json({ marks, chart: c }), gone);

/**
 * @param {string} id
 * @param {Work} work
 * @param {AbortSignal} signal
 * @returns {Promise<Answer>}
 */
export const reading = (id, work, signal) => call(`${photo(id)}/reading`, json(work, signal), gone);

/**
 * rows are the rows that are marked whole, and what the chart's corners place.
 * @param {string} id
 * @param {Work} work
 * @returns {Promise<{rows: RowShown[], placed: Placed[]}>}
 */
export const rows = (id, work) => call(`${photo(id)}/rows`, json(work), gone);

/**
 * save writes the files; with force also over those that are there.
 * @param {string} id
 * @param {Work} work
 * @param {boolean} force
 * @returns {Promise<{files: string[], folder: string}>}
 */
export const save = (id, work, force) => call(`${photo(id)}/save`, json({ ...work, force }), gone);

/**
 * @param {string} id
 * @param {Work} work
 * @returns {Promise<{files: {name: string, text: string}[]}>}
 */
export const files = (id, work) => call(`${photo(id)}/files`, json({ ...work, force: false }), gone);

/**
 * shown is the reading as a page to show or hand on.
 * @param {string} id
 * @param {Work} work
 * @returns {Promise<{name: string, text: string}>}
 */
export const shown = (id, work) => call(`${photo(id)}/shown`, json({ ...work, force: false }), gone);

/**
 * plain leaves out of a file's name what no header may hold.
 * @param {string} name
 */
const plain = (name) => (name || '').replace(/[\x00-\x1f\x7f]/g, '');

/**
 * keep sends the work first, then the further photos as they are.
 * @param {string} id
 * @param {Work & {facts: Record<string, string>, zip: boolean}} work
 * @param {{kind: string, file: File}[]} further
 * @returns {Promise<Kept>}
 */
export function keep(id, work, further) {
  const body = new FormData();
  body.append('work', JSON.stringify(work));
  for (const { kind, file } of further) body.append(kind, file, plain(file.name) || 'photo');
  return call(`${photo(id)}/keep`, { method: 'POST', body }, gone);
}

/**
 * send hands the photo's bytes over as they are; of are the ids of the other photos of its strip.
 * @param {File} file
 * @param {string[]} [of]
 * @returns {Promise<Photo>}
 */
export function send(file, of = []) {
  const options = { method: 'POST', headers: { 'Content-Type': 'application/octet-stream' }, body: file };
  const strip = of.length ? `&of=${of.map(encodeURIComponent).join(',')}` : '';
  return call(`api/photos?name=${encodeURIComponent(file.name || 'photo')}${strip}`, options, gone);
}

/**
 * plan is the address of the sheet for before a dip.
 * @param {string} name
 */
export const plan = (name) => `api/charts/${encodeURIComponent(name)}/plan`;

/**
 * preview is the address of a photo in the size of a screen.
 * @param {string} id
 */
export const preview = (id) => `${photo(id)}/preview`;

/**
 * part is the address of a part of a photo, to be so many pixels wide.
 * @param {string} id
 * @param {number} x
 * @param {number} y
 * @param {number} w
 * @param {number} h
 * @param {number} to
 */
export function part(id, x, y, w, h, to) {
  const at = `x=${x.toFixed(1)}&y=${y.toFixed(1)}&w=${w.toFixed(1)}&h=${h.toFixed(1)}`;
  return `${photo(id)}/part?${at}&to=${Math.round(to)}`;
}
