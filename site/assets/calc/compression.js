/** How far the cylinders' compression readings lie apart, with the denominator named. */

import { ReadingsContradict } from "../errors.js";
import { requireFinite } from "./finite.js";
import { meanOf } from "./sums.js";

/**
 * The readings' lowest, highest and mean in their unit, and their difference as percent of each.
 * @typedef {{lowest: number, highest: number, mean: number, ofHighest: number, ofMean: number, ofLowest: number}} Apart
 */

/**
 * How far pressures of several cylinders, all in one unit, lie apart.
 * @param {readonly number[]} readings
 * @returns {Apart}
 * @throws {ReadingsContradict} fewer than two, or one that is not positive
 */
export function apart(readings) {
  requireFinite(...readings);
  if (readings.length < 2) throw new ReadingsContradict("a comparison needs at least two cylinders");
  const [lowest, highest] = [Math.min(...readings), Math.max(...readings)];
  if (lowest <= 0) {
    throw new ReadingsContradict("a pressure is positive; leave out a cylinder that gives none");
  }
  const mean = meanOf(readings);
  const [ofHighest = 0, ofMean = 0, ofLowest = 0] = [highest, mean, lowest].map(
    (whole) => (100 * (highest - lowest)) / whole,
  );
  return { lowest, highest, mean, ofHighest, ofMean, ofLowest };
}
