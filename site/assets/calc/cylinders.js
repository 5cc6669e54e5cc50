/** When each cylinder fires, for engines that fire at even intervals; and means of angles on a circle. */

import { GeometryImpossible, OddFire } from "../errors.js";
import { cosine, degrees, sine, withinHalfATurn } from "./circle.js";
import { requireFinite } from "./finite.js";
import { sumOf } from "./sums.js";

/**
 * At how many degrees after the first in the order each cylinder has its top dead centre, seen at the flywheel: the
 * place in the order counts, not the cylinder's number. 360/n for a two-stroke, 720/n for a four-stroke, modulo 360.
 * @param {readonly number[]} order the cylinders in the order in which they fire
 * @param {boolean | null} evenFire null if it is unknown
 * @param {boolean} [fourStroke]
 * @returns {Map<number, number>} by cylinder, in the order
 * @throws {OddFire} the engine does not fire at even intervals, or that is unknown
 * @throws {GeometryImpossible} the order is not each cylinder once
 */
export function firingAngles(order, evenFire, fourStroke = false) {
  const inTurn = [...order].sort((one, other) => one - other);
  if (!order.length || inTurn.some((cylinder, index) => cylinder !== index + 1)) {
    throw new GeometryImpossible(`${order.join("-")} does not name each cylinder once`);
  }
  if (order.length > 1 && evenFire !== true) {
    const why = evenFire === null ? "it is not known to fire at even intervals" : "it fires at uneven intervals";
    throw new OddFire(`${why}: the firing order alone does not show where each cylinder fires`);
  }
  const turn = fourStroke ? 720 : 360;
  return new Map(order.map((cylinder, place) => [cylinder, ((place * turn) / order.length) % 360]));
}

/**
 * What the marks of the order's first cylinder show while another stands at an angle; signed degrees, before top dead
 * centre positive, the result from -180 (excluded) to 180.
 * @param {number} angle
 * @param {number} cylinder
 * @param {readonly number[]} order
 * @param {boolean | null} evenFire
 * @param {boolean} [fourStroke]
 * @throws {OddFire} the engine does not fire at even intervals, or that is unknown
 * @throws {GeometryImpossible} the order is not each cylinder once, or has no such cylinder
 */
export function onMarksOfTheFirst(angle, cylinder, order, evenFire, fourStroke = false) {
  requireFinite(angle);
  const place = firingAngles(order, evenFire, fourStroke).get(cylinder);
  if (place === undefined) throw new GeometryImpossible(`there is no cylinder ${cylinder} in ${order.join("-")}`);
  return withinHalfATurn(angle - place);
}

/**
 * The mean of angles on a circle, in degrees from -180 (excluded) to 180.
 * @param {readonly number[]} angles
 * @throws {GeometryImpossible} there are none, or they are spread evenly around the circle and have no mean
 */
export function meanAngle(angles) {
  requireFinite(...angles);
  if (!angles.length) throw new GeometryImpossible("there are no angles to take the mean of");
  const [x, y] = [sumOf(angles.map(cosine)), sumOf(angles.map(sine))];
  if (Math.hypot(x, y) < 1e-9 * angles.length) {
    throw new GeometryImpossible("these angles are spread evenly around the circle and have no mean");
  }
  const mean = degrees(Math.atan2(y, x));
  return mean === -180 ? 180 : mean;
}
