// @ts-check
// What is marked so far, kept in this tab for when the page is loaded again: a
// phone drops a page that is out of sight, and a finger reloads it by mistake.
// The browser forgets it with the tab. No picture is in it.

/** @import { Chart, Doc } from './files.js' */
/** @import { Store } from './store.js' */

/**
 * @typedef {object} Draft
 * @property {string} photo the number of the photo that is open
 * @property {Chart | null} chart
 * @property {Doc} doc
 * @property {string | null} target the step a person chose
 * @property {{photo: string, doc: Doc}[]} [strip] all photos of the strip in their order, where there are several
 */

const place = `padband ${location.pathname}`;

/**
 * keepDraft keeps what is marked from now on.
 * @param {Store} store
 */
export function keepDraft(store) {
  store.on((what) => { if (what === 'doc' || what === 'target' || what === 'chart' || what === 'shots') write(store); });
}

/** @param {Store} store */
function write(store) {
  if (!store.photo) return;
  /** @type {Draft} */
  const draft = { photo: store.photo.id, chart: store.last, doc: store.doc, target: store.target };
  if (store.shots.length > 1) draft.strip = store.shots.flatMap(({ photo, doc }) => (photo ? [{ photo: photo.id, doc }] : []));
  try {
    sessionStorage.setItem(place, JSON.stringify(draft));
  } catch {
    // A browser that keeps nothing, as in a private window, forgets a reloaded page's marks.
  }
}

/**
 * draft is what was marked before the page was loaded again.
 * @returns {Draft | null}
 */
export function draft() {
  try {
    return JSON.parse(sessionStorage.getItem(place) ?? 'null');
  } catch {
    return null;
  }
}
