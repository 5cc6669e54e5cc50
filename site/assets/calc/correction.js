/**
 * The correction between cranking and running: how much earlier or later the timing reads while cranking. Its side
 * cannot be reasoned out (electrical delay and trigger strength pull opposite ways): it is data, or a refusal. Angles are
 * signed, before top dead centre positive; a correction is cranking reading minus running reading.
 */

import { Extrapolation, NoCorrectionKnown, ReadingsContradict } from "../errors.js";
import { Fraction } from "../quantity/fraction.js";

/**
 * Engine speed in rpm (none for a constant) and the signed correction there, in degrees.
 * @typedef {readonly [Fraction | null, Fraction]} Point
 */

/**
 * The correction in degrees at a speed: a constant as it is, a table by linear interpolation within it.
 * @param {readonly Point[]} points in ascending order of speed, each once
 * @param {Fraction | null} rpm needed for a table and not looked at for a constant
 * @returns {Fraction}
 * @throws {NoCorrectionKnown} there are no points, or a table was given and no speed
 * @throws {ReadingsContradict} the table's speeds do not rise, or a constant stands in it
 * @throws {Extrapolation} the speed lies outside the table
 */
export function correctionAt(points, rpm) {
  const [head] = points;
  if (!head) throw new NoCorrectionKnown("no correction between cranking and running is known");
  if (points.length === 1 && head[0] === null) return head[1];
  /** @type {[Fraction, Fraction][]} */
  const table = [];
  for (const [speed, degrees] of points) {
    const before = table.at(-1);
    if (speed === null || (before && !before[0].below(speed))) {
      throw new ReadingsContradict("a correction is one constant, or a table of rising speeds without repeats");
    }
    table.push([speed, degrees]);
  }
  if (rpm === null) {
    throw new NoCorrectionKnown("the correction depends on engine speed; give the rpm of the running figure");
  }
  const slowest = table[0];
  if (slowest && rpm.equals(slowest[0])) return slowest[1];
  for (const [index, [fast, last]] of table.entries()) {
    const row = table[index - 1];
    if (row && !rpm.below(row[0]) && !rpm.above(fast)) {
      const [slow, first] = row;
      return first.plus(last.minus(first).times(rpm.minus(slow)).over(fast.minus(slow)));
    }
  }
  throw new Extrapolation(
    `the correction is known from ${slowest?.[0]} to ${table.at(-1)?.[0]} rpm, not at ${rpm} rpm`,
  );
}

/**
 * The cranking reading, in signed degrees, of a running one.
 * @param {Fraction} running
 * @param {Fraction} correction
 */
export const crankingFromRunning = (running, correction) => running.plus(correction);

/**
 * The running reading, in signed degrees, of a cranking one.
 * @param {Fraction} cranking
 * @param {Fraction} correction
 */
export const runningFromCranking = (cranking, correction) => cranking.minus(correction);
