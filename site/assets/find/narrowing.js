// Choices that narrow the list, each with the number of families that it would leave.

import { rangesOf } from "./known-facts.js";

/** @typedef {import("./index/index.js").Index} Index */
/** @typedef {"maker"|"cylinders"|"ignition"|"years"} NarrowingKey */

export class Narrowing {
  /** @param {Index} index */
  constructor(index) {
    this.index = index;
    this.plain = { maker: index.makers, cylinders: index.cylinders, ignition: index.ignitions };
  }

  /** @param {number} place @returns {[number, number][]} the years as ranges; an open end equals the other end */
  #years(place) {
    const { years } = this.index;
    if (years.whole[place]) return [[years.firsts[place] ?? 0, years.lasts[place] ?? 0]];
    return rangesOf(this.index.text("years", place)).map(([from, to]) => [Number(from || to), Number(to || from)]);
  }

  /** Whether a family remains with a choice. @param {NarrowingKey} key @param {number} place @param {string} value */
  holds(key, place, value) {
    if (key !== "years") return this.plain[key].of(place) === value;
    const first = Number(value);
    const { years } = this.index;
    if (years.whole[place]) return (years.firsts[place] ?? 0) <= first + 9 && (years.lasts[place] ?? 0) >= first;
    return rangesOf(this.index.text("years", place)).some(
      ([from, to]) => Number(from || 0) <= first + 9 && Number(to || 9999) >= first,
    );
  }

  /** Whether a family remains with all choices. @param {[NarrowingKey, string][]} chosen @param {number} place */
  holdsAll(chosen, place) {
    return chosen.every(([key, value]) => this.holds(key, place, value));
  }

  /**
   * The number of these families that each value of a choice would leave.
   * @param {NarrowingKey} key
   * @param {number[]} places
   * @returns {Map<string, number>}
   */
  counts(key, places) {
    /** @type {Map<string, number>} */
    const counts = new Map();
    if (key === "years") {
      for (const place of places) {
        const decades = new Set();
        for (const [first, last] of this.#years(place)) {
          for (let decade = first - (first % 10); decade <= last; decade += 10) decades.add(decade);
        }
        for (const decade of decades) counts.set(String(decade), (counts.get(String(decade)) || 0) + 1);
      }
      return counts;
    }
    const { column, values } = this.plain[key];
    const byNumber = new Uint32Array(values.length);
    for (const place of places) {
      const number = column[place] ?? 0;
      byNumber[number] = (byNumber[number] ?? 0) + 1;
    }
    for (const [number, count] of byNumber.entries()) if (count && values[number]) counts.set(values[number], count);
    return counts;
  }

  /** A value of a choice in words. @param {NarrowingKey} key @param {string} value */
  inWords(key, value) {
    if (key === "maker") return this.index.head.makers[value]?.[0] ?? value;
    if (key === "cylinders") return `${value} cylinder${value === "1" ? "" : "s"}`;
    return key === "ignition" ? value.replaceAll("-", " ") : `${value} to ${Number(value) + 9}`;
  }
}
