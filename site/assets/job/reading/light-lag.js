/**
 * The lag of a timing light: it flashes a moment after the spark, so at speed it shows the spark later than it is. What is
 * kept of a reading is what a light without lag would have shown.
 */

import { degreesOfDelay } from "../../calc/speed.js";
import { QuantityError } from "../../errors.js";
import { Fraction } from "../../quantity/fraction.js";
import { readNumber, roundToStep } from "../../quantity/number.js";
import { plain } from "../../quantity/spoken.js";
import { sidedValue } from "../log/report-value.js";
import { valueWords } from "../step-figure.js";

/** @typedef {Readonly<Record<string, any>>} Document */

const LONGEST = new Fraction(1000n); // a millisecond is no lag of a light but a slip of the keys
const MILLIONTH = 1e-6;
const MICRO_DIGITS = 6;
const HUNDREDTH = new Fraction(1n, 100n);

/**
 * How much later than it is a light shows the spark, in degrees to a hundredth, rounded toward a spark that is
 * earlier.
 * @param {string} lag in microseconds, as its maker states it
 * @param {string} rpm
 * @throws {QuantityError} one is not a plain number, or the lag is not one of a light
 */
export function lagDegrees(lag, rpm) {
  const [micro, speed] = [lag, rpm].map((text) => readNumber(text.trim()).value);
  if (!speed?.sign()) throw new QuantityError("the light's lag counts at a speed: type the speed too");
  if (!micro || micro.above(LONGEST))
    throw new QuantityError(
      `${lag} µs is no lag of a light: type what its maker states, such as 40, or leave it empty`,
    );
  const late = degreesOfDelay(micro.toNumber() * MILLIONTH, speed.toNumber()).toFixed(MICRO_DIGITS);
  return roundToStep(Fraction.of(late), HUNDREDTH, "up");
}

/** What a light without lag would have shown. @param {Fraction} shown signed degrees @param {Fraction} late */
export const withoutLag = (shown, late) => sidedValue(shown.plus(late));

/**
 * The lag that a reading was freed of, in words; empty without one.
 * @param {{lag: string, value: Document, conditions: Document}} reading
 * @param {Fraction | null} signed what is kept of it
 */
export function lagWords({ lag, conditions }, signed) {
  if (!lag || !signed) return "";
  const late = lagDegrees(lag, String(conditions["rpm"]));
  return `the light showed ${valueWords(sidedValue(signed.minus(late)))}, ${plain(late)}° late by its own ${lag} µs`;
}
