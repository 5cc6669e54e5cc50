/**
 * Crank geometry: piston position to crank angle and back, for a crank without wrist-pin offset. J. B. Heywood,
 * *Internal Combustion Engine Fundamentals* (1988), eq. 2.4 to 2.6 (from memory); R. S. Khurmi and J. K. Gupta, *Theory
 * of Machines*, 14th ed., ch. 15. Lengths are in one unit throughout, valid for `0 < throw < rod`.
 */

import { GeometryImpossible } from "../errors.js";
import { cosine, degrees, sine } from "./circle.js";
import { requireFinite } from "./finite.js";

/**
 * Do nothing if a crank of that throw (half the stroke) can turn on that rod (centre to centre).
 * @param {number} throwLength
 * @param {number} rod
 * @throws {GeometryImpossible} the rod is not longer than the throw, or the throw is not positive
 */
export function requireCrank(throwLength, rod) {
  requireFinite(throwLength, rod);
  if (!(0 < throwLength && throwLength < rod)) {
    throw new GeometryImpossible(
      `a rod of ${rod} on a crank throw of ${throwLength} cannot turn; the rod is the longer one`,
    );
  }
}

/**
 * How far the piston is below top dead centre, in the lengths' unit. The form keeps its digits near top dead
 * centre, where `l + r - r cos t - sqrt(l^2 - r^2 sin^2 t)` loses them all.
 * @param {number} angle degrees of crank from top dead centre, either side
 * @param {number} throwLength
 * @param {number} rod
 * @throws {GeometryImpossible} the rod is not longer than the throw
 */
export function pistonPosition(angle, throwLength, rod) {
  requireCrank(throwLength, rod);
  requireFinite(angle);
  const across = throwLength * sine(angle);
  return 2 * throwLength * sine(angle / 2) ** 2 + across ** 2 / (rod + rodUpright(angle, throwLength, rod));
}

/**
 * The crank angle, 0 to 180 degrees from top dead centre, at which the piston is `position` below it.
 * @param {number} position from 0 to twice the throw
 * @param {number} throwLength
 * @param {number} rod
 * @throws {GeometryImpossible} no such crank, or the piston does not reach that position
 */
export function crankDegrees(position, throwLength, rod) {
  requireCrank(throwLength, rod);
  requireFinite(position);
  const stroke = 2 * throwLength;
  if (!(0 <= position && position <= stroke)) {
    throw new GeometryImpossible(`the piston never gets ${position} below top dead centre in a stroke of ${stroke}`);
  }
  const [halfSine, halfCosine] = halfAngle(position, throwLength, rod);
  return degrees(2 * Math.atan2(halfSine, halfCosine));
}

/**
 * How many degrees of crank one unit of piston travel is at a position: what a reading's last digit is worth.
 * @param {number} position inside the stroke; at the dead centres themselves it is without bound
 * @param {number} throwLength
 * @param {number} rod
 * @throws {GeometryImpossible} no such crank, or the position is not inside the stroke
 */
export function degreesPerLength(position, throwLength, rod) {
  requireCrank(throwLength, rod);
  requireFinite(position);
  const stroke = 2 * throwLength;
  if (!(0 < position && position < stroke)) {
    throw new GeometryImpossible(`${position} is not inside a stroke of ${stroke}`);
  }
  const [halfSine, halfCosine] = halfAngle(position, throwLength, rod);
  const height = throwLength + rod - position;
  return degrees((height * height + (rod - throwLength) * (rod + throwLength)) / height / halfSine / halfCosine);
}

/**
 * How far the piston moves for a radian of crank, in the lengths' unit, positive on the way down from 0 to 180 degrees.
 * @param {number} angle degrees from top dead centre
 * @param {number} throwLength
 * @param {number} rod
 * @throws {GeometryImpossible} the rod is not longer than the throw
 */
export function travelPerRadian(angle, throwLength, rod) {
  requireCrank(throwLength, rod);
  requireFinite(angle);
  const upright = rodUpright(angle, throwLength, rod);
  const along = throwLength * cosine(angle);
  // The wrist pin's height over the crank's centre; below it the sum would be a difference.
  const height = along >= 0 ? upright + along : ((rod - throwLength) * (rod + throwLength)) / (upright - along);
  return (throwLength * sine(angle) * height) / upright;
}

/**
 * The piston's speed, in the lengths' unit per second, positive on the way down.
 * @param {number} angle degrees after top dead centre
 * @param {number} throwLength
 * @param {number} rod
 * @param {number} rpm revolutions per minute, not negative
 * @throws {GeometryImpossible} the rod is not longer than the throw, or the speed is negative
 */
export function pistonSpeed(angle, throwLength, rod, rpm) {
  requireFinite(rpm);
  if (rpm < 0) {
    throw new GeometryImpossible(`a crank cannot turn at ${rpm} revolutions a minute; the speed must not be negative`);
  }
  return travelPerRadian(angle, throwLength, rod) * ((rpm * Math.PI) / 30);
}

/**
 * How high the wrist pin stands over the crank's centre, along the bore, at the top and at the bottom.
 * @param {number} throwLength
 * @param {number} rod
 * @param {number} offset how far the pin's line passes by the crank's centre
 * @returns {[number, number]}
 * @throws {GeometryImpossible} the rod is not longer than throw and offset together
 */
export function pinHeights(throwLength, rod, offset) {
  requireCrank(throwLength, rod);
  requireFinite(offset);
  const [longest, shortest] = [rod + throwLength, rod - throwLength];
  if (Math.abs(offset) >= shortest) {
    throw new GeometryImpossible(
      `a rod of ${rod} on a throw of ${throwLength} cannot turn with its pin ${offset} aside`,
    );
  }
  return [Math.sqrt((longest - offset) * (longest + offset)), Math.sqrt((shortest - offset) * (shortest + offset))];
}

/**
 * The rod's length along the cylinder, `sqrt(l^2 - r^2 sin^2 t)`, as a sum of squares that loses nothing.
 * @param {number} angle
 * @param {number} throwLength
 * @param {number} rod
 */
function rodUpright(angle, throwLength, rod) {
  return Math.hypot(Math.sqrt((rod - throwLength) * (rod + throwLength)), throwLength * cosine(angle));
}

/**
 * Sine and cosine of half the crank angle, both times `2 sqrt(throw * height)`, which keeps the digits at both centres.
 * @param {number} position
 * @param {number} throwLength
 * @param {number} rod
 * @returns {[number, number]}
 */
function halfAngle(position, throwLength, rod) {
  const above = 2 * throwLength - position;
  return [Math.sqrt(position * (2 * rod - position)), Math.sqrt(above * (2 * rod + above))];
}
