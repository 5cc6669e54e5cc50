/** What a cranking reading becomes when the engine runs, through the sourced correction; or why that is unknown. */

import { correctionAt, runningFromCranking } from "../calc/correction.js";
import { Extrapolation } from "../errors.js";
import { Fraction } from "../quantity/fraction.js";
import { readNumber } from "../quantity/number.js";
import { plainAngle } from "../quantity/quantity.js";
import { angleInWords, plain } from "../quantity/spoken.js";
import { State } from "../vocabulary.js";
import { MAXIMUM } from "./catalogue.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../calc/correction.js").Point} Point */

/** @typedef {import("../working.js").Step} Step */

/**
 * The correction of the engine: its value as typed, its conditions and its place; or why it is unknown.
 * @typedef {{value: Document, conditions: string, cited?: string} | {unknown: string}} Corrected
 */

const TENTH = new Fraction(1n, 10n);

/** The points of a correction from its value as typed. @param {Document} value @returns {Point[]} */
export function pointsOf(value) {
  return (value["by_rpm"] ?? [value]).map((/** @type {Document} */ row) => {
    const earlier = row["cranking_earlier"] !== undefined;
    const degrees = readNumber(earlier ? row["cranking_earlier"] : row["cranking_later"], { fractions: true }).value;
    const speed = value["by_rpm"] ? readNumber(row["rpm"]).value : null;
    return [speed, earlier ? degrees : degrees.negative()];
  });
}

/** A correction in words, as an input of a working. @param {Fraction} degrees */
export function correctionWords(degrees) {
  return `reads ${plain(degrees)}° ${degrees.sign() < 0 ? "later" : "earlier"} while cranking than when running`;
}

/**
 * What a true cranking angle becomes when running, in words and steps. Empty for all but a maximum read cranking, since
 * nothing else is corrected. `rpm` chooses one speed of a table; without it all are given.
 * @param {{figure: string, state: string}} figure
 * @param {Fraction} angle signed degrees
 * @param {Corrected | undefined} correction
 * @param {Fraction | null} [rpm]
 * @returns {{words: string, steps: Step[]}}
 */
export function runningOf({ figure, state }, angle, correction, rpm = null) {
  if (figure !== MAXIMUM || state !== State.CRANKING || !correction) return { words: "", steps: [] };
  if ("unknown" in correction) return { words: correction.unknown, steps: [] };
  try {
    return through(correction, angle, rpm);
  } catch (error) {
    if (error instanceof Extrapolation) return { words: `unknown: ${error.message}`, steps: [] };
    throw error;
  }
}

/**
 * @param {{value: Document, conditions: string, cited?: string}} correction
 * @param {Fraction} angle
 * @param {Fraction | null} rpm
 */
function through(correction, angle, rpm) {
  const points = pointsOf(correction.value);
  const constant = points[0]?.[0] === null;
  const speeds = rpm === null || constant ? points.map(([speed]) => speed) : [rpm];
  const said = speeds.map((speed) => {
    const degrees = correctionAt(points, speed);
    const at = speed ? `${plain(speed)} rpm` : correction.conditions;
    const running = runningFromCranking(angle, degrees);
    const value = plainAngle(running, undefined, TENTH);
    const step = {
      name: at ? `when running, at ${at}` : "when running",
      formula: `cranking ${degrees.sign() < 0 ? "+" : "-"} correction`,
      inputs: [
        { name: "true cranking angle", value: angleInWords(angle), source: "" },
        { name: "correction", value: correctionWords(degrees), source: correction.cited ?? "" },
      ],
      result: `${value}`,
      rounding: value.low?.equals(running) ? "" : "to 0.1°, toward late",
    };
    return { words: at ? `${value} at ${at}` : `${value}`, step };
  });
  return { words: said.map(({ words }) => words).join(", "), steps: said.map(({ step }) => step) };
}

/** @param {string} running in words, or why it is unknown */
export const runsAt = (running) => (running.startsWith("unknown") ? `running figure ${running}` : `runs at ${running}`);
