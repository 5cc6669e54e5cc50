/** Petrol and oil by volume, with the gallon named, exactly. */

import { GeometryImpossible } from "../errors.js";
import { Fraction, ONE } from "../quantity/fraction.js";
import { convert } from "../quantity/unit.js";

/** @typedef {import("../quantity/unit.js").Unit} Unit */

/**
 * The oil for a volume of petrol. The units are named, so that a US and an imperial gallon are never mistaken for each
 * other (NIST SP 811: 3.785 412 L and 4.546 09 L).
 * @param {Fraction} petrol
 * @param {Fraction} ratio parts of petrol to one of oil, at least 1
 * @param {Unit} petrolUnit
 * @param {Unit} oilUnit
 * @returns {Fraction}
 * @throws {GeometryImpossible} the volume is negative or the ratio under 1
 * @throws {UnitsNotComparable} a unit is no unit of volume
 */
export function oilFor(petrol, ratio, petrolUnit, oilUnit) {
  if (petrol.sign() < 0) throw new GeometryImpossible("a volume is not negative");
  if (ratio.below(ONE)) {
    throw new GeometryImpossible(`${ratio} parts of petrol to one of oil is more oil than petrol`);
  }
  return convert(petrol.over(ratio), petrolUnit, oilUnit);
}

/**
 * Parts of petrol to one of oil of a mixture of two volumes.
 * @param {Fraction} petrol
 * @param {Fraction} oil
 * @param {Unit} petrolUnit
 * @param {Unit} oilUnit
 * @returns {Fraction}
 * @throws {GeometryImpossible} there is no oil, or a negative volume
 * @throws {UnitsNotComparable} a unit is no unit of volume
 */
export function ratioOf(petrol, oil, petrolUnit, oilUnit) {
  if (oil.sign() <= 0 || petrol.sign() < 0) throw new GeometryImpossible("without oil there is no ratio");
  return convert(petrol, petrolUnit, oilUnit).over(oil);
}
