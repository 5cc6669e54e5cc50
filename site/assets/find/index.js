// The headings of a book, and by each word the families that have it: what kb/book/find/lines.py and index.py make.

import { Layout, Part, inPattern, unpressed } from "../columns.js";
import {
  cylinderWords, ignitionWords, rangeInWords, rangesOf, seenWords, serialPlace, withJoined, withPlainJoined, yearWords,
} from "./known.js";
import { mayBeMisspelt } from "./slips.js";
import { nameKey, wordsOf } from "./words.js";

/** @typedef {{label: string, words: string[], names: string[], score: number, seen: boolean, oldId: string}} Line */
/**
 * @typedef {{date: string, makers: Record<string, string[]>, powers: string[][], given_up: Record<string,
 * string[][]>}} Head
 */
/** @typedef {number|number[]} Posting twice the place of a family, one more where the word is seen on the engine;
 * below nought the number of a group of families of which one thing is known */

const ID = 100, NAME = 95, OLD_ID = 90, OTHER_NAME = 85;

/** Reads the file and finds nothing by itself: see searching.js. */
export class Index {
  /** @param {ArrayBuffer} bytes */
  static async read(bytes) {
    const raw = await unpressed(bytes), length = new DataView(raw.buffer, raw.byteOffset).getUint32(0, true);
    const [head, shapes] = JSON.parse(new TextDecoder().decode(raw.subarray(4, 4 + length)));
    return new Index(head, new Part(new Layout(shapes), raw.subarray(4 + length), 0));
  }

  /** @param {Head} head @param {Part} part */
  constructor(head, part) {
    this.head = head;
    this.part = part;
    this.count = part.count;
    /** @type {Map<string, Posting>} */
    this.postings = new Map();
    /** @type {Map<string, Uint32Array>} */
    this.sets = new Map();
    /** @type {Set<string>} */
    this.known = new Set();
    this.makers = this.#texts("maker");
    this.powers = this.#texts("power");
    this.cylinders = this.#texts("cylinders");
    this.inV = this.#texts("v");
    this.ignitions = this.#texts("ignition");
    this.called = this.#texts("called");
    this.years = this.#texts("years");
    /** @type {Map<string, string[]>} */
    this.texts = new Map();
    const folder = part.layout.node(".folder");
    this.folders = folder < 0 ? this.makers : this.makers.map((maker, at) => part.read(at).folder ?? maker);
    /** @type {{places: Uint32Array, starts: Uint32Array, at: number}[]} the families of which one thing is known */
    this.groups = [];
    /**
     * @type {number[]} families with a name whose words are not those of an id, so that whole names are looked for in
     * each
     */
    this.odd = [];
    /** @type {string[][]} */
    this.keys = [];
    /**
     * @type {{places: Uint32Array, firsts: Uint32Array, lasts: Uint32Array, others: {shape: string, first: string,
     * last: string, place: number, line: number}[]}|null}
     */
    this.held = null;
    /** @type {string[]|null} */
    this.misspelt = null;
    this.#fill();
    /** @type {Map<string, string[]>} words by their first character */
    this.begun = new Map();
    for (const word of this.postings.keys()) {
      const same = this.begun.get(word[0]);
      if (same) same.push(word);
      else this.begun.set(word[0], [word]);
    }
  }

  /** A column that few searches need, as texts. @param {string} key @returns {string[]} */
  #later(key) {
    let texts = this.texts.get(key);
    if (!texts) this.texts.set(key, (texts = this.#texts(key)));
    return texts;
  }

  get names() {
    return this.#later("name");
  }

  get owns() {
    return this.#later("own");
  }

  get lookFors() {
    return this.#later("look_for");
  }

  get serials() {
    return this.#later("serials");
  }

  /** @param {string} key @returns {any[]} */
  #texts(key) {
    const at = this.part.layout.node(`.${key}`);
    return at < 0 ? [] : this.part.all(at);
  }

  /** The words that may be meant by a misspelt one. */
  get vocabulary() {
    if (!this.misspelt) {
      this.misspelt = [...this.postings.keys()].filter(mayBeMisspelt);
      this.known = new Set(this.misspelt);
    }
    return this.misspelt;
  }

  /** Make what only some searches need, so that none waits for it. */
  warm() {
    this.ranges();
    return this.vocabulary.length;
  }

  /** @param {number} place */
  own(place) {
    return this.owns[place] || this.names[place].toLowerCase().replace(/[ .]/g, "-");
  }

  /** @param {number} place */
  id(place) {
    return `${this.folders[place]}/${this.own(place)}`;
  }

  /** The years as printed, or nothing. @param {number} place */
  yearsInWords(place) {
    return rangesOf(this.years[place]).map(rangeInWords).join(", ");
  }

  /** @param {string} word @param {number} posting */
  #post(word, posting) {
    const same = this.postings.get(word);
    if (same === undefined) this.postings.set(word, posting);
    else if (typeof same === "number") {
      if (same !== posting) this.postings.set(word, [same, posting]);
    } else same.push(posting);
  }

  /** Families in the order of what a column says of them. @param {ArrayLike<number>} column @param {number} most */
  #sorted(column, most) {
    const starts = new Uint32Array(most + 2), places = new Uint32Array(this.count);
    for (let place = 0; place < this.count; place++) starts[column[place] + 2]++;
    for (let at = 2; at < starts.length; at++) starts[at] += starts[at - 1];
    for (let place = 0; place < this.count; place++) places[starts[column[place] + 1]++] = place;
    return { places, starts };
  }

  /**
   * Words of which each is known of all families that have one value.
   * @param {any[]} values
   * @param {(value: any, place: number) => string[]} words
   */
  #grouped(values, words) {
    /** @type {Map<any, number>} */
    const numbers = new Map(), column = new Uint32Array(this.count), firsts = [];
    for (let place = 0; place < this.count; place++) {
      let number = numbers.get(values[place]);
      if (number === undefined) {
        numbers.set(values[place], (number = numbers.size));
        firsts.push(place);
      }
      column[place] = number;
    }
    const sorted = this.#sorted(column, numbers.size);
    for (const [at, place] of firsts.entries()) {
      const told = words(values[place], place);
      if (!told.length) continue;
      this.groups.push({ ...sorted, at });
      for (const word of told) this.#post(word, -2 * this.groups.length);
    }
  }

  /**
   * Words of a text of each family: those between its numbers once for each pattern, the numbers of each.
   * @param {string} key
   * @param {(text: string) => string[]} words
   * @param {number} seen 1 where they are seen on the engine
   */
  #worded(key, words, seen) {
    const at = this.part.layout.node(`.${key}`);
    if (at < 0) return;
    const [, , values, children] = this.part.layout.nodes[at], column = this.part.column(at);
    const slots = Object.keys(children).map((_, slot) => this.part.column(children[`#${slot}`]));
    const sorted = this.#sorted(column, values.length);
    for (const [number, value] of values.entries()) {
      const from = sorted.starts[number], to = sorted.starts[number + 1];
      const pieces = typeof value === "object" && value !== null && "t" in value ? value.t : null;
      const clean = !pieces || pieces.every((piece) => typeof piece === "number" || !/[.'’‘]/.test(piece));
      if (typeof value === "string" || (pieces && clean)) {
        const told = pieces ? pieces.flatMap((piece) => (typeof piece === "string" ? words(piece) : [])) : words(/** @type {string} */ (value));
        if (told.length && to - from === 1) for (const word of told) this.#post(word, 2 * sorted.places[from] + seen);
        else if (told.length) {
          this.groups.push({ places: sorted.places, starts: sorted.starts, at: number });
          for (const word of told) this.#post(word, -2 * this.groups.length - seen);
        }
        for (let slot = 1; pieces && slot < pieces.length; slot += 2) {
          const width = /** @type {number} */ (pieces[slot]), numbers = slots[(slot - 1) / 2];
          for (let one = from; one < to; one++) {
            const place = sorted.places[one], digits = String(numbers[place]);
            this.#post(digits.length < width ? digits.padStart(width, "0") : digits, 2 * place + seen);
          }
        }
      } else if (pieces) {
        for (let one = from; one < to; one++) {
          for (const word of words(inPattern(pieces, slots, sorted.places[one]))) this.#post(word, 2 * sorted.places[one] + seen);
        }
      }
    }
  }

  #fill() {
    const { makers, given_up: givenUp, powers } = this.head;
    this.#worded("name", (text) => withPlainJoined(wordsOf(text)), 0);
    this.#worded("own", wordsOf, 0);
    this.#worded("look_for", seenWords, 1);
    this.#grouped(this.makers, (maker) => [...makers[maker].flatMap(withJoined), ...(givenUp[maker] || []).flatMap(([old]) => wordsOf(old))]);
    this.#grouped(this.folders, wordsOf);
    this.#grouped(this.powers, (power) => (power < 0 ? [] : powers[power].slice(1)));
    this.#grouped(this.years, (years) => rangesOf(years).flatMap(yearWords));
    this.#grouped(this.cylinders.map((cylinders, place) => (this.inV[place] ? `v${cylinders}` : cylinders)), (_, place) =>
      (this.cylinders[place] ? cylinderWords(this.cylinders[place], this.inV[place]) : []));
    this.#grouped(this.ignitions, (ignition) => (ignition ? ignitionWords(ignition) : []));
    this.#grouped(this.called, (called) => (called ? called.split("\n").flatMap((/** @type {string} */ one) => withPlainJoined(wordsOf(one))) : []));
    if (!this.count) return;
    const name = this.part.layout.node(".name"), column = this.part.column(name);
    const withPoints = this.part.layout.nodes[name][2].map((value) => JSON.stringify(value).includes("."));
    const anyGivenUp = Object.keys(givenUp).length > 0, anyPoints = withPoints.includes(true);
    for (let place = 0; place < this.count && (anyGivenUp || anyPoints || this.called.some(Boolean)); place++) {
      if (anyPoints && withPoints[column[place]]) for (const word of wordsOf(this.own(place))) this.#post(word, 2 * place);
      if (this.called[place]?.includes(".") || (anyGivenUp && givenUp[this.id(place)])) this.odd.push(place);
      if (anyGivenUp) {
        for (const [old] of givenUp[this.id(place)] || []) for (const word of wordsOf(old)) this.#post(word, 2 * place);
      }
    }
  }

  /** All that is known of a family, in the order in which it is told. @param {number} place @returns {Line[]} */
  lines(place) {
    const name = this.names[place], maker = this.makers[place], called = this.head.makers[maker], id = this.id(place);
    const own = this.own(place), power = this.powers[place];
    /** @type {Line[]} */
    const lines = [];
    /** @param {string} label @param {string[]} words @param {string[]} [names] @param {number} [score] */
    const add = (label, words, names = [], score = 0) => lines.push({ label, words, names, score, seen: false, oldId: "" });
    add(`name ${name}`, withJoined(name), [name, `${called[0]} ${name}`, `${maker} ${name}`], NAME);
    for (const [at, text] of called.entries()) {
      add(`maker ${called[0]}${at && text !== called[0] ? `, also called ${text}` : ""}`, withJoined(text));
    }
    for (const text of this.called[place] ? this.called[place].split("\n") : []) {
      add(`also called ${text}`, withJoined(text), [text, `${called[0]} ${text}`], OTHER_NAME);
    }
    add(`id ${id}`, wordsOf(id), nameKey(own) === nameKey(name) ? [id] : [id, own], ID);
    if (power >= 0) add(this.head.powers[power][0], this.head.powers[power].slice(1));
    for (const range of rangesOf(this.years[place])) add(`made ${rangeInWords(range)}`, yearWords(range));
    const cylinders = this.cylinders[place], inV = this.inV[place];
    if (cylinders) {
      const said = `${cylinders} cylinder${cylinders === "1" ? "" : "s"}${inV ? " in a V" : ""}`;
      add(said, cylinderWords(cylinders, inV));
    }
    if (this.ignitions[place]) add(`${this.ignitions[place]} ignition`, ignitionWords(this.ignitions[place]));
    if (this.lookFors[place]) {
      add(`look for: ${this.lookFors[place]}`, seenWords(this.lookFors[place]));
      lines[lines.length - 1].seen = true;
    }
    for (const range of rangesOf(this.serials[place])) add(`serial numbers ${rangeInWords(range)}`, []);
    for (const key of [id, maker]) {
      for (const [old, said, isFamily] of this.head.given_up[key] || []) {
        add(said, wordsOf(old), isFamily ? [old, old.slice(old.lastIndexOf("/") + 1)] : [], OLD_ID);
        lines[lines.length - 1].oldId = old;
      }
    }
    return lines;
  }

  /**
   * What a whole name or id means, best first: places with score and line.
   * @param {string} key
   * @param {number} limit
   */
  wholeNames(key, limit) {
    /** @type {Uint32Array|null} */
    let all = null;
    for (const word of key.split(" ")) {
      const having = this.having(word, false, true);
      all = all ? all.map((bits, at) => bits & having[at]) : having;
    }
    const places = [...this.odd];
    for (const [at, bits] of (all || new Uint32Array(0)).entries()) {
      for (let bit = 0; bits >>> bit && bit < 32; bit++) if (bits >>> bit & 1 && this.#endsSo(key, at * 32 + bit)) places.push(at * 32 + bit);
    }
    /** @type {Map<string, [number, number, number]>} */
    const rows = new Map();
    for (const place of places) {
      for (const [line, { names, score }] of this.lines(place).entries()) {
        if (names.some((name) => nameKey(name) === key)) rows.set(`${place} ${line}`, [place, score, line]);
      }
    }
    return [...rows.values()].sort((a, b) => b[1] - a[1] || a[0] - b[0] || a[2] - b[2]).slice(0, limit);
  }

  /** Whether a key is, or ends with, a name of a family. @param {string} key @param {number} place */
  #endsSo(key, place) {
    this.keys[place] ||= [this.names[place], this.own(place), ...(this.called[place] || "").split("\n")].map(nameKey);
    return this.keys[place].some((one) => one && key.endsWith(one));
  }

  /** Ranges of whole numbers, each family's one range, as columns; and all other ranges. */
  ranges() {
    if (this.held) return this.held;
    /** @type {{shape: string, first: string, last: string, place: number, line: number}[]} */
    const others = [];
    this.held = { places: new Uint32Array(0), firsts: new Uint32Array(0), lasts: new Uint32Array(0), others };
    const at = this.part.layout.node(".serials");
    if (at < 0) return this.held;
    const [, , values, children] = this.part.layout.nodes[at], column = this.part.column(at), places = [];
    const plain = values.map((value) => typeof value === "object" && value !== null && "t" in value &&
      value.t.length === 5 && value.t[0] === "" && value.t[2] === "\t" && value.t[4] === "");
    for (let place = 0; place < this.count; place++) {
      if (plain[column[place]]) {
        places.push(place);
        continue;
      }
      for (const [line, [first, last]] of rangesOf(this.part.read(place, at)).entries()) {
        const from = first === null ? null : serialPlace(first), to = last === null ? null : serialPlace(last);
        const shape = (from || to)?.shape;
        if (shape === undefined || (from && to && from.shape !== to.shape)) continue;
        others.push({ shape, first: from ? from.place : "", last: to ? to.place : "~", place, line });
      }
    }
    if (places.length) {
      const [firsts, lasts] = ["#0", "#1"].map((slot) => this.part.column(children[slot]));
      this.held = { places: Uint32Array.from(places), firsts, lasts, others };
    }
    return this.held;
  }

  /**
   * The families of which a range holds a serial number, each with the range, in their order.
   * @param {string} serial
   * @param {string} letters with which the range's ends must begin
   */
  holding(serial, letters) {
    const { shape, place: at } = serialPlace(serial), { places, firsts, lasts, others } = this.ranges();
    /** @type {{place: number, line: number}[]} */
    const found = others.filter((range) => range.shape === shape && range.last >= at && range.first <= at &&
      (range.first.startsWith(letters) || range.last.startsWith(letters)));
    const number = shape === "9" ? Number(at.slice(3)) : -1;
    if (number >= 0) for (const place of places) if (firsts[place] <= number && number <= lasts[place]) found.push({ place, line: 0 });
    return found.sort((a, b) => a.place - b.place || a.line - b.line);
  }

  /**
   * The families that have a word, or one that begins so, as a set of bits.
   * @param {string} word
   * @param {boolean} grows
   * @param {boolean} said
   */
  having(word, grows, said) {
    const key = `${said ? "s" : "a"}${grows ? "*" : "="}${word}`, known = this.sets.get(key);
    if (known) return known;
    const set = new Uint32Array((this.count + 31) >> 5);
    const words = grows ? (this.begun.get(word[0]) || []).filter((one) => one.startsWith(word)) : [word];
    for (const one of words) {
      const held = this.postings.get(one);
      for (const posting of held === undefined ? [] : typeof held === "number" ? [held] : held) {
        if (posting < 0) {
          if (said && posting & 1) continue;
          const { places, starts, at } = this.groups[((-posting) >> 1) - 1];
          for (let one = starts[at]; one < starts[at + 1]; one++) set[places[one] >> 5] |= 1 << (places[one] & 31);
        } else if (!said || !(posting & 1)) set[posting >> 6] |= 1 << ((posting >> 1) & 31);
      }
    }
    const pair = /^~([^~]+)~([^~]+)$/.exec(word);
    if (pair && !grows) this.#sideBySide(word, pair[1], pair[2], set);
    if (this.sets.size > 4000) this.sets.clear();
    this.sets.set(key, set);
    return set;
  }

  /**
   * Two words side by side in a name of the family's own: looked for only where it has both.
   * @param {string} pair
   * @param {string} one
   * @param {string} other
   * @param {Uint32Array} set
   */
  #sideBySide(pair, one, other, set) {
    const first = this.having(one, false, true), second = this.having(other, false, true);
    for (let at = 0; at < set.length; at++) {
      for (let bits = first[at] & second[at] & ~set[at], bit = 0; bits >>> bit && bit < 32; bit++) {
        if (!(bits >>> bit & 1)) continue;
        const place = at * 32 + bit, called = this.called[place] ? this.called[place].split("\n") : [];
        if ([this.names[place], ...called].some((name) => withJoined(name).includes(pair))) set[at] |= 1 << bit;
      }
    }
  }
}
