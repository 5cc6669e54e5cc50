/**
 * Numbers as the bench says them: rounded for the eye, with side and unit, never with a sign; and what is worked out.
 */

import { Fraction, floorDivide } from "../../quantity/fraction.js";
import { angleInWords, plain } from "../../quantity/spoken.js";
import { convert, INCHES, MILLIMETRE, unitOf } from "../../quantity/unit.js";

/** @typedef {import("../../quantity/unit.js").Unit} Unit */

/** @typedef {import("../../book/when-running.js").Step} Step */

/**
 * What a calculation came to: the answer line by line, the most needed first; the steps, each with what went in; what must
 * be said with it; and what can hurt. `big` is what is read from arm's length, where that is less than the first line.
 * @typedef {{answer: string[], steps: Step[], remarks: string[], cautions: string[], big?: string}} Worked
 */

/** A measured size as typed, in its unit. @typedef {{value: Fraction, text: string, unit: Unit}} Size */

/**
 * Where the fields' values are from, by their names; those that are not in it were typed.
 * @typedef {Readonly<Record<string, string>> | undefined} Origins
 */

export const READ = "read on this engine";
export const TYPED = "typed";
export const TAKEN = "taken, since nothing else was said";
export const ABOVE = "worked out above";
export const NEAREST = "rounded to the nearest";

/**
 * One step of a working, its inputs as lists of name, value and where that is from.
 * @param {string} name
 * @param {string} formula
 * @param {readonly (readonly [string, string, string?])[]} inputs
 * @param {string} result
 * @param {string} [rounding]
 * @returns {Step}
 */
export function step(name, formula, inputs, result, rounding = "") {
  return {
    name,
    formula,
    inputs: inputs.map(([what, value, source = ""]) => ({ name: what, value, source })),
    result,
    rounding,
  };
}

/** Where a field's value is from. @param {Origins} origins @param {string} name */
export const originOf = (origins, name) => origins?.[name] ?? TYPED;

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

/** Words as a list that is read aloud: `1, 2 and 3`. @param {readonly (string | number)[]} words */
export function listed(words) {
  return words.length > 1 ? `${words.slice(0, -1).join(", ")} and ${words.at(-1)}` : words.join("");
}

export const LITRE = unitOf("L");
