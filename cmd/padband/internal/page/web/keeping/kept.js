// @ts-check
// What is said of a record that was kept.
import { el } from '../common/dom.js';

/** @import { Kept } from '../server/api.js' */

/**
 * keptNodes tell of a record; missing names the facts that it lacks.
 * @param {Kept} kept
 * @param {string} missing
 * @returns {Node[]}
 */
export function keptNodes(kept, missing) {
  const earlier = 'Marks or sample were changed since: this record holds what was there before.';
  const fingerprint = 'The fingerprint of this record. Write this down or have it countersigned today:';
  return [
    el('h3', { id: 'kept-title', tabindex: -1 }, 'Kept'),
    el('p', {}, el('b', { id: 'kept-name' }, kept.name), ` in ${kept.folder}`),
    el('p', { class: 'fingerprint-words' }, fingerprint),
    el('p', { id: 'fingerprint', class: 'fingerprint' }, kept.fingerprint),
    el('p', { class: 'quiet' }, 'Whoever has it from today can see later that this very record is shown, unchanged.'),
    ...(missing ? [el('p', {}, `Not known, left out: ${missing}.`)] : []),
    el('p', { id: 'kept-earlier', class: 'position', hidden: true }, earlier),
    el('p', { class: 'row' },
      el('a', { class: 'button', id: 'kept-report', href: kept.report, download: '' }, 'Download the report'),
      el('a', { class: 'button', id: 'kept-zip', href: kept.archive, download: '' }, 'Download the record (zip)')),
    el('p', { class: 'quiet' }, `To check it later: padband verify ${kept.name}`),
  ];
}
