// One search: ways of finding families, the surest first; the same as kb/book/find/searching.py.

import { begun, exactly, together } from "./alternatives.js";
import { addAll, emptySet, has, intersection, placesIn } from "./index/bit-set.js";
import { speltOtherwise, withBlanksMoved } from "./misspelling.js";
import { readTyped } from "./query-text.js";
import { reasons } from "./reasons.js";
import { lettersPlace, serialPlace } from "./serials.js";

/** @typedef {import("./index/index.js").Index} Index */
/** @typedef {import("./query-text.js").Word} Word */
/** @typedef {import("./query-text.js").Serial} Serial */
/** @typedef {{score: number, line: number, words: Word[], leftOut: string}} Found */
/**
 * @typedef {{place: number, family: string, name: string, maker: string, power: string, years: string, matched:
 * string, retiredFrom: string, score: number, leftOut: string}} Hit
 */
/** @typedef {import("./alternatives.js").Alternatives} Alternatives */

const WORDS_TOGETHER = 82;
const WORDS = 80;
const WORDS_SEEN = 75;
const SERIAL = 70;
const BEGINNINGS = 60;
const BEGINNINGS_SEEN = 55;
const ONE_SLIP_TOGETHER = 42;
const ONE_SLIP = 40;
const ONE_SLIP_BEGUN = 35;
const SLIPS = 30;
const LEFT_OUT = 20;
const MOST_HITS = 200;
const MOST_QUERIES = 120;

/**
 * The families found by the typed words, best first.
 * @param {Index} index
 * @param {string} words
 * @param {number} [limit]
 * @returns {Hit[]}
 */
export function search(index, words, limit = 20) {
  const typed = readTyped(words);
  const most = Math.min(limit, MOST_HITS);
  if (!typed.words.length || most < 1) return [];
  return new Search(index, typed, most).hits();
}

/** @param {Map<number, Found>} found */
const inOrder = (found) => [...found].sort((a, b) => b[1].score - a[1].score || a[0] - b[0]);
/** @param {number[]} places @param {number[]} others */
const overlap = (places, others) => places.some((place) => others.includes(place));

class Search {
  /** @param {Index} index @param {ReturnType<typeof readTyped>} typed @param {number} limit */
  constructor(index, typed, limit) {
    this.index = index;
    this.typed = typed;
    this.limit = limit;
    /** @type {Map<number, Found>} */
    this.found = new Map();
    /** @type {Map<Word, Word[]>} */
    this.near = new Map();
    /** @type {number[]} */
    this.leftOut = [];
    this.queries = 0;
  }

  hits() {
    const { words, key } = this.typed;
    for (const [place, score, line] of this.index.wholeNames(key, this.limit)) this.#keep(place, score, line, []);
    this.#all(words);
    if (!this.found.size && words.length > 1) this.#oneLeftOut(words);
    return inOrder(this.found).map(([place, found]) => this.#hit(place, found));
  }

  /** @param {number} place @param {number} score @param {number} line @param {Word[]} words */
  #keep(place, score, line, words) {
    if (!this.found.has(place)) this.found.set(place, { score, line, words, leftOut: "" });
  }

  /** Every way of having all words. @param {Word[]} words */
  #all(words) {
    const exact = words.map(exactly);
    const asBegun = words.map(begun);
    if (this.#matches(exact)) {
      // while typing, the last word is mostly incomplete
      this.#match(together(exact, words), WORDS_TOGETHER, words, true);
      this.#match(exact, WORDS, words, true);
      this.#match(exact, WORDS_SEEN, words);
    }
    this.#serials(words);
    this.#match(asBegun, BEGINNINGS, words, true);
    this.#match(asBegun, BEGINNINGS_SEEN, words);
    if ([...this.found.values()].every((found) => found.score === SERIAL)) this.#slips(words);
  }

  /** With one word misspelt; if that finds nothing, with more slips in any words. @param {Word[]} words */
  #slips(words) {
    const known = this.found.size;
    const variants = words.map((word, at) => [...words.slice(0, at), this.#readNear(word, 1), ...words.slice(at + 1)]);
    if (!this.leftOut.length) variants.push(...withBlanksMoved(this.index.known, words));
    const exact = variants.map((variant) =>
      variant.map((word) => (word.alsoNear.length ? begun(word) : exactly(word))),
    );
    for (const [at, variant] of variants.entries())
      this.#match(together(exact[at] ?? [], variant), ONE_SLIP_TOGETHER, variant);
    for (const [at, variant] of variants.entries()) this.#match(exact[at] ?? [], ONE_SLIP, variant);
    for (const variant of variants) this.#match(variant.map(begun), ONE_SLIP_BEGUN, variant);
    if (this.found.size === known) {
      const variant = words.map((word) => this.#readNear(word, 2));
      this.#match(variant.map(begun), SLIPS, variant);
    }
  }

  /** @param {Word} word @param {number} slips */
  #readNear(word, slips) {
    let read = this.near.get(word);
    if (!read) {
      read = [];
      this.near.set(word, read);
    }
    if (!read[slips]) {
      read[slips] = { ...word, alsoNear: [...word.near, ...speltOtherwise(this.index.known, word, slips)] };
    }
    return read[slips];
  }

  #mayAsk() {
    this.queries += 1;
    return this.queries <= MOST_QUERIES && this.found.size < this.limit;
  }

  /**
   * The families that match an expression, as a bit set; null for an empty expression.
   * @param {Alternatives[]} each
   * @param {boolean} said
   */
  #holding(each, said) {
    /** @type {Uint32Array|null} */
    let all = null;
    for (const alternatives of each) {
      const any = emptySet(this.index.count);
      for (const { words } of alternatives) {
        const [first, ...others] = words.map(([word, grows]) => this.index.set(word, grows, said));
        if (first) addAll(any, others.reduce(intersection, first));
      }
      all = all ? intersection(any, all) : any;
    }
    return all;
  }

  /** @param {Alternatives[]} each */
  #matches(each) {
    return (this.#holding(each, false) || []).some((bits) => bits !== 0);
  }

  /** @param {Alternatives[]|null} each @param {number} score @param {Word[]} words @param {boolean} [said] */
  #match(each, score, words, said = false) {
    if (!each?.length || !this.#mayAsk()) return;
    for (const place of placesIn(this.#holding(each, said) || new Uint32Array(0), this.limit).slice(0, this.limit)) {
      if (this.found.size < this.limit) this.#keep(place, score, -1, words);
    }
  }

  /**
   * Families with a range that holds a possible serial number, and with all other words.
   * @param {Word[]} words
   */
  #serials(words) {
    for (const serial of this.typed.serials) {
      const others = words.filter((word) => !overlap(word.places, serial.places));
      if (others.length === words.length || this.#isCut(serial) || !this.#mayAsk()) continue;
      const set = this.#holding(others.map(begun), false);
      const letters = serial.apart ? lettersPlace(serial.text) : "";
      let rows = 0;
      for (const { place, line } of this.index.serials.holding(serial.text, letters)) {
        if (set && !has(set, place)) continue;
        if (rows++ === this.limit) break;
        if (this.found.size < this.limit) this.#keep(place, SERIAL, -2 - line, others);
      }
    }
  }

  /** Whether letters that some serial numbers have were left out. @param {Serial} serial */
  #isCut(serial) {
    return this.typed.serials.some(
      (whole) =>
        whole.places.length > serial.places.length &&
        serial.places.every((place) => whole.places.includes(place)) &&
        overlap(whole.places, this.leftOut) &&
        this.#lettersKnown(whole),
    );
  }

  /** @param {Serial} serial */
  #lettersKnown(serial) {
    return this.index.serials.hasLetters(serialPlace(serial.text).shape, lettersPlace(serial.text));
  }

  /**
   * Leave out each word in turn; the surest result comes first, then the one with the fewest families.
   * @param {Word[]} words
   */
  #oneLeftOut(words) {
    /** @type {[string, Map<number, Found>, number][]} */
    const tries = [];
    for (const out of this.#worthLeavingOut(words)) {
      this.leftOut = words[out]?.places ?? [];
      const left = words.filter((_, at) => at !== out);
      if (Math.max(...left.map((word) => word.typed.length)) > 1) this.#all(left); // a single letter finds anything
      if (this.found.size) {
        tries.push([
          words[out]?.typed ?? "",
          this.found,
          Math.max(...[...this.found.values()].map((found) => found.score)),
        ]);
      }
      this.found = new Map();
    }
    tries.sort((a, b) => b[2] - a[2] || a[1].size - b[1].size);
    for (const [less, [leftOut, one]] of tries.entries()) {
      for (const [place, found] of inOrder(one).slice(0, this.limit - this.found.size)) {
        if (!this.found.has(place)) this.found.set(place, { ...found, score: LEFT_OUT - less, leftOut });
      }
    }
  }

  /** The one word that no family has; none if there are several; each if all are known. @param {Word[]} words */
  #worthLeavingOut(words) {
    const foreign = [...words.entries()]
      .filter(
        ([, word]) =>
          !this.typed.serials.some((serial) => overlap(word.places, serial.places)) &&
          !this.#matches([begun(this.#readNear(word, 2))]),
      )
      .map(([at]) => at);
    return foreign.length === 1 ? foreign : foreign.length ? [] : [...words.keys()];
  }

  /** @param {number} place @param {Found} found @returns {Hit} */
  #hit(place, found) {
    const { index } = this;
    const lines = index.lines(place);
    const serials = lines.findIndex((line) => line.label.startsWith("serial numbers ") && !line.words.length);
    const line = found.line < -1 ? serials + (-2 - found.line) : found.line;
    const told = reasons(found.words, line, lines);
    if (found.leftOut) told.matched += `${told.matched ? "; " : ""}without “${found.leftOut}”`;
    return {
      place,
      family: index.id(place),
      name: index.name(place),
      maker: index.makerNames(place)[0] ?? "",
      power: index.power(place)[0] || "",
      years: index.yearsInWords(place),
      matched: told.matched,
      retiredFrom: told.oldId,
      score: found.score,
      leftOut: found.leftOut,
    };
  }
}
