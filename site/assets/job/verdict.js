/** A reading of a job held against what is printed for its state: like with like only, words never judged by program. */

import { judge } from "../book/aim.js";
import { judgeReading } from "../calc/target.js";
import { StopscrewError } from "../errors.js";
import { HALF } from "../quantity/fraction.js";
import { readQuantity } from "../quantity/quantity.js";
import { plain } from "../quantity/spoken.js";
import { convert } from "../quantity/unit.js";
import { isAngle, signedOf, valueWords } from "./figure.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./figure.js").Shown} Shown */
/** @typedef {import("./figure.js").Given} Given */

/**
 * `off` is inside, early, late, above, below, or empty where nothing is judged; `sign` says it without colour; `words` in
 * a line; `more` what follows from it and which way to turn.
 * @typedef {{off: string, sign: string, words: string, more: string[]}} Verdict
 */

const SIGNS = new Map([["inside", "✓"], ["early", "◀"], ["late", "▶"], ["above", "▲"], ["below", "▼"]]);

/** @param {string} off @param {string} words @param {string[]} [more] @returns {Verdict} */
const said = (off, words, more = []) => ({ off, sign: SIGNS.get(off) ?? "–", words, more: more.filter(Boolean) });

/**
 * @param {readonly Shown[]} shown the figure of the step, state by state
 * @param {{value: Document, state: string, at?: Document}} reading
 * @param {Given} given
 * @returns {Verdict}
 */
export function verdictOf(shown, reading, given) {
  const like = alike(shown, reading);
  if (!like) return said("", shown.length ? "noted; nothing is printed for this state and these conditions" : "noted; the book holds no figure for it");
  if (!like.value) return said("", like.told.problem || like.told.depends.length ? `noted; not judged: ${like.told.words || like.told.printed}` : `noted; printed: ${like.told.printed}. Compare by eye`);
  try {
    return isAngle(like.value) ? angleVerdict(like, reading.value, given) : sizeVerdict(like, reading.value);
  } catch (error) {
    if (error instanceof StopscrewError) return said("", `noted; not judged: ${error.message}`);
    throw error;
  }
}

/**
 * The printed row of the same state, whose conditions the reading's do not contradict; the one that says most of them.
 * @param {readonly Shown[]} shown
 * @param {{state: string, at?: Document}} reading
 */
export function alike(shown, { state, at = {} }) {
  const fits = shown.filter((one) => one.state === state &&
    Object.entries(one.at).every(([name, value]) => at[name] === undefined || sameCondition(at[name], value)));
  const said = (/** @type {Shown} */ one) => Object.keys(one.at).filter((name) => at[name] !== undefined).length;
  return fits.reduce((/** @type {Shown | null} */ best, one) => (!best || said(one) > said(best) ? one : best), null);
}

/** @param {any} one @param {any} other */
const sameCondition = (one, other) => JSON.stringify(one) === JSON.stringify(other);

/** @param {Shown} like @param {Document} value @param {Given} given */
function angleVerdict({ asked, refused }, value, given) {
  const reading = signedOf(value);
  if (!asked || !reading) return said("", refused || "noted; there is no one angle to hold it against");
  const found = judge(asked, reading, given);
  const more = [found.turn, found.would && `left so: ${found.would}`, found.window ? `right between ${found.window}` : "",
    found.allowed, found.running && `runs at ${found.running}`];
  return said(found.verdict.off, found.words, more.map((line) => line || ""));
}

/** @param {Shown} like @param {Document} value */
function sizeVerdict({ value: printed, told }, value) {
  const [wanted, read] = [readQuantity(printed ?? {}), readQuantity(value)];
  const reading = read.nominal ? convert(read.nominal, read.unit, wanted.unit) : null;
  if (!reading) return said("", "noted");
  const half = wanted.form === "nominal" ? wanted.step.times(HALF) : wanted.step.minus(wanted.step);
  const { off, degrees: far } = judgeReading(reading, wanted.low, wanted.high, half, half);
  if (off === "inside") return said("inside", `inside ${wanted}`);
  const side = off === "early" ? "above" : "below";
  const number = plain(far);
  return said(side, `${number === "0" ? "less than 0.001" : number} ${wanted.unit.symbol} ${side} ${wanted}`, [told.hazard]);
}

/** A reading with its verdict in one line, as it is read aloud. @param {Document} value @param {Verdict} verdict */
export const spokenVerdict = (value, verdict) => [`${valueWords(value)}: ${verdict.words}`, ...(verdict.off === "inside" ? [] : verdict.more.slice(0, 1))].join(". ");
