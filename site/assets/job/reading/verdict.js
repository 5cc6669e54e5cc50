/**
 * Judges a reading of a job by what is printed for the same state and conditions; words are never judged.
 */

import { exactly } from "../../bench/aids/wording.js";
import { judge } from "../../book/judge.js";
import { runsAt } from "../../book/when-running.js";
import { crankOf } from "../../book/window.js";
import { crankDegrees } from "../../calc/crank.js";
import { judgeReading } from "../../calc/target.js";
import { StopscrewError } from "../../errors.js";
import { HALF, ZERO } from "../../quantity/fraction.js";
import { readQuantity } from "../../quantity/quantity.js";
import { plain } from "../../quantity/spoken.js";
import { convert, PISTON_MM } from "../../quantity/unit.js";
import { Condition } from "../../vocabulary.js";
import { recordAtReading } from "../log/record.js";
import { isAngle } from "../log/report-value.js";
import { setupFor, signedAngle, valueWords } from "../step-figure.js";
import { lookOf } from "./dangerous-end.js";
import { FAULT, isFault } from "./false-late.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../step-figure.js").StepFigure} StepFigure */
/** @typedef {import("../step-figure.js").JobSetup} JobSetup */
/** @typedef {import("../log/record.js").JobReading} JobReading */

/**
 * `off` is inside, early, late, above, below, or empty if it was not judged; `look` its colour, as `lookOf` says; `sign`
 * shows it without colour; `words` in one line; `more` what follows from it and which way to turn.
 * @typedef {{off: string, look: string, sign: string, words: string, more: string[]}} ReadingVerdict
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

/** The sign of an angle on either side of a figure of which neither end is safer. */
const OUTSIDE = "◇";

/** @param {string} off @param {string} words @param {string[]} [more] @param {string} [safest] @returns {ReadingVerdict} */
function said(off, words, more = [], safest = "") {
  const look = lookOf(off, safest);
  return { off, look, sign: SIGNS.get(off) ?? "–", words, more: more.filter(Boolean) };
}

/**
 * @param {readonly StepFigure[]} shown the figure of the step, state by state
 * @param {{value: Document, state: string, at?: Document}} reading
 * @param {JobSetup} given
 * @returns {ReadingVerdict}
 */
export function verdictOf(shown, reading, given) {
  const like = printedLike(shown, reading);
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
      like.stated.problem || like.stated.depends.length
        ? `noted; not judged: ${like.stated.words || like.stated.printed}`
        : `noted; printed: ${like.stated.printed}. Compare by eye`,
    );
  try {
    return isAngle(like.value) ? angleVerdict(like, reading.value, given) : sizeVerdict(like, reading.value);
  } catch (error) {
    if (error instanceof StopscrewError) return said("", `noted; not judged: ${error.message}`);
    throw error;
  }
}

/**
 * The printed figure of the same state whose conditions the reading does not contradict; the one sharing most of them.
 * @param {readonly StepFigure[]} shown
 * @param {{state: string, at?: Document}} reading
 */
function printedLike(shown, { state, at = {} }) {
  const fits = shown.filter(
    (one) =>
      one.state === state &&
      Object.entries(one.at).every(
        ([name, value]) => name === Condition.OCTANE || at[name] === undefined || sameCondition(at[name], value),
      ),
  );
  const said = (/** @type {StepFigure} */ one) => Object.keys(one.at).filter((name) => at[name] !== undefined).length;
  return fits.reduce(
    (/** @type {StepFigure | null} */ best, one) => (!best || said(one) > said(best) ? one : best),
    null,
  );
}

/** @param {any} one @param {any} other */
const sameCondition = (one, other) => JSON.stringify(one) === JSON.stringify(other);

/** @param {StepFigure} like @param {Document} value @param {JobSetup} given */
function angleVerdict({ safest, settable, state, refused }, value, given) {
  const byDepth = settable ? degreesAt(value, settable.engine) : null;
  const reading = byDepth ?? signedAngle(value);
  if (!settable || !reading) return said("", refused || "noted; there is no one angle to hold it against");
  if (given.open && !byDepth) return said("", `noted; not judged: ${given.open}`);
  // A depth gauge does not depend on the pointer.
  const found = judge(settable, reading, byDepth ? { ...given, deadCentre: ZERO } : given);
  const { off, degrees } = found.verdict;
  const isSafe = lookOf(off, safest) === "safe"; // the coach says what to do, once a false reading is ruled out
  const more = [
    isSafe ? "" : found.turn,
    isSafe && isFault(degrees, state) ? FAULT : "",
    found.would && `left so: ${found.would}`,
    found.window ? `OK from ${found.window}` : "",
    found.allowed,
    found.running && runsAt(found.running),
  ];
  const verdict = said(off, found.words, more, safest);
  return verdict.look === "outside" ? { ...verdict, sign: OUTSIDE, words: `outside, ${found.words}` } : verdict;
}

/**
 * The signed degrees of a piston depth; null for other readings, or if the crank is unknown.
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

/** @param {StepFigure} like @param {Document} value */
function sizeVerdict({ safest, value: printed, stated }, value) {
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
  const words = `${number === "0" ? "less than 0.001" : number} ${wanted.unit.symbol} ${side} ${wanted}`;
  return said(side, words, [stated.hazard], safest);
}

/**
 * Whether it is so far off that the unit or the digits are wrong rather than the engine.
 * @param {Fraction} reading
 * @param {import("../../quantity/quantity.js").Quantity} wanted
 */
function slipped(reading, { low, high, unit }) {
  if (unit.dimension !== "pressure" || !reading.sign()) return false;
  const [least, most] = [low ?? high, high ?? low].map((end) => end?.toNumber() ?? 0);
  return reading.toNumber() > TIMES * (most ?? 0) || reading.toNumber() < (least ?? 0) / TIMES;
}

/**
 * A reading with its verdict and what to do, as read aloud.
 * @param {Document} value
 * @param {ReadingVerdict} verdict
 * @param {readonly string[]} more
 */
export const spokenVerdict = (value, { off, words }, more) =>
  [`${valueWords(value)}: ${words}`, ...(off === "inside" ? [] : more.slice(0, 1))].join(". ");

/** A reading's conditions, the cylinder among them. @param {JobReading} reading @returns {Document} */
export const atOf = ({ conditions, cylinder }) => ({ ...(cylinder ? { cylinder } : {}), ...conditions });

/** @param {JobReading} reading @param {readonly StepFigure[]} shown @param {Omit<import("../dangers.js").AtWork, "job">} work */
export const verdictOn = (reading, shown, { page, shared, record }) =>
  verdictOf(
    shown,
    { value: reading.value, state: reading.state, at: atOf(reading) },
    setupFor(page, shared, recordAtReading(record, reading), reading.figure),
  );
