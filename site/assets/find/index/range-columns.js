// Years and serial numbers of families as ranges: those with whole-number ends as columns, all others one by one.

import { rangesOf } from "../known-facts.js";
import { serialPlace } from "../serials.js";
import { FIRST_YEAR, LAST_YEAR } from "../words.js";
import { mark } from "./bit-set.js";

/** @typedef {import("../../columns.js").Part} Part */
/** @typedef {{place: number, line: number, first: string|null, last: string|null}} OddRange */

const WHOLE = /^[0-9]{1,9}$/;
const YEAR = /^[0-9]{1,4}$/;
const FROM_TO = /^~([0-9]+)~([0-9]+)$/;

export class RangeColumns {
  /** @param {Part} part @param {string} key */
  constructor(part, key) {
    this.count = part.count;
    this.firsts = new Uint32Array(part.count);
    this.lasts = new Uint32Array(part.count);
    /** For each family, whether it has exactly one range with whole-number ends. */
    this.whole = new Uint8Array(part.count);
    /** @type {OddRange[]} */
    this.others = [];
    /** @type {(OddRange & {shape: string, from: string, to: string})[]|null} */
    this.shaped = null;
    const at = part.layout.node(`.${key}`);
    if (at >= 0) this.#fill(part, at);
  }

  /** @param {Part} part @param {number} at */
  #fill(part, at) {
    const [, , values, children] = part.layout.nodeAt(at);
    const column = part.column(at);
    const [firsts, lasts] = ["#0", "#1"].map((slot) =>
      children[slot] === undefined ? null : part.column(children[slot]),
    );
    const told = values.map((/** @type {any} */ value) => {
      if (typeof value === "string") return rangesOf(value);
      const pieces = value && typeof value === "object" && "t" in value ? value.t : [];
      return pieces.length === 5 && pieces[0] === "" && pieces[2] === "\t" && pieces[4] === "" ? "columns" : null;
    });
    for (let place = 0; place < this.count; place++) {
      const ranges = told[column[place] ?? -1];
      if (ranges === "columns" && firsts && lasts) this.#keep(place, firsts[place] ?? 0, lasts[place] ?? 0);
      else this.#others(place, Array.isArray(ranges) ? ranges : rangesOf(part.read(place, at)));
    }
  }

  /** @param {number} place @param {number} first @param {number} last */
  #keep(place, first, last) {
    this.firsts[place] = first;
    this.lasts[place] = last;
    this.whole[place] = 1;
  }

  /** @param {number} place @param {(string|null)[][]} ranges */
  #others(place, ranges) {
    const [[first, last] = [null, null]] = ranges.length === 1 ? ranges : [];
    if (first && last && WHOLE.test(first) && WHOLE.test(last)) this.#keep(place, Number(first), Number(last));
    else
      for (const [line, [from, to]] of ranges.entries())
        this.others.push({ place, line, first: from ?? null, last: to ?? null });
  }

  /**
   * Call `tell` for every family made between two years, both included.
   * @param {number} from
   * @param {number} to
   * @param {(place: number) => void} tell
   */
  between(from, to, tell) {
    for (let place = 0; place < this.count; place++) {
      if (this.whole[place] && (this.firsts[place] ?? 0) <= to && (this.lasts[place] ?? 0) >= from) tell(place);
    }
    for (const { place, first, last } of this.others) {
      if (Number(first || FIRST_YEAR) <= to && Number(last || LAST_YEAR) >= from) tell(place);
    }
  }

  /**
   * Add the families made in a year, in a year with this beginning, or exactly from one year to another, to a set.
   * @param {Uint32Array} set
   * @param {string} word
   * @param {boolean} grows
   */
  markYears(set, word, grows) {
    const exactly = FROM_TO.exec(word);
    if (exactly) {
      const [from, to] = [Number(exactly[1]), Number(exactly[2])];
      for (let place = 0; place < this.count; place++) {
        if (this.whole[place] && this.firsts[place] === from && this.lasts[place] === to) mark(set, place);
      }
      for (const { place, first, last } of this.others) {
        if (Number(first || FIRST_YEAR) === from && Number(last || LAST_YEAR + 1) === to) mark(set, place);
      }
    } else if (YEAR.test(word) && (grows || word.length === 4)) {
      const more = 10 ** (4 - word.length);
      const year = Number(word) * more;
      if (year <= LAST_YEAR && year + more > FIRST_YEAR)
        this.between(Math.max(year, FIRST_YEAR), Math.min(year + more - 1, LAST_YEAR), (place) => mark(set, place));
    }
  }

  /** Every year in which any family was made. @returns {string[]} */
  years() {
    const found = [];
    for (let year = FIRST_YEAR; year <= LAST_YEAR; year++) {
      let any = false;
      this.between(year, year, () => (any = true));
      if (any) found.push(String(year));
    }
    return found;
  }

  /** The ranges of serial numbers that are not whole numbers, with their places. */
  runs() {
    this.shaped ||= this.others.flatMap((other) => {
      const from = other.first === null ? null : serialPlace(other.first);
      const to = other.last === null ? null : serialPlace(other.last);
      const shape = (from || to)?.shape;
      if (shape === undefined || (from && to && from.shape !== to.shape)) return [];
      return [{ ...other, shape, from: from ? from.place : "", to: to ? to.place : "~" }];
    });
    return this.shaped;
  }

  /**
   * The families with a range that holds a serial number, each with that range, in order.
   * @param {string} serial
   * @param {string} letters with which an end of the range must begin
   */
  holding(serial, letters) {
    const { shape, place: at } = serialPlace(serial);
    /** @type {{place: number, line: number}[]} */
    const found = this.runs().filter(
      (range) =>
        range.shape === shape &&
        range.to >= at &&
        range.from <= at &&
        (range.from.startsWith(letters) || range.to.startsWith(letters)),
    );
    const number = shape === "9" ? Number(at.slice(3)) : -1;
    for (let place = 0; number >= 0 && place < this.count; place++) {
      if (this.whole[place] && (this.firsts[place] ?? 0) <= number && number <= (this.lasts[place] ?? 0))
        found.push({ place, line: 0 });
    }
    return found.sort((a, b) => a.place - b.place || a.line - b.line);
  }

  /**
   * Whether an end of a range of this shape begins with these letters.
   * @param {string} shape
   * @param {string} letters
   */
  hasLetters(shape, letters) {
    if (shape === "9" && this.whole.includes(1)) return true;
    return this.runs().some(
      (range) => range.shape === shape && (range.from.startsWith(letters) || range.to.startsWith(letters)),
    );
  }
}
