/**
 * A rod or gauge in a plug hole that leans: what it travels along the hole, and how far the piston moved. A hole that
 * leans by a meets a crown whose slope faces it by b at `s = x cos b / cos(a - b)`: plain geometry of a line and a plane.
 */

import { GeometryImpossible } from "../errors.js";
import { cosine } from "./circle.js";
import { requireFinite } from "./finite.js";

/**
 * How far the piston moved along its bore when the rod in the hole moved by `travel`.
 * @param {number} travel counted from top dead centre
 * @param {number} tilt of the hole from the bore, degrees under 90
 * @param {number} [crownSlope] of the crown, degrees, positive where it is turned to face the hole
 * @throws {GeometryImpossible} the hole does not meet the crown at those angles
 */
export function positionOfTravel(travel, tilt, crownSlope = 0) {
  return travel * share(travel, tilt, crownSlope);
}

/**
 * How far the rod in the hole moves while the piston moves by `position`; the reverse, with the same limits.
 * @param {number} position
 * @param {number} tilt
 * @param {number} [crownSlope]
 * @throws {GeometryImpossible} the hole does not meet the crown at those angles
 */
export function travelOfPosition(position, tilt, crownSlope = 0) {
  return position / share(position, tilt, crownSlope);
}

/** The piston's movement over the rod's. @param {number} length @param {number} tilt @param {number} crownSlope */
function share(length, tilt, crownSlope) {
  requireFinite(length, tilt, crownSlope);
  if (!(Math.max(Math.abs(tilt), Math.abs(crownSlope), Math.abs(tilt - crownSlope)) < 90)) {
    throw new GeometryImpossible(`a hole leaning ${tilt} degrees does not meet a crown that slopes by ${crownSlope}`);
  }
  return cosine(tilt - crownSlope) / cosine(crownSlope);
}
