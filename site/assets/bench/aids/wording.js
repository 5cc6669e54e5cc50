/**
 * The bench's wording of numbers: rounded for the eye, with side and unit, never with a sign.
 */

import { Fraction, floorDivide } from "../../quantity/fraction.js";
import { angleInWords, plain } from "../../quantity/spoken.js";
import { convert, INCHES, MILLIMETRE, unitOf } from "../../quantity/unit.js";

/** @typedef {import("../../quantity/unit.js").Unit} Unit */

/** @typedef {import("../../working.js").Step} Step */

/**
 * The result of a calculation: the answer line by line, the most needed first; the steps with their inputs; remarks that
 * must be shown with it; and cautions. `big` is shown in big letters, if it is shorter than the first line.
 * @typedef {{answer: string[], steps: Step[], remarks: string[], cautions: string[], big?: string}} Worked
 */

/** A size as typed, in its unit. @typedef {{value: Fraction, text: string, unit: Unit}} Size */

/**
 * The sources of the fields' values, by field; those not in it were typed.
 * @typedef {Readonly<Record<string, string>> | undefined} Origins
 */

export const READ = "read on this engine";
export const TYPED = "typed";
export const TAKEN = "assumed, none given";
export const ABOVE = "worked out above";
export const NEAREST = "rounded to the nearest";

/** The source of a field's value. @param {Origins} origins @param {string} name */
export const originOf = (origins, name) => origins?.[name] ?? TYPED;

/**
 * Rounded to decimal places, halves to even.
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
 * A number without the noise in the last digits of a double, which would spoil rounding to one side.
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

/** A size in words. @param {Size} size */
export const sizeWords = ({ text, unit }) => `${text} ${unit.symbol}`;

/**
 * Stroke and rod as inputs of a working.
 * @param {{stroke: Size, rod: Size, origins?: Origins}} given
 * @returns {[string, string, string][]}
 */
export function crankInputs({ stroke, rod, origins }) {
  return [
    ["stroke", sizeWords(stroke), originOf(origins, "stroke")],
    ["rod", sizeWords(rod), originOf(origins, "rod")],
  ];
}

/** A length in millimetres, as a number. @param {Size} size */
export const millimetresOf = ({ value, unit }) => convert(value, unit, MILLIMETRE).toNumber();

/** Words as a list: `1, 2 and 3`. @param {readonly (string | number)[]} words */
export function listed(words) {
  return words.length > 1 ? `${words.slice(0, -1).join(", ")} and ${words.at(-1)}` : words.join("");
}

export const LITRE = unitOf("L");
