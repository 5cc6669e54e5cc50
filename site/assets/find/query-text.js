// The typed text: its words, and what each may mean; the same as kb/book/find/query_text.py.

import {
  beginning,
  FIRST_YEAR,
  fold,
  IN_WORD,
  LAST_YEAR,
  NOT_ASCII,
  nameKey,
  PLAIN_WORDS,
  plainWord,
  WORD,
  WORDS,
} from "./words.js";

/** @typedef {string[]} Group index words that a family must all have */
/**
 * One typed word. A family matches if it has all words of any group.
 * @typedef {object} Word
 * @property {string} typed
 * @property {Group[]} exact what was typed
 * @property {boolean} grows whether it may be the beginning of a word
 * @property {Group[]} wider counted like a beginning
 * @property {Group[]} near other meanings, if nothing better is found
 * @property {Group[]} alsoNear
 * @property {number[]} places of its parts in the typed text
 */
/** @typedef {{text: string, places: number[], apart: boolean}} Serial */
/** @typedef {{text: string, start: number, end: number, years?: [number, number]}} TextPart */

const MOST_WORDS = 8;
const YEAR = "(?:1[89]|20)?[0-9]{2}";
/** @param {string} inWord @param {string} word @param {string} flags */
const typedIn = (inWord, word, flags) =>
  new RegExp(
    `(?<!${inWord}|[.'/-])'?(?<first>${YEAR})\\s?(?:-|/|to)\\s?'?(?<last>${YEAR})(?!${inWord}|[.'/-]${inWord})` +
      `|(?<!${inWord}|\\.)'?(?<decade>(?:1[89]|20)?[0-9]0)'?s(?!${inWord})` +
      `|'(?<short>[0-9]{2})(?!${inWord}|\\.${inWord})|(?<word>${word})`,
    flags,
  );
const PLAIN = typedIn("[a-z0-9_]", "[0-9]+(?:\\.[0-9]+)?|[a-z]+", "g"); // the other takes long to compile
/** @type {RegExp|null} */
let anyScript = null;
/** @type {Record<string, string>} */
const UNITS = {
  hp: "hp",
  bhp: "hp",
  horse: "hp",
  horsepower: "hp",
  kw: "kw",
  kilowatt: "kw",
  kilowatts: "kw",
  ps: "ps",
};
/** @type {Record<string, string>} */
const COUNTS = { one: "1", two: "2", three: "3", four: "4", five: "5", six: "6", seven: "7", eight: "8" };
const NOISE = new Set(
  (
    "a an the of in on with by for from year years made model sn no serial serials number numbers " +
    "hp bhp kw cyl cylinder cylinders ignition engine engines motor motors outboard outboards"
  ).split(" "),
);

/** @param {TextPart} part */
const isNumber = (part) => !part.years && /^[0-9]/.test(part.text);
/** @template T @param {Record<string, T>} table @param {string} key @returns {T|undefined} */
const own = (table, key) => (Object.hasOwn(table, key) ? table[key] : undefined);

/**
 * @param {string} typed
 * @param {Group[]} exact
 * @param {Partial<Word>} [more]
 * @returns {Word}
 */
export function word(typed, exact, more = {}) {
  return { typed, exact, grows: true, wider: [], near: [], alsoNear: [], places: [], ...more };
}

/**
 * Read the typed text; it never fails.
 * @param {string} text
 * @returns {{words: Word[], key: string, serials: Serial[]}}
 */
export function readTyped(text) {
  const begun = beginning(text);
  const folded = beginning(fold(begun));
  const parts = partsOf(folded);
  const words = wordsOfParts(parts);
  const telling = words.filter((one) => !NOISE.has(one.typed));
  const chosen = (telling.length ? telling : words).slice(0, MOST_WORDS);
  return { words: chosen, key: nameKey(begun), serials: serialsOf(parts, folded) };
}

/** @param {string} folded @returns {TextPart[]} */
function partsOf(folded) {
  /** @type {TextPart[]} */
  const parts = [];
  const plain = !NOT_ASCII.test(folded);
  let pattern = PLAIN;
  if (!plain) {
    anyScript ||= typedIn(IN_WORD, WORD, "gu");
    pattern = anyScript;
  }
  for (const match of folded.matchAll(pattern)) {
    const groups = match.groups || {};
    const years = yearsOf(groups);
    const start = match.index;
    if (!groups["word"] && years) {
      parts.push({ text: match[0].replace(/^[' ]+|[' ]+$/g, ""), start, end: start + match[0].length, years });
      continue;
    }
    for (const found of match[0].matchAll(plain ? PLAIN_WORDS : WORDS)) {
      // two numbers that are not years are two words
      const at = start + found.index;
      if (found[0] !== "and") parts.push({ text: plainWord(found[0]), start: at, end: at + found[0].length });
    }
  }
  return parts;
}

/** @param {Record<string, string|undefined>} groups @returns {[number, number]|undefined} */
function yearsOf({ first, last, decade, short }) {
  if (short) return [Number(`19${short}`), Number(`19${short}`)];
  if (decade) {
    let start = Number(decade) || 2000;
    if (start < 100) start += 1900;
    return [start, start + 9];
  }
  if (!first || !last || (first.length === 2 && last.length === 2 && first >= last)) return undefined;
  let from = Number(first);
  let to = Number(last);
  if (from < 100) from += to >= 100 ? to - (to % 100) : 1900;
  if (to < 100) {
    to += from - (from % 100);
    if (to < from) to += 100;
  }
  return [Math.min(from, to), Math.max(from, to)];
}

/** @param {TextPart[]} parts @returns {Word[]} */
function wordsOfParts(parts) {
  const words = [];
  for (let at = 0; at < parts.length; ) {
    const part = /** @type {TextPart} */ (parts[at]);
    const paired = pair(part, parts[at + 1] || { text: " ", start: 0, end: 0 });
    const one = paired || single(part);
    one.places = paired ? [at, at + 1] : [at];
    words.push(one);
    at += one.places.length;
  }
  return words;
}

/** Two parts that together mean one thing. @param {TextPart} part @param {TextPart} follower @returns {Word|null} */
function pair(part, follower) {
  const typed = `${part.text} ${follower.text}`;
  const unit = follower.text;
  const known = own(UNITS, unit);
  if (isNumber(part) && known) return word(typed, [[`~${part.text}${known}`]], { grows: false, near: [[part.text]] });
  const count = isNumber(part) ? part.text : own(COUNTS, part.text);
  if (count && ["cyl", "cylinder"].includes(unit.replace(/s$/, ""))) {
    return word(typed, [[`~${count}cyl`]], { grows: false });
  }
  const begun = count ? ["hp", "kw", "ps", "cyl", "cylinders"].filter((whole) => whole.startsWith(unit)) : [];
  if (begun.length) {
    const wider = begun.map((whole) => [`~${count}${whole === "cylinders" ? "cyl" : whole}`]);
    return word(typed, [[part.text, unit]], { wider });
  }
  if (part.text === "v" && isNumber(follower) && follower.text.length <= 2) {
    return word(part.text + follower.text, [[`~v${follower.text}`], ["v", follower.text]], { grows: false });
  }
  return null;
}

/** @param {TextPart} part @returns {Word} */
function single(part) {
  const text = part.text;
  if (part.years) {
    const [first, last] = part.years;
    /** @type {Group[]} */
    const each = [];
    for (let year = Math.max(first, FIRST_YEAR); year <= Math.min(last, LAST_YEAR); year++) each.push([String(year)]);
    if (!each.length) each.push([String(first)]);
    if (first === last || !/\p{Nd}$/u.test(text)) return word(text, each, { grows: false });
    const near = [text.match(WORDS) || []];
    return word(text, [[`~${first}~${last}`]], { grows: false, wider: each, near });
  }
  if (!isNumber(part)) return word(text, [[text]]);
  const powers = ["hp", "kw", "ps"].map((unit) => [`~${text}${unit}`]);
  if (text.includes(".")) return word(text, [[text]], { near: powers });
  const year = text.length === 2 ? [[`19${text}`]] : [];
  return word(text, [[text]], { near: [[`~${text}`], ...powers, ...year] });
}

/** Possible serial numbers, the longest first. @param {TextPart[]} parts @param {string} folded @returns {Serial[]} */
function serialsOf(parts, folded) {
  const serials = [];
  for (const count of [3, 2, 1]) {
    for (let at = 0; at <= Math.min(parts.length, 2 * MOST_WORDS) - count; at++) {
      const run = parts.slice(at, at + count);
      const letters = run.filter((part) => !isNumber(part)).map((part) => part.text);
      const digits = run
        .filter(isNumber)
        .map((part) => part.text)
        .join("");
      if (digits.length < 3 || !/^[0-9]+$/.test(digits) || run.some((part) => part.years)) continue;
      const between = run.slice(1).map((part, before) => folded.slice(run[before]?.end, part.start));
      const together = between.every((gap) => ["", "-", ".", "/"].includes(gap));
      const prefixed = count === 2 && letters[0] === run[0]?.text && between[0] === " ";
      if (letters.every((text) => [...text].length <= 4) && (together || prefixed)) {
        serials.push({
          text: run.map((part) => part.text).join(""),
          places: run.map((_, more) => at + more),
          apart: !together,
        });
      }
    }
  }
  return serials;
}
