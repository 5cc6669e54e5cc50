/**
 * Turns spoken words into what would be typed: "twenty two and a half before" is 22.5 before. Pure; the browser's speech
 * recognition is in `speech.js`. What is not certain gives null, never a guess.
 */

import { Fraction, ZERO } from "../../quantity/fraction.js";
import { plain } from "../../quantity/spoken.js";

const SMALL = new Map(
  Object.entries({
    zero: 0,
    nought: 0,
    naught: 0,
    oh: 0,
    one: 1,
    two: 2,
    three: 3,
    four: 4,
    five: 5,
    six: 6,
    seven: 7,
    eight: 8,
    nine: 9,
    ten: 10,
    eleven: 11,
    twelve: 12,
    thirteen: 13,
    fourteen: 14,
    fifteen: 15,
    sixteen: 16,
    seventeen: 17,
    eighteen: 18,
    nineteen: 19,
  }),
);
const TENS = new Map(
  Object.entries({
    twenty: 20,
    thirty: 30,
    forty: 40,
    fourty: 40,
    fifty: 50,
    sixty: 60,
    seventy: 70,
    eighty: 80,
    ninety: 90,
  }),
);
const PARTS = new Map(
  Object.entries({
    half: 2,
    halves: 2,
    third: 3,
    thirds: 3,
    quarter: 4,
    quarters: 4,
    eighth: 8,
    eighths: 8,
    sixteenth: 16,
    sixteenths: 16,
  }),
);
const SIGNS = new Map([
  ["½", "1/2"],
  ["¼", "1/4"],
  ["¾", "3/4"],
  ["⅛", "1/8"],
  ["⅜", "3/8"],
  ["⅝", "5/8"],
  ["⅞", "7/8"],
]);
const BEFORE = new Set(["before", "btdc"]);
const AFTER = new Set(["after", "atdc"]);
const INWARD = new Set(["in", "inward", "inwards", "plus", "+"]);
const OUTWARD = new Set(["out", "outward", "outwards", "minus", "-", "−", "back"]);
const IDLE = new Set([
  "it",
  "reads",
  "reading",
  "shows",
  "now",
  "is",
  "at",
  "degree",
  "degrees",
  "deg",
  "°",
  "turn",
  "turns",
  "of",
  "top",
  "dead",
  "center",
  "centre",
  "tdc",
  "a",
  "an",
  "the",
  "turned",
  "locked",
  "about",
]);

/** @param {string} words */
function split(words) {
  let text = words.toLowerCase().replace(/(\d)\s*,\s*(\d)/g, "$1.$2");
  for (const [sign, plainly] of SIGNS) text = text.replaceAll(sign, ` ${plainly}`);
  text = text.replace(/\bb\.?\s?t\.?\s?d\.?\s?c\b\.?/g, "btdc").replace(/\ba\.?\s?t\.?\s?d\.?\s?c\b\.?/g, "atdc");
  text = text
    .replace(/([°+−])/g, " $1 ")
    .replace(/(^|\s)-(?=\d)/g, "$1- ")
    .replace(/([a-z])-([a-z])/g, "$1 $2")
    .replace(/[.,!?;:](?=\s|$)/g, " ");
  return text.split(/\s+/).filter(Boolean);
}

/**
 * A whole number at a place in the words, and how many words it takes; null if there is none.
 * @param {readonly string[]} words
 * @param {number} at
 * @returns {[Fraction, number] | null}
 */
function wholeAt(words, at) {
  const word = words[at] ?? "";
  if (/^\d{1,4}(\.\d{1,3})?$/.test(word)) return [Fraction.of(word), 1];
  const tens = TENS.get(word);
  const ones = SMALL.get(words[at + 1] ?? "");
  if (tens !== undefined)
    return ones !== undefined && ones > 0 && ones < 10 ? [Fraction.of(tens + ones), 2] : [Fraction.of(tens), 1];
  const small = SMALL.get(word);
  return small === undefined ? null : [Fraction.of(small), 1];
}

/**
 * A fraction at a place in the words: `a half`, `three quarters`, `3/4`, `point five`.
 * @param {readonly string[]} words
 * @param {number} at
 * @returns {[Fraction, number] | null}
 */
function partAt(words, at) {
  const [word = "", next = ""] = [words[at], words[at + 1]];
  const written = /^(\d{1,2})\/(\d{1,2})$/.exec(word);
  if (written && Number(written[2])) return [new Fraction(BigInt(written[1] ?? 0), BigInt(written[2] ?? 1)), 1];
  if (word === "point") {
    let digits = "";
    let taken = 1;
    for (; ; taken += 1) {
      const said = words[at + taken] ?? "";
      const digit = /^\d{1,3}$/.test(said)
        ? said
        : SMALL.has(said) && (SMALL.get(said) ?? 10) < 10
          ? String(SMALL.get(said))
          : "";
      if (!digit) break;
      digits += digit;
    }
    return digits && digits.length < 4 ? [Fraction.of(`0.${digits}`), taken] : null;
  }
  if (PARTS.has(word)) return [new Fraction(1n, BigInt(PARTS.get(word) ?? 1)), 1];
  if ((word === "a" || word === "an") && PARTS.has(next)) return [new Fraction(1n, BigInt(PARTS.get(next) ?? 1)), 2];
  const count = wholeAt(words, at);
  const parts = count ? PARTS.get(words[at + count[1]] ?? "") : undefined;
  return count && parts !== undefined && count[0].isWhole() ? [count[0].over(Fraction.of(parts)), count[1] + 1] : null;
}

/**
 * The number in the words, and the other words; null if there is none or more than one.
 * @param {readonly string[]} words
 * @returns {{value: Fraction, rest: string[]} | null}
 */
function numberIn(words) {
  /** @type {Fraction | null} */
  let value = null;
  /** @type {string[]} */
  const rest = [];
  for (let at = 0; at < words.length; ) {
    const alone = partAt(words, at);
    const whole = alone ? null : wholeAt(words, at);
    const found = alone ?? whole;
    if (!found) {
      rest.push(words[at] ?? "");
      at += 1;
      continue;
    }
    if (value) return null;
    [value, at] = [found[0], at + found[1]];
    // Only a whole number is followed by a fraction: "one turn and a half", "one and three quarters".
    let then = at;
    while (whole && ["turn", "turns", "degree", "degrees", "and"].includes(words[then] ?? "")) then += 1;
    const more = whole ? partAt(words, then) : null;
    if (more?.[0].below(Fraction.of(1))) [value, at] = [value.plus(more[0]), then + more[1]];
  }
  return value ? { value, rest } : null;
}

/**
 * A spoken crank angle: digits and side; the side is empty if none was spoken.
 * @param {string} words
 * @returns {{text: string, side: "" | "btdc" | "atdc"} | null} null unless it is certainly one angle
 */
export function spokenReading(words) {
  const heard = split(words);
  if (heard.join(" ").match(/^(it )?(is |reads |shows )?(at )?(top )?(dead )?(tdc|cent(er|re))$/))
    return { text: "0", side: "" };
  const found = numberIn(heard);
  if (!found || found.value.above(Fraction.of(90))) return null;
  const sides = new Set(found.rest.flatMap((word) => (BEFORE.has(word) ? ["btdc"] : AFTER.has(word) ? ["atdc"] : [])));
  const strange = found.rest.filter(
    (word) => !BEFORE.has(word) && !AFTER.has(word) && !IDLE.has(word) && word !== "and",
  );
  const [side = ""] = sides;
  if (sides.size > 1 || strange.length) return null;
  return { text: plain(found.value), side: /** @type {"" | "btdc" | "atdc"} */ (found.value.sign() ? side : "") };
}

/**
 * Spoken turns of a screw, inward positive: "a quarter out", "minus a quarter", "one and a half
 * in", "not at all".
 * @param {string} words
 * @returns {Fraction | null} null unless it is certainly one number of turns with a direction
 */
export function spokenTurns(words) {
  const heard = split(words.replace(/^\s*(an?|one)\s+(whole\s+|full\s+)?turn\b/i, "one turn"));
  const said = heard.join(" ");
  if (/^(not( at all)?|no turns?|nothing|none|left( it)?( alone)?)$/.test(said)) return ZERO;
  if (/^(in|out) and (in|out)$/.test(said)) return null;
  const found = numberIn(heard);
  if (!found || found.value.above(Fraction.of(20))) return null;
  if (!found.value.sign()) return ZERO;
  const ways = new Set(found.rest.flatMap((word) => (INWARD.has(word) ? [1] : OUTWARD.has(word) ? [-1] : [])));
  const strange = found.rest.filter(
    (word) => !INWARD.has(word) && !OUTWARD.has(word) && !IDLE.has(word) && word !== "and",
  );
  if (ways.size !== 1 || strange.length) return null;
  return ways.has(1) ? found.value : found.value.negative();
}

/**
 * A number of turns as text: `1 1/2`, `-1/4`, `0`.
 * @param {Fraction} turns inward positive
 */
export function turnsText(turns) {
  const size = turns.size();
  const whole = size.top / size.bottom;
  const part = size.minus(Fraction.of(whole));
  const words = [whole || !part.sign() ? `${whole}` : "", part.sign() ? `${part}` : ""].filter(Boolean).join(" ");
  return turns.sign() < 0 ? `-${words}` : words;
}

/** The turns of such a text. @param {string} text */
export function readTurns(text) {
  const [first = "0", second = ""] = text.replace(/^-/, "").split(" ");
  const size = Fraction.of(first).plus(second ? Fraction.of(second) : ZERO);
  return text.startsWith("-") ? size.negative() : size;
}
