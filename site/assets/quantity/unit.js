/** Units by the key that a contributor types, with exact factors; the table is that of `kb.quantity.unit`. */

import { UnitsNotComparable, UnknownUnit } from "../errors.js";
import { UNIT_TABLE } from "../vocabulary.js";
import { Fraction } from "./fraction.js";

/**
 * One unit: `value * factor + offset` is the value in the dimension's own unit. `fractions` and `signed` say what
 * numbers it is printed with.
 * @typedef {{readonly key: string, readonly dimension: string, readonly symbol: string, readonly name: string,
 *   readonly factor: Fraction, readonly offset: Fraction, readonly fractions: boolean, readonly signed: boolean}} Unit
 */

/** Every unit by key. @type {ReadonlyMap<string, Unit>} */
export const UNITS = new Map(
  UNIT_TABLE.map(({ factor = "1", offset = "0", fractions = false, signed = false, ...named }) => [
    named.key,
    Object.freeze({ ...named, factor: Fraction.of(factor), offset: Fraction.of(offset), fractions, signed }),
  ]),
);

/**
 * The unit with that key.
 * @param {string} key
 * @returns {Unit}
 * @throws {UnknownUnit} there is none
 */
export function unitOf(key) {
  const found = UNITS.get(key);
  if (!found) throw new UnknownUnit(`no unit '${key}'`);
  return found;
}

export const DEGREE_OF_CRANK = unitOf("crank_deg");
export const PISTON_MM = unitOf("piston_mm");
export const PISTON_IN = unitOf("piston_in");
export const MILLIMETRE = unitOf("mm");
export const INCHES = unitOf("in");

/**
 * A value in another unit of the same dimension, exactly.
 * @param {Fraction} value
 * @param {Unit} from
 * @param {Unit} to
 * @returns {Fraction}
 * @throws {UnitsNotComparable} the other unit measures something else
 */
export function convert(value, from, to) {
  if (to.dimension !== from.dimension) {
    throw new UnitsNotComparable(`${from.name} measures ${from.dimension}, ${to.name} measures ${to.dimension}`);
  }
  return to === from ? value : value.times(from.factor).plus(from.offset).minus(to.offset).over(to.factor);
}
