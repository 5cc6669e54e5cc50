/**
 * The flywheel rim: degrees to distance along it and across it, and back; degrees that have no number. Plain geometry of
 * the circle; "spacing of divisions on a circle" in machinists' handbooks. Lengths are in one unit throughout.
 */

import { GeometryImpossible } from "../errors.js";
import { degrees, radians, sine } from "./circle.js";
import { requireFinite } from "./finite.js";

/** @param {number} diameter */
function requireDiameter(diameter) {
  requireFinite(diameter);
  if (diameter <= 0) throw new GeometryImpossible(`the diameter of a rim is positive, not ${diameter}`);
}

/**
 * The radius at which a tape around the rim lies: half its thickness further out.
 * @param {number} diameter
 * @param {number} tapeThickness
 */
function tapeRadius(diameter, tapeThickness) {
  requireDiameter(diameter);
  requireFinite(tapeThickness);
  if (tapeThickness < 0) throw new GeometryImpossible(`a tape is not ${tapeThickness} thick`);
  return (diameter + tapeThickness) / 2;
}

/**
 * The distance along the rim, by tape, of an angle; it has the angle's sign.
 * @param {number} angle degrees
 * @param {number} diameter
 * @param {number} [tapeThickness]
 * @throws {GeometryImpossible} the diameter is not positive, or the tape's thickness is negative
 */
export function arc(angle, diameter, tapeThickness = 0) {
  requireFinite(angle);
  return radians(angle) * tapeRadius(diameter, tapeThickness);
}

/**
 * The angle in degrees of a distance along the rim, by tape.
 * @param {number} distance
 * @param {number} diameter
 * @param {number} [tapeThickness]
 * @throws {GeometryImpossible} the diameter is not positive, or the tape's thickness is negative
 */
export function angleOfArc(distance, diameter, tapeThickness = 0) {
  requireFinite(distance);
  return degrees(distance / tapeRadius(diameter, tapeThickness));
}

/**
 * The straight distance between two marks on the rim, by callipers; it has the angle's sign.
 * @param {number} angle degrees between the marks, from -180 to 180
 * @param {number} diameter
 * @throws {GeometryImpossible} the diameter is not positive, or the angle is more than half a turn
 */
export function chord(angle, diameter) {
  requireDiameter(diameter);
  requireFinite(angle);
  if (Math.abs(angle) > 180) {
    throw new GeometryImpossible(`callipers cannot measure ${angle} degrees: half a turn is the most`);
  }
  return diameter * sine(angle / 2);
}

/**
 * The angle in degrees between two marks that are `distance` apart by callipers.
 * @param {number} distance
 * @param {number} diameter
 * @throws {GeometryImpossible} the diameter is not positive, or the distance is more than it
 */
export function angleOfChord(distance, diameter) {
  requireDiameter(diameter);
  requireFinite(distance);
  if (Math.abs(distance) > diameter) {
    throw new GeometryImpossible(`no two marks on a rim of diameter ${diameter} are ${distance} apart`);
  }
  return degrees(2 * Math.atan2(distance, Math.sqrt((diameter - distance) * (diameter + distance))));
}

/**
 * Where a degree lies, counted from a numbered mark: it is `mark + beyond`, signed degrees. `divisions` is how many
 * divisions that is, where a division's worth is known; `extrapolated` says that it lies outside the numbered marks.
 * @typedef {{mark: number, beyond: number, divisions: number | null, extrapolated: boolean}} FromMark
 */

/**
 * Where a degree that may have no number lies, counted from the nearest numbered mark; of two equally near the earlier.
 * @param {number} angle signed degrees, before top dead centre positive, as are the marks
 * @param {readonly number[]} marks
 * @param {number | null} [division] what one division is worth, in degrees
 * @returns {FromMark}
 * @throws {GeometryImpossible} there are no marks, or a division is not positive
 */
export function fromNearestMark(angle, marks, division = null) {
  requireFinite(angle, ...marks, ...(division === null ? [] : [division]));
  if (!marks.length) throw new GeometryImpossible("no mark has a number to count from");
  if (division !== null && division <= 0) throw new GeometryImpossible(`a division is not worth ${division} degrees`);
  const mark = marks.reduce((best, one) => {
    const nearer = Math.abs(angle - one) - Math.abs(angle - best);
    return nearer < 0 || (nearer === 0 && one > best) ? one : best;
  });
  const beyond = angle - mark;
  const divisions = division === null ? null : Math.abs(beyond) / division;
  return { mark, beyond, divisions, extrapolated: angle < Math.min(...marks) || angle > Math.max(...marks) };
}

/**
 * The degree at a distance along the rim, linear between two numbered marks, and whether it is extrapolated.
 * @param {number} distance along the rim from any one point
 * @param {readonly [number, number]} first a mark's distance from that point and its signed degrees
 * @param {readonly [number, number]} second
 * @returns {{angle: number, extrapolated: boolean}}
 * @throws {GeometryImpossible} both marks stand at one place
 */
export function betweenMarks(distance, first, second) {
  requireFinite(distance, ...first, ...second);
  const [[start, low], [end, high]] = [first, second];
  if (start === end) throw new GeometryImpossible("the two marks are at the same place");
  const part = (distance - start) / (end - start);
  return { angle: low + (high - low) * part, extrapolated: part < 0 || part > 1 };
}
