// Which families have a word: for each word the column values that contain it; numbers in texts are searched in place.

import { filledPattern, numberAt } from "../../columns.js";
import { UNTOLD, withPlainJoined } from "../known-facts.js";
import { mayBeMisspelt } from "../misspelling.js";
import { wordsOf } from "../words.js";
import { emptySet, mark } from "./bit-set.js";
import { NumberColumns } from "./number-columns.js";

/** @typedef {import("../../columns.js").Part} Part */
/** @typedef {{seen: boolean, points: boolean, joined: boolean}} TextOptions how the words of a text are found */

const HARD = /['’‘]|h\.p|[^\x00-\x7f]/i;
const MANY = 4000;
const COLUMNS = 64;
const NEWLINE = 10;

/** The words of the columns of an index. */
export class WordColumns {
  /** @param {number} count */
  constructor(count) {
    this.count = count;
    /** @type {{column: Uint32Array|null, seen: boolean}[]} in the first two a value is a family's place */
    this.columns = [
      { column: null, seen: false },
      { column: null, seen: true },
    ];
    /**
     * @type {Map<string, number|number[]>} for each word the values that contain it, each as value * COLUMNS + column
     */
    this.words = new Map();
    this.numbers = new NumberColumns();
    /** @type {Map<string, Uint32Array>} */
    this.sets = new Map();
    /** @type {Map<string, string[]>|null} */
    this.begun = null;
    /** @type {Set<string>|null} */
    this.misspelt = null;
  }

  /** @param {string} word @param {number} column @param {number} value */
  #post(word, column, value) {
    const same = this.words.get(word);
    const where = value * COLUMNS + column;
    if (same === undefined) this.words.set(word, where);
    else if (typeof same === "object") same.push(where);
    else if (same !== where) this.words.set(word, [same, where]);
  }

  /** A word of one family. @param {string} word @param {number} place */
  one(word, place) {
    this.#post(word, 0, place);
  }

  /**
   * The words of each value of a column.
   * @param {{values: any[], column: Uint32Array}} plain
   * @param {(value: any) => string[]} words
   */
  values({ values, column }, words) {
    const number = this.columns.push({ column, seen: false }) - 1;
    for (const [value, said] of values.entries()) for (const word of words(said)) this.#post(word, number, value);
  }

  /**
   * The words of a text of each family: words once for each pattern, numbers by their columns. With `points` false only
   * the numbers are added, since the words are there already.
   * @param {Part} part
   * @param {string} key
   * @param {(text: string) => string[]} words
   * @param {Partial<TextOptions> & {patterns?: Uint32Array}} way
   * @param {(value: any, number: number) => boolean} counts whether a text or pattern counts
   */
  texts(part, key, words, { patterns, seen = false, points = true, joined = false } = {}, counts = () => true) {
    const at = part.layout.node(`.${key}`);
    if (at < 0) return;
    const [, , values, children] = part.layout.nodeAt(at);
    const column = patterns || part.column(at);
    const slots = Object.keys(children).map((_, slot) => part.column(numberAt(children, `#${slot}`)));
    const number = this.columns.push({ column, seen }) - 1;
    /** @type {Map<string, Uint8Array>} */
    const alike = new Map();
    const lines = [];
    const ofLines = [];
    /** @type {Set<number>} */
    const hard = new Set();
    for (const [value, said] of values.entries()) {
      if (!counts(said, value)) continue;
      if (typeof said === "string") for (const word of words(said)) this.#post(word, number, value);
      else if (said && typeof said === "object" && "t" in said) {
        const between = said.t.filter((/** @type {string|number} */ piece) => typeof piece === "string");
        const line = between.join("/");
        if (between.slice(1, -1).includes("") || HARD.test(line)) hard.add(value);
        else {
          if (points) ofLines.push(value);
          if (points) lines.push(line);
          this.#slots(said.t, slots, { patterns: column, seen, points, joined }, value, alike, values.length);
        }
      }
    }
    this.#letters(lines.join("\n").toLowerCase(), ofLines, number, seen, joined);
    for (let place = 0; hard.size && place < this.count; place++) {
      const value = column[place] ?? -1;
      if (!hard.has(value)) continue;
      const { t } = /** @type {{t: (string|number)[]}} */ (values[value]);
      for (const word of words(filledPattern(t, slots, place))) this.#post(word, seen ? 1 : 0, place);
    }
  }

  /**
   * The words of many plain texts, one per line.
   * @param {string} text
   * @param {number[]} values the number of each line's value
   * @param {number} column
   * @param {boolean} seen
   * @param {boolean} joined
   */
  #letters(text, values, column, seen, joined) {
    let from = -1;
    let line = 0;
    let count = 0;
    let together = "";
    for (let at = 0; at <= text.length; at++) {
      const code = at < text.length ? text.charCodeAt(at) : NEWLINE;
      if (code >= 97 && code <= 122) {
        if (from < 0) from = at;
        continue;
      }
      const word = from < 0 ? "" : text.slice(from, at);
      const value = values[line] ?? 0;
      from = -1;
      if (word && word !== "and" && !(seen && UNTOLD.has(word))) {
        this.#post(word, column, value);
        count += 1;
        together += joined ? word : "";
      }
      if (code !== NEWLINE) continue;
      if (joined && count > 1) this.#post(together, column, value);
      together = "";
      count = 0;
      line += 1;
    }
  }

  /**
   * The numbers of a pattern; those in the same place of several patterns are searched together.
   * @param {(string|number)[]} pieces
   * @param {Uint32Array[]} slots
   * @param {TextOptions & {patterns: Uint32Array}} way
   * @param {number} pattern
   * @param {Map<string, Uint8Array>} alike
   * @param {number} count of patterns
   */
  #slots(pieces, slots, { patterns, seen, points, joined }, pattern, alike, count) {
    for (let at = 1; at < pieces.length; at += 2) {
      const slot = (at - 1) / 2;
      const width = Number(pieces[at]);
      const hasPoint = points && pieces[at + 1] === "." && at + 2 < pieces.length;
      const decimalsWidth = hasPoint ? Number(pieces[at + 2]) : -1;
      const key = `${slot} ${width} ${decimalsWidth}`;
      const numbers = slots[slot];
      const decimals = (hasPoint ? slots[slot + 1] : null) ?? null;
      let among = alike.get(key);
      if (!numbers) continue;
      if (!among) {
        among = new Uint8Array(count);
        alike.set(key, among);
        this.numbers.add({ patterns, among, seen, joined, numbers, width, decimals, decimalsWidth });
      }
      among[pattern] = 1;
      if (hasPoint) at += 2;
    }
  }

  /** The words that a misspelt one may mean, with the given years. @param {string[]} years */
  vocabulary(years) {
    this.misspelt ||= new Set([...this.words.keys(), ...this.numbers.fourDigits(), ...years].filter(mayBeMisspelt));
    return this.misspelt;
  }

  /** The words with this beginning. @param {string} beginning */
  #beginning(beginning) {
    if (!this.begun) {
      this.begun = new Map();
      for (const word of this.words.keys()) {
        const same = this.begun.get(word.charAt(0));
        if (same) same.push(word);
        else this.begun.set(word.charAt(0), [word]);
      }
    }
    return (this.begun.get(beginning.charAt(0)) || []).filter((word) => word.startsWith(beginning));
  }

  /**
   * The families that have a word, or one that begins with it; cached.
   * @param {string} word
   * @param {boolean} grows
   * @param {boolean} said without what is only seen on the engine
   * @param {(set: Uint32Array) => void} more adds what else has it
   */
  set(word, grows, said, more) {
    const key = `${said ? "s" : "a"}${grows ? "*" : "="}${word}`;
    const known = this.sets.get(key);
    if (known) return known;
    const set = emptySet(this.count);
    /** @type {Map<number, number[]>} */
    const byColumn = new Map();
    for (const one of grows ? this.#beginning(word) : [word]) {
      const held = this.words.get(one);
      for (const where of held === undefined ? [] : typeof held === "object" ? held : [held]) {
        const column = where % COLUMNS;
        const values = byColumn.get(column);
        const value = (where - column) / COLUMNS;
        if (values) values.push(value);
        else byColumn.set(column, [value]);
      }
    }
    for (const [number, values] of byColumn) if (!said || !this.columns[number]?.seen) this.#mark(set, number, values);
    this.numbers.mark(set, word, grows, said);
    more(set);
    if (this.sets.size > MANY) this.sets.clear();
    this.sets.set(key, set);
    return set;
  }

  /** @param {Uint32Array} set @param {number} number @param {number[]} values */
  #mark(set, number, values) {
    const column = this.columns[number]?.column;
    const [only] = values;
    if (!column) {
      for (const place of values) mark(set, place);
    } else if (values.length === 1) {
      for (let place = 0; place < column.length; place++) if (column[place] === only) mark(set, place);
    } else {
      const wanted = new Uint8Array(values.reduce((most, value) => Math.max(most, value), 0) + 1);
      for (const value of values) wanted[value] = 1;
      for (let place = 0; place < column.length; place++) if (wanted[column[place] ?? -1]) mark(set, place);
    }
  }
}

/** The words of a name and its joined forms. @param {string} text */
export const nameWords = (text) => withPlainJoined(wordsOf(text));
