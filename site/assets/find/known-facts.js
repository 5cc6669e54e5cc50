// What is known of a family, line by line: how each fact is worded, and the words by which it is found; the same as
// kb/book/find/known_facts.py.

import { ALL_LETTERS } from "./misspelling.js";
import { FIRST_YEAR, LAST_YEAR, nameKey, wordsOf } from "./words.js";

/** @typedef {{label: string, words: string[], names: string[], score: number, seen: boolean, oldId: string}} KnownFact */

const CYLINDERS = /** @type {Record<string, string>} */ ({ 1: "single", 2: "twin", 3: "triple" });
const SPARKS = /** @type {Record<string, string[]>} */ ({ breaker: ["points"], capacitor: ["cdi", "cd"] });
export const UNTOLD = new Set(
  "a an the of in on with by for from and or but is are it its to at as that which one".split(" "),
);

/** @param {(string|null)[]} range */
export function rangeInWords([first, last]) {
  if (first === last) return String(first);
  if (first === null) return `up to ${last}`;
  return last !== null ? `${first} to ${last}` : `from ${first}`;
}

/**
 * Joined forms of a name: words side by side, letters without spaces, numbers without points.
 * @param {string[]} words
 * @param {boolean} [pairs]
 */
export function joined(words, pairs = true) {
  /** @type {string[]} */
  const more = [];
  for (let at = 1; pairs && at < words.length; at++) more.push(`~${words[at - 1]}~${words[at]}`);
  const letters = words.filter((word) => ALL_LETTERS.test(word));
  if (letters.length > 1) more.push(letters.join(""));
  for (const word of words) if (word.includes(".")) more.push(`~${word.replaceAll(".", "")}`);
  return more;
}

/**
 * The words of a name and its joined forms, but not its pairs: those are searched on demand.
 * @param {string[]} words
 */
export const withPlainJoined = (words) =>
  words.length > 1 || words.some((word) => word.includes(".")) ? words.concat(joined(words, false)) : words;

/** The words of a name and its joined forms. @param {string} name */
export function withJoined(name) {
  const words = wordsOf(name);
  return words.concat(joined(words));
}

/** Ranges as stored: one per line, a tab between the ends. @param {string} text @returns {(string|null)[][]} */
export const rangesOf = (text) =>
  text ? text.split("\n").map((line) => line.split("\t").map((end) => end || null)) : [];

/** @param {(string|null)[]} range */
export function yearWords([first, last]) {
  const from = Number(first || FIRST_YEAR);
  const to = Number(last || LAST_YEAR + 1);
  const words = [`~${from}~${to}`];
  for (let year = Math.max(from, FIRST_YEAR); year <= Math.min(to, LAST_YEAR); year++) words.push(String(year));
  return words;
}

/** @param {string} cylinders @param {boolean} inV */
export function cylinderWords(cylinders, inV) {
  const known = Object.hasOwn(CYLINDERS, cylinders) ? [CYLINDERS[cylinders] ?? ""] : [];
  return [`~${cylinders}cyl`, ...known, ...(inV ? [`~v${cylinders}`, "v"] : [])];
}

/** @param {string} kind */
export function ignitionWords(kind) {
  const parts = kind.split("-");
  return [...parts, ...parts.flatMap((part) => (Object.hasOwn(SPARKS, part) ? (SPARKS[part] ?? []) : []))];
}

/** @param {string} text */
export const seenWords = (text) => wordsOf(text).filter((word) => !UNTOLD.has(word));

const ID = 100;
const NAME = 95;
const OLD_ID = 90;
const OTHER_NAME = 85;

/**
 * The facts of a family, in the order in which they are shown.
 * @param {import("./index/index.js").Index} index
 * @param {number} place
 * @returns {KnownFact[]}
 */
export function linesOf(index, place) {
  const name = index.name(place);
  const maker = index.makers.of(place);
  const called = index.makerNames(place);
  const id = index.id(place);
  const own = index.own(place);
  const [power, ...powerWords] = index.power(place);
  const usual = called[0] ?? maker;
  /** @type {KnownFact[]} */
  const lines = [];
  /** @param {string} label @param {string[]} words @param {Partial<KnownFact>} [more] */
  const add = (label, words, more = {}) =>
    lines.push({ label, words, names: [], score: 0, seen: false, oldId: "", ...more });
  add(`name ${name}`, withJoined(name), { names: [name, `${usual} ${name}`, `${maker} ${name}`], score: NAME });
  for (const [at, text] of called.entries()) {
    add(`maker ${usual}${at && text !== usual ? `, also called ${text}` : ""}`, withJoined(text));
  }
  for (const text of index.alsoCalled(place)) {
    add(`also called ${text}`, withJoined(text), { names: [text, `${usual} ${text}`], score: OTHER_NAME });
  }
  add(`id ${id}`, wordsOf(id), { names: nameKey(own) === nameKey(name) ? [id] : [id, own], score: ID });
  if (power) add(power, powerWords);
  for (const range of rangesOf(index.text("years", place))) add(`made ${rangeInWords(range)}`, yearWords(range));
  const cylinders = index.cylinders.of(place);
  const inV = index.inV.of(place);
  if (cylinders)
    add(`${cylinders} cylinder${cylinders === "1" ? "" : "s"}${inV ? " in a V" : ""}`, cylinderWords(cylinders, inV));
  const ignition = index.ignitions.of(place);
  const lookFor = index.text("look_for", place);
  if (ignition) add(`${ignition} ignition`, ignitionWords(ignition));
  if (lookFor) add(`look for: ${lookFor}`, seenWords(lookFor), { seen: true });
  for (const range of rangesOf(index.text("serials", place))) add(`serial numbers ${rangeInWords(range)}`, []);
  for (const key of [id, maker]) {
    for (const [old, said, isFamily] of index.head.given_up[key] || []) {
      const names = isFamily ? [old, old.slice(old.lastIndexOf("/") + 1)] : [];
      add(said, wordsOf(old), { names, score: OLD_ID, oldId: old });
    }
  }
  return lines;
}
