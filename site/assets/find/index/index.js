// The finding index of a book: its headings, and for each word the families that have it; see kb/book/find/index.py.

import { decompressed, Layout, Part } from "../../columns.js";
import {
  cylinderWords,
  ignitionWords,
  linesOf,
  rangeInWords,
  rangesOf,
  seenWords,
  withJoined,
} from "../known-facts.js";
import { nameKey, wordsOf } from "../words.js";
import { intersection, mark, placesIn } from "./bit-set.js";
import { PlainColumn } from "./plain-column.js";
import { RangeColumns } from "./range-columns.js";
import { nameWords, WordColumns } from "./word-columns.js";

/**
 * @typedef {{date: string, makers: Record<string, string[]>, powers: string[][], given_up: Record<string,
 * [string, string, string][]>}} Head
 */

/** The index as read from its file; `searching.js` searches it. */
export class Index {
  /** @param {ArrayBuffer} bytes */
  static async read(bytes) {
    const raw = await decompressed(bytes);
    const length = new DataView(raw.buffer, raw.byteOffset).getUint32(0, true);
    const [head, shapes] = JSON.parse(new TextDecoder().decode(raw.subarray(4, 4 + length)));
    return new Index(head, new Part(new Layout(shapes), raw.subarray(4 + length), 0));
  }

  /** @param {Head} head @param {Part} part */
  constructor(head, part) {
    this.head = head;
    this.part = part;
    this.count = part.count;
    this.makers = new PlainColumn(part, "maker");
    this.powers = new PlainColumn(part, "power", -1);
    this.cylinders = new PlainColumn(part, "cylinders");
    this.inV = new PlainColumn(part, "v", false);
    this.ignitions = new PlainColumn(part, "ignition");
    this.called = new PlainColumn(part, "called");
    this.folders = this.makers;
    if (part.layout.node(".folder") >= 0) {
      this.folders = new PlainColumn(part, "");
      this.folders.number(
        Array.from({ length: this.count }, (_, place) => part.read(place).folder ?? this.makers.of(place)),
      );
    }
    this.years = new RangeColumns(part, "years");
    /** @type {RangeColumns|null} */
    this.held = null;
    /** How many families have a maker's name. @type {Map<string, number>|null} */
    this.named = null;
    this.wordColumns = new WordColumns(this.count);
    /** @type {number[]} families with a name that the index does not hold word by word: whole names are compared one by one */
    this.odd = [];
    /** @type {string[][]} */
    this.keys = [];
    this.#fill();
  }

  /** The words that a misspelt one may mean. */
  get known() {
    return this.wordColumns.misspelt || this.wordColumns.vocabulary(this.years.years());
  }

  /** Serial numbers, read when first needed. */
  get serials() {
    this.held ||= new RangeColumns(this.part, "serials");
    return this.held;
  }

  /** Prepare what only some searches need, before one needs it. */
  warm() {
    return this.serials.runs().length + this.known.size;
  }

  /** A text of a family. @param {string} key @param {number} place @returns {string} */
  text(key, place) {
    const at = this.part.layout.node(`.${key}`);
    return at < 0 ? "" : this.part.read(place, at);
  }

  /** @param {number} place */
  name(place) {
    return this.text("name", place);
  }

  /** @param {number} place */
  own(place) {
    return this.text("own", place) || this.name(place).toLowerCase().replace(/[ .]/g, "-");
  }

  /** @param {number} place */
  id(place) {
    return `${this.folders.of(place)}/${this.own(place)}`;
  }

  /** Its maker's names, the usual one first. @param {number} place @returns {string[]} */
  makerNames(place) {
    return this.head.makers[this.makers.of(place)] ?? [];
  }

  /**
   * The power in words, and the words by which it is found; empty if unknown.
   * @param {number} place
   * @returns {string[]}
   */
  power(place) {
    return this.head.powers[this.powers.of(place)] || [];
  }

  /** The years as printed; empty if unknown. @param {number} place */
  yearsInWords(place) {
    return rangesOf(this.text("years", place)).map(rangeInWords).join(", ");
  }

  /** The serial numbers as printed; empty if unknown. @param {number} place */
  serialsInWords(place) {
    return rangesOf(this.text("serials", place)).map(rangeInWords).join(", ");
  }

  /** Whether its maker has another family of that name. @param {number} place */
  hasTwin(place) {
    const key = (/** @type {number} */ one) =>
      `${this.makers.of(one)}/${this.name(one).split(/\s+/).join(" ").toLowerCase()}`;
    if (!this.named) {
      this.named = new Map();
      for (let one = 0; one < this.count; one++) this.named.set(key(one), (this.named.get(key(one)) ?? 0) + 1);
    }
    return (this.named.get(key(place)) ?? 0) > 1;
  }

  /** What else it is called. @param {number} place @returns {string[]} */
  alsoCalled(place) {
    const called = this.called.of(place);
    return called ? called.split("\n") : [];
  }

  #fill() {
    const { wordColumns, part } = this;
    const { makers, given_up: givenUp, powers } = this.head;
    wordColumns.texts(part, "name", nameWords, { joined: true });
    wordColumns.texts(part, "own", wordsOf);
    wordColumns.texts(part, "look_for", seenWords, { seen: true });
    wordColumns.values(this.makers, (maker) =>
      (makers[maker] || []).flatMap(withJoined).concat((givenUp[maker] || []).flatMap(([old]) => wordsOf(old))),
    );
    wordColumns.values(this.folders, wordsOf);
    wordColumns.values(this.powers, (power) => (powers[power] || []).slice(1));
    wordColumns.values(this.ignitions, (ignition) => (ignition ? ignitionWords(ignition) : []));
    wordColumns.values(this.called, (called) => (called ? called.split("\n").flatMap(nameWords) : []));
    this.#cylinders();
    if (this.count) this.#idsOfNames();
    this.#oddOnes();
  }

  #cylinders() {
    const { cylinders, inV } = this;
    const several = inV.values.length;
    const both = {
      values: cylinders.values.flatMap((count) => inV.values.map((isV) => [count, isV])),
      column: new Uint32Array(this.count),
    };
    for (let place = 0; place < this.count; place++)
      both.column[place] = (cylinders.column[place] ?? 0) * several + (inV.column[place] ?? 0);
    this.wordColumns.values(both, ([count, isV]) => (count ? cylinderWords(count, isV) : []));
  }

  /** In an id made of the name, a point separates words. */
  #idsOfNames() {
    const own = this.part.layout.node(".own");
    const name = this.part.layout.node(".name");
    const { nodes } = this.part.layout;
    const withPoint = (nodes[name]?.[2] ?? []).map((/** @type {any} */ value) =>
      (typeof value === "string" ? [value] : value?.t || []).some(
        (/** @type {string|number} */ piece) => typeof piece === "string" && piece.includes("."),
      ),
    );
    if (!withPoint.includes(true)) return;
    const derived = (nodes[own]?.[2] ?? []).map((/** @type {any} */ value) => value === "");
    const patterns = this.part.column(name).slice();
    const owns = this.part.column(own);
    for (let place = 0; place < this.count; place++) if (!derived[owns[place] ?? -1]) patterns[place] = 0xffffffff;
    const words = (/** @type {string} */ text) => wordsOf(text.replace(/[ .]/g, "-"));
    this.wordColumns.texts(this.part, "name", words, { patterns, points: false }, (_, number) =>
      Boolean(withPoint[number]),
    );
  }

  #oddOnes() {
    const { given_up: givenUp } = this.head;
    const anyGivenUp = Object.keys(givenUp).some((key) => key.includes("/"));
    const withPoint = this.called.values.map((called) => String(called).includes("."));
    for (let place = 0; place < this.count && (anyGivenUp || withPoint.includes(true)); place++) {
      const old = anyGivenUp ? givenUp[this.id(place)] : undefined;
      if (old || withPoint[this.called.column[place] ?? -1]) this.odd.push(place);
      for (const [id] of old || []) for (const word of wordsOf(id)) this.wordColumns.one(word, place);
    }
  }

  /** The facts of a family, in the order in which they are shown. @param {number} place */
  lines(place) {
    return linesOf(this, place);
  }

  /**
   * The families with a whole name or id, best first: place, score and line.
   * @param {string} key
   * @param {number} limit
   */
  wholeNames(key, limit) {
    /** @type {Uint32Array|null} */
    let all = null;
    for (const word of key.split(" ")) {
      const wordColumns = this.set(word, false, true);
      all = all ? intersection(all, wordColumns) : wordColumns;
    }
    const places = [...this.odd];
    for (const place of placesIn(all || new Uint32Array(0))) if (this.#endsSo(key, place)) places.push(place);
    /** @type {Map<string, [number, number, number]>} */
    const rows = new Map();
    for (const place of places) {
      for (const [line, { names, score }] of this.lines(place).entries()) {
        if (names.some((name) => nameKey(name) === key)) rows.set(`${place} ${line}`, [place, score, line]);
      }
    }
    return [...rows.values()].sort((a, b) => b[1] - a[1] || a[0] - b[0] || a[2] - b[2]).slice(0, limit);
  }

  /** Whether a key is or ends with a name of a family. @param {string} key @param {number} place */
  #endsSo(key, place) {
    this.keys[place] ||= [this.name(place), this.own(place), ...this.alsoCalled(place)].map(nameKey);
    return (this.keys[place] ?? []).some((one) => one && key.endsWith(one));
  }

  /**
   * The families that have a word, or one that begins with it, as a bit set.
   * @param {string} word
   * @param {boolean} grows
   * @param {boolean} said
   */
  set(word, grows, said) {
    return this.wordColumns.set(word, grows, said, (set) => {
      this.years.markYears(set, word, grows);
      const pair = grows ? null : /^~([^~]+)~([^~]+)$/.exec(word);
      if (pair?.[1] && pair[2]) this.#sideBySide(pair[1], pair[2], set);
    });
  }

  /**
   * Adds the families with two words side by side in a name; only families that have both are searched.
   * @param {string} one
   * @param {string} other
   * @param {Uint32Array} set
   */
  #sideBySide(one, other, set) {
    const first = this.set(one, false, true);
    const second = this.set(other, false, true);
    const sideBySide = (/** @type {string} */ name) =>
      wordsOf(name).some((word, at, words) => word === one && words[at + 1] === other);
    for (const place of placesIn(intersection(first, second))) {
      if ([this.name(place), ...this.alsoCalled(place)].some(sideBySide)) mark(set, place);
    }
  }
}
