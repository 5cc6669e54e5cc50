/**
 * Units by the key that a contributor types, with exact factors to the unit that each dimension is compared in: NIST SP
 * 811, 2008 edition, appendix B.8. A test holds the table against `kb.quantity.unit`.
 */

import { UnitsNotComparable, UnknownUnit } from "../errors.js";
import { Fraction, NOUGHT } from "./fraction.js";

/**
 * One unit: `value * factor + offset` is the value in the dimension's own unit. `fractions` and `signed` say what
 * numbers it is printed with.
 * @typedef {{readonly key: string, readonly dimension: string, readonly symbol: string, readonly name: string,
 *   readonly factor: Fraction, readonly offset: Fraction, readonly fractions: boolean, readonly signed: boolean}} Unit
 */

const INCH = Fraction.of("25.4");
const FOOT = Fraction.of("0.3048");
const GRAVITY = Fraction.of("9.80665");
const POUND_FORCE = Fraction.of("0.45359237").times(GRAVITY);
const US_GALLON = Fraction.of("3785.411784");
const IMPERIAL_GALLON = Fraction.of("4546.09");
const FREEZING = Fraction.of("273.15");
const FIVE_NINTHS = new Fraction(5n, 9n);

/** @param {number} number */
const whole = (number) => new Fraction(BigInt(number));

/** @type {Map<string, Unit>} */
const units = new Map();

/**
 * @param {string} key
 * @param {string} dimension
 * @param {string} symbol
 * @param {string} name
 * @param {Fraction} [factor]
 * @param {{offset?: Fraction, fractions?: boolean, signed?: boolean}} [more]
 */
function unit(
  key,
  dimension,
  symbol,
  name,
  factor = whole(1),
  { offset = NOUGHT, fractions = false, signed = false } = {},
) {
  const made = Object.freeze({ key, dimension, symbol, name, factor, offset, fractions, signed });
  units.set(key, made);
  return made;
}

export const DEGREE_OF_CRANK = unit("crank_deg", "crank-angle", "°", "degree of crank");
export const PISTON_MM = unit("piston_mm", "piston-position", "mm", "millimetre of piston travel");
export const PISTON_IN = unit("piston_in", "piston-position", "in", "inch of piston travel", INCH, { fractions: true });
unit("deg", "angle", "°", "degree");
export const MILLIMETRE = unit("mm", "length", "mm", "millimetre");
export const INCHES = unit("in", "length", "in", "inch", INCH, { fractions: true });
unit("m", "length", "m", "metre", whole(1000));
unit("ft", "length", "ft", "foot", FOOT.times(whole(1000)));
unit("rpm", "rotational-speed", "rpm", "revolution per minute");
unit("kW", "power", "kW", "kilowatt", whole(1000));
unit("hp", "power", "hp", "horsepower (550 ft lbf/s)", whole(550).times(FOOT).times(POUND_FORCE));
unit("PS", "power", "PS", "metric horsepower (75 kgf m/s)", whole(75).times(GRAVITY));
unit("kPa", "pressure", "kPa", "kilopascal", whole(1000));
unit("bar", "pressure", "bar", "bar", whole(100000));
unit("psi", "pressure", "psi", "pound-force per square inch", POUND_FORCE.times(whole(1000000)).over(INCH.times(INCH)));
unit("kgf_cm2", "pressure", "kgf/cm²", "kilogram-force per square centimetre", GRAVITY.times(whole(10000)));
unit("Nm", "torque", "N m", "newton metre");
unit("lbf_ft", "torque", "lbf ft", "pound-force foot", POUND_FORCE.times(FOOT));
unit("lbf_in", "torque", "lbf in", "pound-force inch", POUND_FORCE.times(INCH).over(whole(1000)));
unit("kgf_m", "torque", "kgf m", "kilogram-force metre", GRAVITY);
unit("cm3", "volume", "cm³", "cubic centimetre");
unit("mL", "volume", "mL", "millilitre");
unit("L", "volume", "L", "litre", whole(1000));
unit("us_gal", "volume", "US gal", "US gallon", US_GALLON);
unit("imp_gal", "volume", "imp gal", "imperial gallon", IMPERIAL_GALLON);
unit("us_fl_oz", "volume", "US fl oz", "US fluid ounce", US_GALLON.over(whole(128)));
unit("imp_fl_oz", "volume", "imp fl oz", "imperial fluid ounce", IMPERIAL_GALLON.over(whole(160)));
unit("V", "voltage", "V", "volt");
unit("to_one", "ratio", ":1", "to one");
unit("turns", "turns", "turns", "turn", whole(1), { fractions: true });
unit("s", "time", "s", "second");
unit("ms", "time", "ms", "millisecond", new Fraction(1n, 1000n));
unit("us", "time", "µs", "microsecond", new Fraction(1n, 1000000n));
unit("min", "time", "min", "minute", whole(60));
unit("h", "time", "h", "hour", whole(3600));
unit("degC", "temperature", "°C", "degree Celsius", whole(1), { offset: FREEZING, signed: true });
unit("degF", "temperature", "°F", "degree Fahrenheit", FIVE_NINTHS, {
  offset: FREEZING.minus(whole(32).times(FIVE_NINTHS)),
  signed: true,
});
unit("delta_degC", "temperature-difference", "°C", "Celsius degree of difference");
unit("delta_degF", "temperature-difference", "°F", "Fahrenheit degree of difference", FIVE_NINTHS);

/** Every unit by key. @type {ReadonlyMap<string, Unit>} */
export const UNITS = units;

/**
 * The unit with that key.
 * @param {string} key
 * @returns {Unit}
 * @throws {UnknownUnit} there is none
 */
export function unitOf(key) {
  const found = units.get(key);
  if (!found) throw new UnknownUnit(`no unit '${key}'`);
  return found;
}

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
