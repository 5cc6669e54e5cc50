/**
 * Breaker points: how a change of gap moves the timing, and where the cam first meets the roller. Linear interpolation in
 * a measured table and never beyond it: no cam's form is taken for granted.
 */

import { Extrapolation, ReadingsContradict } from "../errors.js";
import { requireFinite } from "./finite.js";

/** @typedef {readonly [number, number]} Pair */

/**
 * The timing in signed degrees (before positive) at a breaker gap, from readings at other gaps on this engine.
 * @param {readonly Pair[]} readings pairs of gap and timing
 * @param {number} gap in the readings' unit
 * @throws {ReadingsContradict} fewer than two gaps, one gap twice, or a wider gap that reads later
 * @throws {Extrapolation} the gap lies outside those that were read
 */
export function timingAtGap(readings, gap) {
  const rows = neighbours(readings, gap);
  if (rows.some(([[, late], [, early]]) => late > early)) {
    throw new ReadingsContradict("a wider gap opens the points earlier; these readings contradict that");
  }
  for (const [[low, first], [high, last]] of rows) {
    if (low <= gap && gap <= high) return first + ((last - first) * (gap - low)) / (high - low);
  }
  const [least, most] = [rows[0]?.[0][0], rows.at(-1)?.[1][0]];
  throw new Extrapolation(`a gap of ${gap} lies outside the readings, ${least} to ${most}`);
}

/**
 * Between which two cam angles in degrees the roller's gap closes: the last with a gap and the first without.
 * @param {readonly Pair[]} readings pairs of cam angle and gap
 * @returns {[number, number]}
 * @throws {ReadingsContradict} fewer than two readings, an angle twice, no gap to begin with, or a gap that grows
 * @throws {Extrapolation} the gap does not close within the readings
 */
export function firstContact(readings) {
  const rows = neighbours(readings, 0);
  if (rows.some(([[, sooner], [, later]]) => later > sooner)) {
    throw new ReadingsContradict("the gap grows on the way: the cam turns the wrong way, or something sticks");
  }
  for (const [[openAt, gap], [shutAt, closed]] of rows) {
    if (gap > 0 && closed <= 0) return [openAt, shutAt];
  }
  if ((rows[0]?.[0][1] ?? 0) <= 0) {
    throw new ReadingsContradict("there is no gap at the first reading; turn the cam back and begin again");
  }
  throw new Extrapolation(`the gap is still ${rows.at(-1)?.[1][1]} at the last reading; turn the cam further`);
}

/**
 * The readings in order, each with the one that follows it.
 * @param {readonly Pair[]} readings
 * @param {number} extra another number that must be finite
 * @returns {[Pair, Pair][]}
 */
function neighbours(readings, extra) {
  requireFinite(extra, ...readings.flat());
  const table = [...readings].sort((one, other) => one[0] - other[0] || one[1] - other[1]);
  /** @type {[Pair, Pair][]} */
  const rows = [];
  let before = null;
  for (const reading of table) {
    if (before) rows.push([before, reading]);
    before = reading;
  }
  if (!rows.length || rows.some(([one, other]) => one[0] === other[0])) {
    throw new ReadingsContradict("at least two readings are needed, each at a different setting");
  }
  return rows;
}
