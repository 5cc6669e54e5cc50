// The words by which each thing that is known of a family is found: the same as kb/book/find/known_facts.py.

import { ALL_LETTERS } from "./misspelling.js";
import { FIRST_YEAR, LAST_YEAR, wordsOf } from "./words.js";

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
 * Words side by side in a name, its letters without blanks, its numbers without points.
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
 * The words of a name, and what is joined of them but for pairs, which are looked for when asked.
 * @param {string[]} words
 */
export const withPlainJoined = (words) =>
  words.length > 1 || words.some((word) => word.includes(".")) ? words.concat(joined(words, false)) : words;

/** The words of a name, and those joined. @param {string} name */
export function withJoined(name) {
  const words = wordsOf(name);
  return words.concat(joined(words));
}

/** Ranges as they are kept: a line each, a tab between their ends. @param {string} text @returns {(string|null)[][]} */
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

const DIGITS = /^[0-9]+$/;
const NOUGHTS = /^0+(?=[0-9])/;

/** The runs of a serial number: its shape, and a text that sorts as serial numbers do. @param {string} serial */
export function serialPlace(serial) {
  if (serial.length < 65 && DIGITS.test(serial)) {
    const plain = serial.replace(NOUGHTS, "");
    return { shape: "9", place: String(plain.length).padStart(3, "0") + plain };
  }
  const runs =
    [...serial]
      .slice(0, 64)
      .join("")
      .toUpperCase()
      .match(/[A-Z]+|[0-9]+/g) || [];
  let shape = "";
  let place = "";
  for (const run of runs) {
    const isNumber = run.charAt(0) <= "9";
    const plain = isNumber ? run.replace(NOUGHTS, "") : run;
    shape += isNumber ? "9" : "A";
    place += isNumber ? String(plain.length).padStart(3, "0") + plain : `${plain} `;
  }
  return { shape, place };
}
