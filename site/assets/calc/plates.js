/**
 * Throttle plates: how much of the bore is open at a plate angle, and how unequal plates matter. J. B. Heywood, *Internal
 * Combustion Engine Fundamentals* (1988), eq. 7.18 (from memory), in a form that keeps its digits at the first crack.
 * Angles are degrees from square across the bore.
 */

import { GeometryImpossible } from "../errors.js";
import { cosine, sine } from "./circle.js";
import { requireFinite } from "./finite.js";

/**
 * The open area over that of the bore.
 * @param {number} angle from the closed angle to 90
 * @param {number} [closedAngle] where the plate touches
 * @param {number} [shaftRatio] shaft over bore diameter, 0 to under 1
 * @throws {GeometryImpossible} an angle or the ratio is out of its range
 */
export function openPart(angle, closedAngle = 10, shaftRatio = 0.2) {
  requireFinite(angle, closedAngle, shaftRatio);
  if (!(0 <= closedAngle && closedAngle < 90 && closedAngle <= angle && angle <= 90)) {
    throw new GeometryImpossible(`a plate that closes at ${closedAngle} degrees does not stand at ${angle}`);
  }
  if (!(0 <= shaftRatio && shaftRatio < 1))
    throw new GeometryImpossible(`a shaft is 0 to under 1 of the bore, not ${shaftRatio}`);
  const [a, beside] = [shaftRatio, Math.sqrt((1 - shaftRatio) * (1 + shaftRatio))];
  const [halfSum, halfDifference] = [(angle + closedAngle) / 2, (angle - closedAngle) / 2];
  const gap = (2 * sine(halfSum) * sine(halfDifference)) / cosine(closedAngle); // 1 - k
  const k = cosine(angle) / cosine(closedAngle);
  const over = 1 - a - gap; // how far the plate's shadow tops the shaft's
  if (over <= 0 || k <= a) {
    const left = Math.atan2(beside, a); // the shaft alone is in the way
    return (2 / Math.PI) * (lessItsSine(left) + 2 * beside * Math.sin(left / 2) ** 2);
  }
  const seen = Math.sqrt(over * (k + a)); // k cos b
  const swing = Math.atan2((a * gap * (1 + k)) / (beside + seen), beside * seen + a * a); // b - a
  const crescent = gap * (Math.atan2(seen, a) + (a * seen) / (k * k));
  const strip = lessItsSine(swing) + ((2 * a * (seen + beside)) / k) * Math.sin(swing / 2) ** 2;
  return (2 / Math.PI) * (crescent + strip);
}

/** `x - sin x` for 0 <= x < pi, by its series where the difference would lose digits. @param {number} angle */
function lessItsSine(angle) {
  if (angle > 1) return angle - Math.sin(angle);
  const square = angle * angle;
  let [term, total, place] = [angle ** 3 / 6, 0, 3];
  while (Math.abs(term) > 1e-18 * total) {
    total += term;
    term *= -square / ((place + 1) * (place + 2));
    place += 2;
  }
  return total;
}

/**
 * How many times the air of one plate the other lets through, by open area, at the same pressure.
 * @param {number} angle
 * @param {number} other
 * @param {number} [closedAngle]
 * @param {number} [shaftRatio]
 * @throws {GeometryImpossible} as `openPart`, or the first plate is shut
 */
export function airRatio(angle, other, closedAngle = 10, shaftRatio = 0.2) {
  const one = openPart(angle, closedAngle, shaftRatio);
  if (one <= 0) throw new GeometryImpossible("the first plate is shut: no air passes it to compare with");
  return openPart(other, closedAngle, shaftRatio) / one;
}

/**
 * The plate's angle at which it first lets `part` of the bore open: the reverse of `openPart`, found by halving.
 * @param {number} part from 0 to what the shaft leaves
 * @param {number} [closedAngle]
 * @param {number} [shaftRatio]
 * @throws {GeometryImpossible} an angle or the ratio is out of its range, or the shaft leaves less open than that
 */
export function angleForPart(part, closedAngle = 10, shaftRatio = 0.2) {
  requireFinite(part);
  const most = openPart(90, closedAngle, shaftRatio);
  if (!(0 <= part && part <= most)) {
    throw new GeometryImpossible(`a shaft of ${shaftRatio} bores leaves 0 to ${most} of the bore, never ${part}`);
  }
  let [low, high] = [closedAngle, 90];
  for (let middle = (low + high) / 2; low < middle && middle < high; middle = (low + high) / 2) {
    if (openPart(middle, closedAngle, shaftRatio) < part) low = middle;
    else high = middle;
  }
  return part ? high : closedAngle;
}
