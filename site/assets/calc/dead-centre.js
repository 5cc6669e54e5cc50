/**
 * True top dead centre by bisecting two equal piston positions, and the pointer's error. J. Rose, *Modern Machine-Shop
 * Practice*, figs 2551-2552; A. Sinclair, *Locomotive Engine Running and Management*; Maggard, *Rough and Tumble
 * Engineering* (turn in one direction only). Angles are signed degrees, before top dead centre positive.
 */

import { GeometryImpossible } from "../errors.js";
import { degrees } from "./circle.js";
import { pinHeights, travelPerRadian } from "./crank.js";
import { requireFinite } from "./finite.js";
import { spread } from "./readings.js";

/**
 * Degrees of dead-centre reading beyond which the job stops: look at the flywheel key, the flywheel, the cylinder.
 * Common practice, no source.
 */
export const STOP_JOB_BEYOND = 3;

/**
 * What the pointer shows at true top dead centre, its standard uncertainty and the expanded one (k = 2), in degrees.
 * @typedef {{reading: number, standard: number, expanded: number}} DeadCentre
 */

/** @param {number} reading @param {number} standard @returns {DeadCentre} */
const known = (reading, standard) => ({ reading, standard, expanded: 2 * standard });

/**
 * The reading at true top dead centre from the readings at the two contacts with a piston stop, or from two equal
 * readings of a dial gauge. Exact whatever the rod or the depth of the stop, if pin and bore have no offset.
 * @param {number} first
 * @param {number} second
 * @param {number} [firstUncertainty] standard, in degrees
 * @param {number} [secondUncertainty]
 * @returns {DeadCentre}
 * @throws {GeometryImpossible} both readings are the same, or an uncertainty is negative
 */
export function deadCentre(first, second, firstUncertainty = 0.25, secondUncertainty = firstUncertainty) {
  requireFinite(first, second, firstUncertainty, secondUncertainty);
  if (first === second) throw new GeometryImpossible("both contacts read the same: turn the other way for the second");
  if (Math.min(firstUncertainty, secondUncertainty) < 0) {
    throw new GeometryImpossible("an uncertainty is not negative");
  }
  return known((first + second) / 2, Math.hypot(firstUncertainty, secondUncertainty) / 2);
}

/**
 * The dead-centre reading from one or more pairs of contacts, and how far the pairs' middles scatter (zero for one).
 * The uncertainty of a reading is common to all pairs, since marks and eye are the same ones: JCGM 100:2008, 4.2, 5.1.2.
 * @param {readonly (readonly [number, number])[]} pairs
 * @param {number} [uncertainty] standard, in degrees
 * @returns {DeadCentre & {scatter: number}}
 * @throws {GeometryImpossible} both readings of a pair are the same, or the uncertainty is negative
 * @throws {ReadingsContradict} there are no pairs
 */
export function meanDeadCentre(pairs, uncertainty = 0.25) {
  const centres = pairs.map(([first, second]) => deadCentre(first, second, uncertainty));
  const [only] = centres;
  if (only && centres.length === 1) return { ...only, scatter: 0 };
  const middles = spread(centres.map((centre) => centre.reading));
  return { ...known(middles.mean, Math.hypot(middles.ofMean, only?.standard ?? 0)), scatter: middles.scatter };
}

/**
 * The true angle of an indicated one.
 * @param {number} indicated
 * @param {number} deadCentreReading
 */
export function trueAngle(indicated, deadCentreReading) {
  requireFinite(indicated, deadCentreReading);
  return indicated - deadCentreReading;
}

/**
 * What the pointer shows at a true angle.
 * @param {number} angle
 * @param {number} deadCentreReading
 */
export function indicatedAngle(angle, deadCentreReading) {
  requireFinite(angle, deadCentreReading);
  return angle + deadCentreReading;
}

/**
 * How far off the middle is, in degrees, when the stop gave way by `shift` on one side only; to first order.
 * @param {number} shift in the unit of throw and rod
 * @param {number} contact degrees from top dead centre, up to 180 either side
 * @param {number} throwLength
 * @param {number} rod
 * @throws {GeometryImpossible} the crank cannot turn, or the piston is still at the contact
 */
export function shiftError(shift, contact, throwLength, rod) {
  requireFinite(shift);
  const slope = travelPerRadian(Math.abs(contact), throwLength, rod);
  if (slope <= 0) throw new GeometryImpossible("at dead centre itself the piston does not move");
  return degrees(Math.abs(shift) / slope) / 2;
}

/**
 * How far the middle of two equal piston positions lies from true top dead centre, in degrees, positive to the side of
 * the offset: `atan(e / (H - x)) - asin(e / (l + r))` in a form without the difference.
 * @param {number} offset
 * @param {number} position how far the piston is below its own top, from 0 to the stroke
 * @param {number} throwLength
 * @param {number} rod
 * @throws {GeometryImpossible} no such crank, or the piston does not reach that position
 */
export function offsetBias(offset, position, throwLength, rod) {
  const [top, bottom] = pinHeights(throwLength, rod, offset);
  requireFinite(position);
  const stroke = (4 * rod * throwLength) / (top + bottom);
  if (!(0 <= position && position <= stroke)) {
    throw new GeometryImpossible(`the piston never gets ${position} below its top in a stroke of ${stroke}`);
  }
  return degrees(Math.atan2(offset * position, (top - position) * top + offset * offset));
}
