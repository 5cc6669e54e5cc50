// All that is known of a family, line by line: how each thing is said, and the words by which it is found; the same as
// kb/book/find/known_facts.py.

import {
  cylinderWords,
  ignitionWords,
  rangeInWords,
  rangesOf,
  seenWords,
  withJoined,
  yearWords,
} from "../known-facts.js";
import { nameKey, wordsOf } from "../words.js";

/** @typedef {{label: string, words: string[], names: string[], score: number, seen: boolean, oldId: string}} Line */

const ID = 100;
const NAME = 95;
const OLD_ID = 90;
const OTHER_NAME = 85;

/**
 * In the order in which it is told.
 * @param {import("./index.js").Index} index
 * @param {number} place
 * @returns {Line[]}
 */
export function linesOf(index, place) {
  const name = index.name(place);
  const maker = index.makers.of(place);
  const called = index.makerNames(place);
  const id = index.id(place);
  const own = index.own(place);
  const [power, ...powerWords] = index.power(place);
  const usual = called[0] ?? maker;
  /** @type {Line[]} */
  const lines = [];
  /** @param {string} label @param {string[]} words @param {Partial<Line>} [more] */
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
