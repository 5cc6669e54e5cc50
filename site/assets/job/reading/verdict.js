/**
 * A reading of a job held against what is printed for its state: like with like only, words never judged by program.
 */

import { exactly } from "../../bench/aids/wording.js";
import { judge } from "../../book/aim.js";
import { crankOf } from "../../book/window.js";
import { crankDegrees } from "../../calc/crank.js";
import { judgeReading } from "../../calc/target.js";
import { StopscrewError } from "../../errors.js";
import { HALF, NOUGHT } from "../../quantity/fraction.js";
import { readQuantity } from "../../quantity/quantity.js";
import { plain } from "../../quantity/spoken.js";
import { convert, PISTON_MM } from "../../quantity/unit.js";
import { isAngle, signedOf, valueWords } from "../step-figure.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../step-figure.js").Shown} Shown */
/** @typedef {import("../step-figure.js").Given} Given */

/**
 * `off` is inside, early, late, above, below, or empty where nothing is judged; `sign` says it without colour; `words` in
 * a line; `more` what follows from it and which way to turn.
 * @typedef {{off: string, sign: string, words: string, more: string[]}} Verdict
 */

/** @typedef {import("../../quantity/fraction.js").Fraction} Fraction */

const TIMES = 3;
const SIGNS = new Map([
  ["inside", "✓"],
  ["early", "◀"],
  ["late", "▶"],
  ["above", "▲"],
  ["below", "▼"],
]);

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
  if (!like)
    return said(
      "",
      shown.length
        ? "noted; nothing is printed for this state and these conditions"
        : "noted; the book holds no figure for it",
    );
  if (!like.value)
    return said(
      "",
      like.told.problem || like.told.depends.length
        ? `noted; not judged: ${like.told.words || like.told.printed}`
        : `noted; printed: ${like.told.printed}. Compare by eye`,
    );
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
  const fits = shown.filter(
    (one) =>
      one.state === state &&
      Object.entries(one.at).every(([name, value]) => at[name] === undefined || sameCondition(at[name], value)),
  );
  const said = (/** @type {Shown} */ one) => Object.keys(one.at).filter((name) => at[name] !== undefined).length;
  return fits.reduce((/** @type {Shown | null} */ best, one) => (!best || said(one) > said(best) ? one : best), null);
}

/** @param {any} one @param {any} other */
const sameCondition = (one, other) => JSON.stringify(one) === JSON.stringify(other);

/** @param {Shown} like @param {Document} value @param {Given} given */
function angleVerdict({ asked, refused }, value, given) {
  const byDepth = asked ? degreesAt(value, asked.engine) : null;
  const reading = byDepth ?? signedOf(value);
  if (!asked || !reading) return said("", refused || "noted; there is no one angle to hold it against");
  // A depth gauge knows nothing of the pointer.
  const found = judge(asked, reading, byDepth ? { ...given, deadCentre: NOUGHT } : given);
  const more = [
    found.turn,
    found.would && `left so: ${found.would}`,
    found.window ? `right between ${found.window}` : "",
    found.allowed,
    found.running && `runs at ${found.running}`,
  ];
  return said(
    found.verdict.off,
    found.words,
    more.map((line) => line || ""),
  );
}

/**
 * Signed degrees of a piston's depth; nothing where the reading is none, or the crank is not told.
 * @param {Document} value
 * @param {Document | undefined} engine
 */
function degreesAt(value, engine) {
  const read = readQuantity(value);
  const crank = crankOf(engine);
  if (read.unit.dimension !== PISTON_MM.dimension || !read.nominal || !crank) return null;
  const depth = convert(read.nominal.size(), read.unit, PISTON_MM).toNumber();
  const angle = exactly(crankDegrees(depth, crank.throwLength, crank.rod));
  return read.nominal.sign() < 0 ? angle.negative() : angle;
}

/** @param {Shown} like @param {Document} value */
function sizeVerdict({ value: printed, told }, value) {
  const [wanted, read] = [readQuantity(printed ?? {}), readQuantity(value)];
  const reading = read.nominal ? convert(read.nominal, read.unit, wanted.unit) : null;
  if (!reading) return said("", "noted");
  if (slipped(reading, wanted)) {
    return { ...said("", `noted; far from ${wanted}: is ${read.unit.symbol} what you read?`), sign: "?" };
  }
  const half = wanted.form === "nominal" ? wanted.step.times(HALF) : wanted.step.minus(wanted.step);
  const { off, degrees: far } = judgeReading(reading, wanted.low, wanted.high, half, half);
  if (off === "inside") return said("inside", `inside ${wanted}`);
  const side = off === "early" ? "above" : "below";
  const number = plain(far);
  return said(side, `${number === "0" ? "less than 0.001" : number} ${wanted.unit.symbol} ${side} ${wanted}`, [
    told.hazard,
  ]);
}

/**
 * So far off that it is a slip of the unit or the digits rather than of the engine.
 * @param {Fraction} reading
 * @param {import("../../quantity/quantity.js").Quantity} wanted
 */
function slipped(reading, { low, high, unit }) {
  if (unit.dimension !== "pressure" || !reading.sign()) return false;
  const [least, most] = [low ?? high, high ?? low].map((end) => end?.toNumber() ?? 0);
  return reading.toNumber() > TIMES * (most ?? 0) || reading.toNumber() < (least ?? 0) / TIMES;
}

/**
 * A reading with its verdict and what to do in one line, as it is read aloud.
 * @param {Document} value
 * @param {Verdict} verdict
 * @param {readonly string[]} more
 */
export const spokenVerdict = (value, { off, words }, more) =>
  [`${valueWords(value)}: ${words}`, ...(off === "inside" ? [] : more.slice(0, 1))].join(". ");
