/** Numbers as the bench says them: rounded for the eye, with side and unit, never with a sign; and what is worked out. */

import { Fraction, floorDivide } from "../quantity/fraction.js";
import { angleInWords, plain } from "../quantity/spoken.js";
import { INCHES, MILLIMETRE, convert, unitOf } from "../quantity/unit.js";

/** @typedef {import("../quantity/unit.js").Unit} Unit */

/**
 * What a calculation came to: the answer line by line, the most needed first; the steps, each with what went in; what must
 * be said with it; and what can hurt.
 * @typedef {{answer: string[], steps: Step[], remarks: string[], cautions: string[]}} Worked
 * @typedef {{name: string, formula: string, inputs: [string, string][], result: string}} Step
 */

/** A measured size as typed, in its unit. @typedef {{value: Fraction, text: string, unit: Unit}} Size */

/**
 * Rounded to decimal places, halves to the even one.
 * @param {Fraction | number} value
 * @param {number} decimals
 */
function rounded(value, decimals) {
  const scale = Fraction.of(10n ** BigInt(decimals));
  const scaled = Fraction.of(value).times(scale);
  const whole = floorDivide(scaled.top, scaled.bottom);
  const twice = (scaled.top - whole * scaled.bottom) * 2n;
  const up = twice > scaled.bottom || (twice === scaled.bottom && whole % 2n !== 0n);
  return Fraction.of(up ? whole + 1n : whole).over(scale);
}

/**
 * A number without what the last digits of a double add or take: rounding to one side must not see them.
 * @param {number} number
 */
export const exactly = (number) => rounded(number, 9);

/**
 * Signed degrees, rounded, as words with the side.
 * @param {Fraction | number} degrees
 * @param {number} [decimals]
 */
export const angle = (degrees, decimals = 2) => angleInWords(rounded(degrees, decimals));

/**
 * A number of degrees without a side.
 * @param {Fraction | number} size
 * @param {number} [decimals]
 */
export const degreesOf = (size, decimals = 2) => `${plain(size, decimals)}°`;

/**
 * A length in millimetres and in inches.
 * @param {Fraction | number} millimetres
 */
export function length(millimetres) {
  const exact = Fraction.of(millimetres);
  return `${plain(exact, 2)} mm (${plain(convert(exact, MILLIMETRE, INCHES), 3)} in)`;
}

/** A size in its own words. @param {Size} size */
export const sizeWords = ({ text, unit }) => `${text} ${unit.symbol}`;

/** A length in millimetres, as a number. @param {Size} size */
export const millimetresOf = ({ value, unit }) => convert(value, unit, MILLIMETRE).toNumber();

/** Words as a list that is read aloud: `1, 2 and 3`. @param {readonly (string | number)[]} words */
export function listed(words) {
  return words.length > 1 ? `${words.slice(0, -1).join(", ")} and ${words.at(-1)}` : words.join("");
}

export const LITRE = unitOf("L");
