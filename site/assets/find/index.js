// The headings of a book, and by each word the families that have it: what kb/book/find/lines.py and index.py make.

import { Layout, Part, unpressed } from "../columns.js";
import { ALL_LETTERS, mayBeMisspelt } from "./slips.js";
import { FIRST_YEAR, LAST_YEAR, nameKey, wordsOf } from "./words.js";

/** @typedef {{label: string, words: string[], names: string[], score: number, seen: boolean, oldId: string}} Line */
/** @typedef {{date: string, makers: Record<string, string[]>, powers: string[][], given_up: Record<string, string[][]>}} Head */
/** @typedef {number|number[]} Posting twice the place of a family, one more where the word is seen on the engine;
 * below nought the number of a group of families of which one thing is known */

const CYLINDERS = /** @type {Record<string, string>} */ ({ 1: "single", 2: "twin", 3: "triple" });
const SPARKS = /** @type {Record<string, string[]>} */ ({ breaker: ["points"], capacitor: ["cdi", "cd"] });
const UNTOLD = new Set(("a an the of in on with by for from and or but is are it its to at as that which one").split(" "));
export const ID = 100, NAME = 95, OLD_ID = 90, OTHER_NAME = 85;

/** @param {(string|null)[]} range */
export function rangeInWords([first, last]) {
  if (first === last) return String(first);
  if (first === null) return `up to ${last}`;
  return last !== null ? `${first} to ${last}` : `from ${first}`;
}

/** Words side by side in a name, its letters without blanks, its numbers without points. @param {string[]} words @param {boolean} [pairs] */
function joined(words, pairs = true) {
  /** @type {string[]} */
  const more = [];
  for (let at = 1; pairs && at < words.length; at++) more.push(`~${words[at - 1]}~${words[at]}`);
  const letters = words.filter((word) => ALL_LETTERS.test(word));
  if (letters.length > 1) more.push(letters.join(""));
  for (const word of words) if (word.includes(".")) more.push(`~${word.replaceAll(".", "")}`);
  return more;
}

/** The words of a name, and those joined. @param {string} name */
function withJoined(name) {
  const words = wordsOf(name);
  return words.concat(joined(words));
}

/** Ranges as they are kept: a line each, a tab between their ends. @param {string} text @returns {(string|null)[][]} */
export const rangesOf = (text) => (text ? text.split("\n").map((line) => line.split("\t").map((end) => end || null)) : []);

/** @param {(string|null)[]} range */
function yearWords([first, last]) {
  const from = Number(first || FIRST_YEAR), to = Number(last || LAST_YEAR + 1), words = [`~${from}~${to}`];
  for (let year = Math.max(from, FIRST_YEAR); year <= Math.min(to, LAST_YEAR); year++) words.push(String(year));
  return words;
}

/** @param {string} cylinders @param {boolean} inV */
function cylinderWords(cylinders, inV) {
  const known = Object.hasOwn(CYLINDERS, cylinders) ? [CYLINDERS[cylinders]] : [];
  return [`~${cylinders}cyl`, ...known, ...(inV ? [`~v${cylinders}`, "v"] : [])];
}

/** @param {string} kind */
function ignitionWords(kind) {
  const parts = kind.split("-");
  return [...parts, ...parts.flatMap((part) => (Object.hasOwn(SPARKS, part) ? SPARKS[part] : []))];
}

/** @param {string} text */
const seenWords = (text) => wordsOf(text).filter((word) => !UNTOLD.has(word));

const DIGITS = /^[0-9]+$/, NOUGHTS = /^0+(?=[0-9])/;

/** The runs of a serial number: its shape, and a text that sorts as serial numbers do. @param {string} serial */
export function serialPlace(serial) {
  if (serial.length < 65 && DIGITS.test(serial)) {
    const plain = serial.replace(NOUGHTS, "");
    return { shape: "9", place: String(plain.length).padStart(3, "0") + plain };
  }
  const runs = [...serial].slice(0, 64).join("").toUpperCase().match(/[A-Z]+|[0-9]+/g) || [];
  let shape = "", place = "";
  for (const run of runs) {
    const isNumber = run[0] <= "9", plain = isNumber ? run.replace(NOUGHTS, "") : run;
    shape += isNumber ? "9" : "A";
    place += isNumber ? String(plain.length).padStart(3, "0") + plain : `${plain} `;
  }
  return { shape, place };
}

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
    /** @type {Map<string, number[]>} */
    this.named = new Map();
    this.names = this.#texts("name");
    this.owns = this.#texts("own");
    this.makers = this.#texts("maker");
    this.powers = this.#texts("power");
    this.cylinders = this.#texts("cylinders");
    this.inV = this.#texts("v");
    this.ignitions = this.#texts("ignition");
    this.lookFors = this.#texts("look_for");
    this.called = this.#texts("called");
    this.years = this.#texts("years");
    this.serials = this.#texts("serials");
    const folder = part.layout.node(".folder");
    this.folders = folder < 0 ? this.makers : this.makers.map((maker, at) => part.read(at).folder ?? maker);
    /** @type {number[][]} places of the families of which one thing is known */
    this.groups = [];
    /** @type {{shape: string, first: string, last: string, place: number, line: number}[]|null} */
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

  #fill() {
    /** @type {Map<string, number>} */
    const known = new Map();
    /** @param {string} key @param {number} place @param {() => string[]} words */
    const grouped = (key, place, words) => {
      let group = known.get(key);
      if (group === undefined) {
        known.set(key, (group = this.groups.length));
        this.groups.push([]);
        for (const word of words()) this.#post(word, -1 - group);
      }
      this.groups[group].push(place);
    };
    const { makers, given_up: givenUp, powers } = this.head;
    const anyGivenUp = Object.keys(givenUp).length > 0;
    for (let place = 0; place < this.count; place++) {
      const name = this.names[place], maker = this.makers[place], words = wordsOf(name), said = 2 * place;
      for (const word of words) this.#post(word, said);
      if (words.length > 1) for (const word of joined(words, false)) this.#post(word, said);
      this.#add(words.join(" ").replaceAll(".", " "), place);
      grouped(`m${maker}`, place, () => [...makers[maker].flatMap(withJoined),
        ...(givenUp[maker] || []).flatMap(([old]) => wordsOf(old))]);
      grouped(`f${this.folders[place]}`, place, () => wordsOf(this.folders[place]));
      const own = this.owns[place];
      if (own !== "" || words.some((word) => word.includes("."))) { // else its words are those of the name
        const ownWords = wordsOf(this.own(place));
        for (const word of ownWords) this.#post(word, said);
        this.#add(ownWords.join(" "), place);
      }
      if (this.called[place]) {
        for (const called of this.called[place].split("\n")) {
          const calledWords = wordsOf(called);
          for (const word of calledWords) this.#post(word, said);
          for (const word of joined(calledWords, false)) this.#post(word, said);
          this.#add(nameKey(called), place);
        }
      }
      const power = this.powers[place], years = this.years[place], ignition = this.ignitions[place];
      if (power >= 0) grouped(`p${power}`, place, () => powers[power].slice(1));
      if (years) grouped(`y${years}`, place, () => rangesOf(years).flatMap(yearWords));
      const cylinders = this.cylinders[place], inV = this.inV[place];
      if (cylinders) grouped(`${inV ? "v" : "c"}${cylinders}`, place, () => cylinderWords(cylinders, inV));
      if (ignition) grouped(`i${ignition}`, place, () => ignitionWords(ignition));
      if (this.lookFors[place]) for (const word of seenWords(this.lookFors[place])) this.#post(word, said + 1);
      if (anyGivenUp) {
        for (const [old] of givenUp[this.id(place)] || []) {
          for (const word of wordsOf(old)) this.#post(word, said);
          this.#add(nameKey(old), place);
          this.#add(nameKey(old.slice(old.lastIndexOf("/") + 1)), place);
        }
      }
    }
  }

  /** @param {string} key @param {number} place */
  #add(key, place) {
    const same = this.named.get(key);
    if (!same) this.named.set(key, [place]);
    else if (same[same.length - 1] !== place) same.push(place);
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

  /** What a whole name or id means, best first: places with score and line. @param {string} key @param {number} limit */
  wholeNames(key, limit) {
    const words = key.split(" "), places = new Set();
    for (let cut = 0; cut < words.length; cut++) { // a maker may stand before the name
      for (const place of this.named.get(words.slice(cut).join(" ")) || []) places.add(place);
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

  /** Every range of serial numbers, in the order of families. */
  ranges() {
    if (this.held) return this.held;
    this.held = [];
    for (let place = 0; place < this.count; place++) {
      for (const [at, [first, last]] of rangesOf(this.serials[place]).entries()) {
        const from = first === null ? null : serialPlace(first), to = last === null ? null : serialPlace(last);
        const shape = (from || to)?.shape;
        if (shape === undefined || (from && to && from.shape !== to.shape)) continue;
        this.held.push({ shape, first: from ? from.place : "", last: to ? to.place : "~", place, line: at });
      }
    }
    return this.held;
  }

  /** The families that have a word, or one that begins so, as a set of bits. @param {string} word @param {boolean} grows @param {boolean} said */
  having(word, grows, said) {
    const key = `${said ? "s" : "a"}${grows ? "*" : "="}${word}`, known = this.sets.get(key);
    if (known) return known;
    const set = new Uint32Array((this.count + 31) >> 5);
    const words = grows ? (this.begun.get(word[0]) || []).filter((one) => one.startsWith(word)) : [word];
    for (const one of words) {
      const held = this.postings.get(one);
      for (const posting of held === undefined ? [] : typeof held === "number" ? [held] : held) {
        if (posting < 0) {
          for (const place of this.groups[-1 - posting]) set[place >> 5] |= 1 << (place & 31);
        } else if (!said || !(posting & 1)) set[posting >> 6] |= 1 << ((posting >> 1) & 31);
      }
    }
    const pair = /^~([^~]+)~([^~]+)$/.exec(word);
    if (pair && !grows) this.#sideBySide(word, pair[1], pair[2], set);
    if (this.sets.size > 4000) this.sets.clear();
    this.sets.set(key, set);
    return set;
  }

  /** Two words side by side in a name of the family's own: looked for only where it has both. @param {string} pair @param {string} one @param {string} other @param {Uint32Array} set */
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
