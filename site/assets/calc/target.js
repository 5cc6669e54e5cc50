/**
 * From a printed maximum to what the timing light should show, and back; and judging a reading. Angles are signed
 * degrees, before top dead centre positive. Indicated is what the pointer shows: true plus the dead-centre reading. A
 * margin goes to the late side only, and every rounding goes toward late. The order of steps is common practice.
 */

import { GeometryImpossible, WindowInverted } from "../errors.js";
import { Fraction, HALF, ZERO } from "../quantity/fraction.js";
import { roundToStep } from "../quantity/number.js";

/**
 * What the light should show for a true limit on the early side, kept late by a margin, rounded toward late to `step`.
 * @param {Fraction} limit
 * @param {Fraction} deadCentreReading
 * @param {Fraction} margin
 * @param {Fraction} [step]
 * @returns {Fraction} never earlier than `limit + deadCentreReading - margin`
 * @throws {GeometryImpossible} the margin is negative, or the step not positive
 */
export function indicatedTarget(limit, deadCentreReading, margin, step = HALF) {
  if (margin.sign() < 0) throw new GeometryImpossible("a margin goes to the late side; it is not negative");
  if (step.sign() <= 0) throw new GeometryImpossible("a step is positive");
  return roundToStep(limit.plus(deadCentreReading).minus(margin), step, "down");
}

/**
 * What an indicated cranking reading will be, truly, when running; `correction` is cranking minus running.
 * @param {Fraction} indicated
 * @param {Fraction} deadCentreReading
 * @param {Fraction} correction
 */
export function runningOfIndicated(indicated, deadCentreReading, correction) {
  return indicated.minus(deadCentreReading).minus(correction);
}

/**
 * On which side of a figure a reading lies, and how many degrees out of the figure itself (zero inside).
 * @typedef {{off: "inside" | "early" | "late", degrees: Fraction}} Verdict
 */

/**
 * Whether a true reading lies in a window (both ends in, an end may be open), or how far out and on which side. The
 * allowances widen a lone nominal: to the late side by the printed precision and the chosen margin, to the early side by
 * nothing for a maximum and by the printed precision elsewhere.
 * @param {Fraction} reading
 * @param {Fraction | null} low
 * @param {Fraction | null} high
 * @param {Fraction} [lateAllowance]
 * @param {Fraction} [earlyAllowance]
 * @returns {Verdict}
 * @throws {GeometryImpossible} an allowance is negative
 * @throws {WindowInverted} the late end is before the early end
 */
export function judgeReading(reading, low, high, lateAllowance = ZERO, earlyAllowance = ZERO) {
  if (lateAllowance.sign() < 0 || earlyAllowance.sign() < 0) {
    throw new GeometryImpossible("an allowance is not negative");
  }
  if (low && high && low.above(high)) {
    throw new WindowInverted(`the late end, ${low}, is before the early end, ${high}`);
  }
  if (high && reading.above(high.plus(earlyAllowance))) return { off: "early", degrees: reading.minus(high) };
  if (low && reading.below(low.minus(lateAllowance))) return { off: "late", degrees: low.minus(reading) };
  return { off: "inside", degrees: ZERO };
}
