/**
 * A crank whose wrist pin stands off the line of the crank: dead centres, piston position and back. True top dead centre
 * is where throw and rod lie in one line, at `asin(e / (l + r))` from the upright throw. Lengths are in one unit, valid
 * for `throw + |offset| < rod`.
 */

import { degrees, radians, sine, withinHalfATurn } from "./circle.js";
import { pinHeights } from "./crank.js";
import { offsetBias } from "./dead-centre.js";
import { requireFinite } from "./finite.js";

/**
 * Where the piston turns back, in degrees from the upright throw to the side of the offset, and the stroke.
 * @param {number} throwLength
 * @param {number} rod
 * @param {number} offset
 * @returns {{top: number, bottom: number, stroke: number}}
 * @throws {GeometryImpossible} no such crank
 */
export function deadCentres(throwLength, rod, offset) {
  const [top, bottom] = pinHeights(throwLength, rod, offset);
  return {
    top: degrees(Math.atan2(offset, top)),
    bottom: 180 + degrees(Math.atan2(offset, bottom)),
    stroke: (4 * rod * throwLength) / (top + bottom),
  };
}

/**
 * How far the piston is below its own top. `2 r sin(d/2) sin((d + f)/2) / cos((p + q)/2)`, with f what the rod has
 * swung since the top and p, q its tilt now and then: no difference of lengths, so that no digit goes.
 * @param {number} angle degrees of crank from true top dead centre, positive to the side of the offset
 * @param {number} throwLength
 * @param {number} rod
 * @param {number} offset
 * @throws {GeometryImpossible} no such crank
 */
export function offsetPistonPosition(angle, throwLength, rod, offset) {
  requireFinite(angle);
  const turned = withinHalfATurn(angle);
  const [top] = pinHeights(throwLength, rod, offset);
  const start = Math.atan2(offset, top);
  const across = throwLength * sine(turned + degrees(start)) - offset;
  const tilt = Math.atan2(across, Math.sqrt(rod - across) * Math.sqrt(rod + across));
  const upright = Math.cos((tilt - start) / 2);
  const along = throwLength * Math.cos(radians(turned / 2) + start) * sine(turned / 2);
  const halfSwing = Math.asin(along / (rod * upright));
  return (2 * throwLength * sine(turned / 2) * sine(turned / 2 + degrees(halfSwing))) / upright;
}

/**
 * The two crank angles from true top dead centre at which the piston is `position` below its own top: the first on
 * the side of the offset (positive), the second on the other.
 * @param {number} position from 0 to the stroke of `deadCentres`
 * @param {number} throwLength
 * @param {number} rod
 * @param {number} offset
 * @returns {[number, number]}
 * @throws {GeometryImpossible} no such crank, or the piston does not reach that position
 */
export function offsetCrankDegrees(position, throwLength, rod, offset) {
  const middle = offsetBias(offset, position, throwLength, rod);
  const [top, bottom] = pinHeights(throwLength, rod, offset);
  const above = (4 * rod * throwLength) / (top + bottom) - position;
  const height = bottom + above;
  const away = Math.hypot(offset, height);
  const nearSine = ((position * (2 * top - position)) / (rod + throwLength + away)) * (rod + away - throwLength);
  const nearCosine = ((above * (height + bottom)) / (away + rod - throwLength)) * (away + throwLength + rod);
  const half = degrees(2 * Math.atan2(Math.sqrt(nearSine), Math.sqrt(Math.max(nearCosine, 0))));
  return [middle + half, middle - half];
}
