// @ts-check
// Remembering in the chart how a bottle's swatches look. It is asked once for a bottle,
// after a reading by which the server lets the chart remember it.
import { $, button, el, say } from '../common/dom.js';

/** @import { Chart, PrintColours } from '../state/files.js' */
/** @import { Store } from '../state/store.js' */

const place = `padband colours ${location.pathname}`;

export class Colours {
  /** @param {Store} store */
  constructor(store) {
    this.store = store;
    this.current = false; // the answer is of the marks and the chart as they are
    this.open = false; // what is kept is unfolded
    this.said = ''; // what was done last
    this.drawn = ''; // what is drawn, as one text to be compared
    this.asked = askedBefore(); // bottles that are not asked about again
    store.on((what) => {
      if (what === 'doc' || what === 'chart') this.current = false;
      if (what === 'doc') this.say('');
      if (what === 'reading') this.current = true;
      this.draw();
    });
  }

  draw() {
    const { store, current } = this, { chart, doc } = store, kept = chart?.print_colours || [], offer = this.offer();
    const again = offer && this.asked.includes(keyOf(chart, offer.lot));
    $('colours-part').hidden = !chart || doc.unchecked || !doc.regions.length || !(offer || kept.length || this.said);
    const now = JSON.stringify([offer && [offer.lot, offer.day, again, current], kept.map(({ lot, day }) => [lot, day])]);
    if (now === this.drawn) return;
    this.drawn = now;
    $('colours').replaceChildren(...(offer ? [again ? this.later(offer, kept) : this.question(offer, kept)] : []),
      ...(kept.length ? [this.list(kept)] : []));
  }

  // offer is what the chart may take now. While another question stands on the photo nothing is offered.
  offer() {
    const { answer, chart, over } = this.store, colours = answer?.colours;
    if (!colours || over.note || !chart || others(chart, colours.lot).length !== (chart.print_colours || []).length) return null;
    return colours;
  }

  /**
   * question asks about a bottle for the first time.
   * @param {PrintColours} offer
   * @param {PrintColours[]} kept
   */
  question(offer, kept) {
    const title = kept.length ? 'New bottle. Remember its colours too?' : "Remember this bottle's colours?";
    return el('div', { class: 'colours-ask', role: 'group', 'aria-labelledby': 'colours-title' },
      el('h2', { id: 'colours-title' }, title),
      el('p', {}, `The chart keeps how the swatches of lot ${offer.lot} look by daylight. A later photo in which they look `
        + 'otherwise, as under another lamp or when the print has faded, is warned of. No number is read from them.'),
      el('p', { class: 'row' },
        button(kept.length ? 'Remember it again' : 'Yes', () => this.keep(offer),
          { id: 'colours-yes', class: 'first', disabled: !this.current }),
        button('Not now', () => this.notNow(offer), { id: 'colours-no' })));
  }

  /**
   * later is the way to it for who said not now.
   * @param {PrintColours} offer
   * @param {PrintColours[]} kept
   */
  later(offer, kept) {
    const words = kept.length ? 'Remember it again' : "Remember this bottle's colours";
    return el('p', {}, button(words, () => this.keep(offer), { id: 'colours-yes', disabled: !this.current }));
  }

  /**
   * list shows what is kept.
   * @param {PrintColours[]} kept
   */
  list(kept) {
    const words = kept.length === 1 ? 'The chart remembers one bottle' : `The chart remembers ${kept.length} bottles`;
    const rows = kept.map((p) => el('li', {},
      el('span', {}, `Lot ${p.lot}, photographed on ${p.day} by daylight: ${swatches(p)}.`),
      button('Forget it', () => this.forget(p.lot), { 'aria-label': `Forget it: lot ${p.lot}`, 'data-lot': p.lot })));
    return el('details', { open: this.open, ontoggle: (e) => { this.open = e.target instanceof HTMLDetailsElement && e.target.open; } },
      el('summary', { id: 'colours-kept' }, words), el('ul', { class: 'colours-kept' }, ...rows));
  }

  /** @param {PrintColours} offer */
  keep(offer) {
    const { chosen } = this.store;
    this.open = true;
    this.use({ ...chosen, print_colours: [...others(chosen, offer.lot), offer] }, `Lot ${offer.lot} is remembered. Save keeps that.`);
    $('colours-kept').focus();
  }

  /** @param {string} lot */
  forget(lot) {
    const { chosen } = this.store, { print_colours: _, ...plain } = chosen, left = others(chosen, lot);
    this.leave(lot);
    this.use(left.length ? { ...plain, print_colours: left } : plain, `Lot ${lot} is forgotten. Save keeps that.`);
    $('colours-said').focus(); // the button is gone
  }

  /** @param {PrintColours} offer */
  notNow(offer) {
    this.leave(offer.lot);
    this.draw();
    $('colours-yes').focus();
  }

  /**
   * use takes the chart with what it remembers now.
   * @param {Chart} chart
   * @param {string} words
   */
  use(chart, words) {
    this.say(words);
    this.store.use(chart);
    this.store.tell('chart');
  }

  /** @param {string} words */
  say(words) {
    this.said = words;
    say($('colours-said'), words);
  }

  /**
   * leave asks no more about a bottle, also when the page is loaded again.
   * @param {string} lot
   */
  leave(lot) {
    this.asked.push(keyOf(this.store.chart, lot));
    try {
      sessionStorage.setItem(place, JSON.stringify(this.asked));
    } catch { /* it is known while the page is open */ }
  }
}

/**
 * others are the bottles that a chart remembers besides that of a lot.
 * @param {Chart} chart
 * @param {string} lot
 */
const others = (chart, lot) => (chart.print_colours || []).filter((p) => p.lot !== lot);

/**
 * keyOf tells one bottle of a chart from all others.
 * @param {Chart | null} chart
 * @param {string} lot
 */
const keyOf = (chart, lot) => JSON.stringify([chart?.chart, lot]);

/**
 * swatches says how many there are; one of several parts counts once.
 * @param {PrintColours} p
 */
function swatches(p) {
  const n = p.swatches.filter((s) => (s.part || 1) === 1).length;
  return n === 1 ? '1 swatch' : `${n} swatches`;
}

/**
 * askedBefore are the bottles that were left before the page was loaded again.
 * @returns {string[]}
 */
function askedBefore() {
  try {
    const kept = JSON.parse(sessionStorage.getItem(place) ?? '[]');
    return Array.isArray(kept) ? kept.filter((k) => typeof k === 'string') : [];
  } catch {
    return [];
  }
}
