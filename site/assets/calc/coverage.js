/**
 * From a standard uncertainty to an expanded one: parts combined, and the coverage factor for a probability. JCGM
 * 100:2008, *Guide to the expression of uncertainty in measurement*: 5.1.2, G.3, G.4.1, G.6.4.
 */

import { ReadingsContradict } from "../errors.js";
import { requireFinite } from "./finite.js";
import { sumOf } from "./sums.js";

/** Degrees of freedom from which on Student's distribution is taken from the normal one by its series. */
const MANY = 1000;

/**
 * A combined standard uncertainty, in the unit of its parts, and its effective degrees of freedom.
 * @typedef {{standard: number, freedom: number}} Combined
 */

/**
 * Independent standard uncertainties combined: the root of the sum of their squares.
 * @param {readonly (readonly [number, number])[]} parts a standard uncertainty and its degrees of freedom (`Infinity`
 *   where it is taken as known, as the half-width of an instrument's division)
 * @returns {Combined}
 * @throws {ReadingsContradict} no parts, a negative uncertainty, or degrees of freedom that are not positive
 */
export function combine(parts) {
  requireFinite(...parts.map(([part]) => part));
  requireFinite(...parts.map(([, freedom]) => freedom).filter((freedom) => freedom !== Infinity));
  if (!parts.length) throw new ReadingsContradict("without parts there is no uncertainty to combine");
  if (parts.some(([part, freedom]) => part < 0 || freedom <= 0)) {
    throw new ReadingsContradict("an uncertainty is not negative, and degrees of freedom are positive");
  }
  const standard = Math.hypot(...parts.map(([part]) => part));
  if (standard === 0) return { standard: 0, freedom: Infinity };
  const share = sumOf(parts.map(([part, freedom]) => (part / standard) ** 4 / freedom));
  return { standard, freedom: share > 0 ? 1 / share : Infinity };
}

/**
 * Student's factor k: within k standard uncertainties lies that part of all cases. From the closed sums of the
 * distribution for whole degrees of freedom (M. Abramowitz and I. A. Stegun, *Handbook of Mathematical Functions*,
 * 26.7.3 to 26.7.5, from memory), turned round by halving.
 * @param {number} probability between 0 and 1, as 0.95
 * @param {number} freedom at least 1 and cut to a whole number as G.4.1 says, `Infinity` for the normal distribution
 * @throws {ReadingsContradict} the probability is not between 0 and 1, or less than one degree of freedom
 */
export function coverageFactor(probability, freedom) {
  requireFinite(probability, ...(freedom === Infinity ? [] : [freedom]));
  if (!(0 < probability && probability < 1)) {
    throw new ReadingsContradict(`a probability lies between 0 and 1, such as 0.95; ${probability} does not`);
  }
  if (freedom < 1) {
    throw new ReadingsContradict(`${freedom} degrees of freedom are too few; take another reading`);
  }
  const whole = Math.floor(freedom);
  if (whole < MANY) {
    const angle = halved(0, Math.PI / 2, (middle) => within(middle, whole) < probability);
    return (Math.sqrt(whole) * Math.sin(angle)) / Math.cos(angle);
  }
  const normal = halved(0, 9, (middle) => withinOfNormal(middle) < probability);
  return freedom === Infinity ? normal : bySeries(normal, whole);
}

/**
 * The least number between two at which something no longer holds, to the last place.
 * @param {number} low
 * @param {number} high
 * @param {(middle: number) => boolean} holds
 */
function halved(low, high, holds) {
  let [least, most] = [low, high];
  for (let middle = (least + most) / 2; least < middle && middle < most; middle = (least + most) / 2) {
    if (holds(middle)) least = middle;
    else most = middle;
  }
  return most;
}

/**
 * The part of all cases within `sqrt(freedom) * tan(angle)`, for whole degrees of freedom.
 * @param {number} angle
 * @param {number} freedom
 */
function within(angle, freedom) {
  const square = Math.cos(angle) ** 2;
  const odd = freedom % 2;
  let [term, total] = [1, 0];
  for (let step = 0; step < (freedom - odd) / 2; step += 1) {
    total += term;
    term *= square * (odd ? (2 * step + 2) / (2 * step + 3) : (2 * step + 1) / (2 * step + 2));
  }
  return odd ? ((angle + Math.sin(angle) * Math.cos(angle) * total) * 2) / Math.PI : Math.sin(angle) * total;
}

/**
 * The part of all cases within z standard deviations of the normal distribution: a series of positive parts (Abramowitz
 * and Stegun, 26.2.11, from memory).
 * @param {number} z
 */
function withinOfNormal(z) {
  let [term, total, place] = [z, 0, 1];
  while (total + term > total) {
    total += term;
    place += 2;
    term *= (z * z) / place;
  }
  return Math.sqrt(2 / Math.PI) * Math.exp((-z * z) / 2) * total;
}

/**
 * Student's quantile from the normal one, by the first terms of its expansion.
 * @param {number} z
 * @param {number} n degrees of freedom
 */
function bySeries(z, n) {
  const s = z * z;
  return (
    z *
    (1 +
      (s + 1) / (4 * n) +
      ((5 * s + 16) * s + 3) / (96 * n ** 2) +
      (((3 * s + 19) * s + 17) * s - 15) / (384 * n ** 3) +
      ((((79 * s + 776) * s + 1482) * s - 1920) * s - 945) / (92160 * n ** 4))
  );
}
