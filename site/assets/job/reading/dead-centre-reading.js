/** A dead-centre reading as it is noted: from two contacts with the piston stop, or from the pointer itself. */

import { work } from "../../bench/aids/dead-centre.js";
import { exactly } from "../../bench/aids/wording.js";
import { requireNearCentre } from "../../book/pointer.js";
import { meanDeadCentre } from "../../calc/dead-centre.js";
import { DeadCentreTooFar } from "../../errors.js";
import { Fraction } from "../../quantity/fraction.js";
import { roundToStep } from "../../quantity/number.js";
import { angleInWords } from "../../quantity/spoken.js";
import { signedText } from "./measured-correction.js";

/**
 * What is noted, and what is said of it; a reading that stops the job is noted too.
 * @typedef {{said: {reads: string, stops?: [string, string]}, words: string}} CentreReading
 */

/** The fields of the bench aid's form that a job does not ask for. */
export const STOPS = { more: [], by: "stop", uncertain: null, stroke: null, rod: null, offset: null, gave: null };
const STEP = new Fraction(1n, 100n);

/**
 * @param {Fraction} first
 * @param {Fraction} second
 * @returns {CentreReading}
 * @throws {QuantityError} the contacts are on one side, or too near or too far from top dead centre
 */
export function byStops(first, second) {
  const words = unlessTooFar(() => work({ first, second, ...STOPS }).answer.join(". "));
  const { reading } = meanDeadCentre([[first.toNumber(), second.toNumber()]]);
  const reads = signedText(roundToStep(exactly(reading), STEP, "down"));
  return { said: { reads, stops: [signedText(first), signedText(second)] }, words };
}

/** @param {Fraction} reading @returns {CentreReading} */
export function byPointer(reading) {
  const words = unlessTooFar(() => {
    requireNearCentre(reading);
    return `The pointer shows ${angleInWords(reading)} at true top dead centre`;
  });
  return { said: { reads: signedText(reading) }, words };
}

/** @param {() => string} words */
function unlessTooFar(words) {
  try {
    return words();
  } catch (error) {
    if (error instanceof DeadCentreTooFar) return `The job stops here: ${error.message}`;
    throw error;
  }
}

/**
 * What to ask again before a reading is noted whose side is opposite to both earlier ones of the same pointer; empty if
 * there is nothing to ask.
 * @param {readonly string[]} earlier signed degrees
 * @param {string} reads
 */
export function doubt(earlier, reads) {
  const last = earlier.slice(-2).map((one) => Fraction.of(one));
  const [now, first] = [Fraction.of(reads), last[0]];
  if (last.length < 2 || !last.every((one) => one.sign() * now.sign() < 0) || !first) return "";
  const [side, other] = now.sign() > 0 ? ["before", "after"] : ["after", "before"];
  return (
    `the pointer would show ${angleInWords(now)}, and both earlier readings were ${other}: is it really ${side}? ` +
    "Look at the rim again; if it is, note it once more"
  );
}
