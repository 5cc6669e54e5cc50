// The headings of a book, and by each word the families that have it: what kb/book/find/known_facts.py and index.py make.

import { Layout, Part, unpressed } from "../../columns.js";
import { cylinderWords, ignitionWords, rangeInWords, rangesOf, seenWords, withJoined } from "../known-facts.js";
import { nameKey, wordsOf } from "../words.js";
import { mark, meet, placesIn } from "./bit-set.js";
import { linesOf } from "./lines.js";
import { Plain } from "./plain-column.js";
import { Ranges } from "./range-columns.js";
import { Having, nameWords } from "./word-columns.js";

/**
 * @typedef {{date: string, makers: Record<string, string[]>, powers: string[][], given_up: Record<string,
 * [string, string, string][]>}} Head
 */

/** Reads the file and finds nothing by itself: see searching.js. */
export class Index {
  /** @param {ArrayBuffer} bytes */
  static async read(bytes) {
    const raw = await unpressed(bytes);
    const length = new DataView(raw.buffer, raw.byteOffset).getUint32(0, true);
    const [head, shapes] = JSON.parse(new TextDecoder().decode(raw.subarray(4, 4 + length)));
    return new Index(head, new Part(new Layout(shapes), raw.subarray(4 + length), 0));
  }

  /** @param {Head} head @param {Part} part */
  constructor(head, part) {
    this.head = head;
    this.part = part;
    this.count = part.count;
    this.makers = new Plain(part, "maker");
    this.powers = new Plain(part, "power", -1);
    this.cylinders = new Plain(part, "cylinders");
    this.inV = new Plain(part, "v", false);
    this.ignitions = new Plain(part, "ignition");
    this.called = new Plain(part, "called");
    this.folders = this.makers;
    if (part.layout.node(".folder") >= 0) {
      this.folders = new Plain(part, "");
      this.folders.number(
        Array.from({ length: this.count }, (_, place) => part.read(place).folder ?? this.makers.of(place)),
      );
    }
    this.years = new Ranges(part, "years");
    /** @type {Ranges|null} */
    this.held = null;
    this.having = new Having(this.count);
    /** @type {number[]} families with a name whose words are not those of an id: whole names are looked for in each */
    this.odd = [];
    /** @type {string[][]} */
    this.keys = [];
    this.#fill();
  }

  /** The words that may be meant by a misspelt one. */
  get known() {
    return this.having.misspelt || this.having.vocabulary(this.years.years());
  }

  /** Serial numbers, which only some searches need. */
  get serials() {
    this.held ||= new Ranges(this.part, "serials");
    return this.held;
  }

  /** Make what only some searches need, so that none waits for it. */
  warm() {
    return this.serials.runs().length + this.known.size;
  }

  /** What stands in a family's own text. @param {string} key @param {number} place @returns {string} */
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
   * The power in words, and the words it is found by; nothing where none is known.
   * @param {number} place
   * @returns {string[]}
   */
  power(place) {
    return this.head.powers[this.powers.of(place)] || [];
  }

  /** The years as printed, or nothing. @param {number} place */
  yearsInWords(place) {
    return rangesOf(this.text("years", place)).map(rangeInWords).join(", ");
  }

  /** What else it is called. @param {number} place @returns {string[]} */
  alsoCalled(place) {
    const called = this.called.of(place);
    return called ? called.split("\n") : [];
  }

  #fill() {
    const { having, part } = this;
    const { makers, given_up: givenUp, powers } = this.head;
    having.texts(part, "name", nameWords, { joined: true });
    having.texts(part, "own", wordsOf);
    having.texts(part, "look_for", seenWords, { seen: true });
    having.values(this.makers, (maker) =>
      (makers[maker] || []).flatMap(withJoined).concat((givenUp[maker] || []).flatMap(([old]) => wordsOf(old))),
    );
    having.values(this.folders, wordsOf);
    having.values(this.powers, (power) => (powers[power] || []).slice(1));
    having.values(this.ignitions, (ignition) => (ignition ? ignitionWords(ignition) : []));
    having.values(this.called, (called) => (called ? called.split("\n").flatMap(nameWords) : []));
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
    this.having.values(both, ([count, isV]) => (count ? cylinderWords(count, isV) : []));
  }

  /** Where an id is made of the name, a point parts it in two. */
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
    this.having.texts(this.part, "name", words, { patterns, points: false }, (_, number) => Boolean(withPoint[number]));
  }

  #oddOnes() {
    const { given_up: givenUp } = this.head;
    const anyGivenUp = Object.keys(givenUp).some((key) => key.includes("/"));
    const withPoint = this.called.values.map((called) => String(called).includes("."));
    for (let place = 0; place < this.count && (anyGivenUp || withPoint.includes(true)); place++) {
      const old = anyGivenUp ? givenUp[this.id(place)] : undefined;
      if (old || withPoint[this.called.column[place] ?? -1]) this.odd.push(place);
      for (const [id] of old || []) for (const word of wordsOf(id)) this.having.one(word, place);
    }
  }

  /** All that is known of a family, in the order in which it is told. @param {number} place */
  lines(place) {
    return linesOf(this, place);
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
      const having = this.set(word, false, true);
      all = all ? meet(all, having) : having;
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

  /** Whether a key is, or ends with, a name of a family. @param {string} key @param {number} place */
  #endsSo(key, place) {
    this.keys[place] ||= [this.name(place), this.own(place), ...this.alsoCalled(place)].map(nameKey);
    return (this.keys[place] ?? []).some((one) => one && key.endsWith(one));
  }

  /**
   * The families that have a word, or one that begins so, as a set of bits.
   * @param {string} word
   * @param {boolean} grows
   * @param {boolean} said
   */
  set(word, grows, said) {
    return this.having.set(word, grows, said, (set) => {
      this.years.markYears(set, word, grows);
      const pair = grows ? null : /^~([^~]+)~([^~]+)$/.exec(word);
      if (pair?.[1] && pair[2]) this.#sideBySide(pair[1], pair[2], set);
    });
  }

  /**
   * Two words side by side in a name of the family's own: looked for only where it has both.
   * @param {string} one
   * @param {string} other
   * @param {Uint32Array} set
   */
  #sideBySide(one, other, set) {
    const first = this.set(one, false, true);
    const second = this.set(other, false, true);
    const sideBySide = (/** @type {string} */ name) =>
      wordsOf(name).some((word, at, words) => word === one && words[at + 1] === other);
    for (const place of placesIn(meet(first, second))) {
      if ([this.name(place), ...this.alsoCalled(place)].some(sideBySide)) mark(set, place);
    }
  }
}
