/**
 * Repeated readings: mean, scatter, combined and expanded uncertainty; and the line through readings. JCGM 100:2008,
 * *Guide to the expression of uncertainty in measurement*: 4.2, 4.3.7, 5.1.2, annex G.4.1, H.3.
 */

import { ReadingsContradict } from "../errors.js";
import { combine } from "./coverage.js";
import { requireFinite } from "./finite.js";
import { deviationOf, meanOf, sumOf } from "./sums.js";

/**
 * What repeated readings come to: `scatter` is the experimental standard deviation of one reading, `ofMean` that of
 * their mean, `combined` the combined standard uncertainty with what was said of the instrument, `freedom` its effective
 * degrees of freedom, `expanded` twice the combined one (k = 2).
 * @typedef {{count: number, mean: number, scatter: number, ofMean: number, combined: number, freedom: number,
 *   expanded: number}} Spread
 */

/**
 * Mean, scatter and uncertainty of repeated readings of one thing.
 * @param {readonly number[]} readings at least two
 * @param {readonly number[]} [halfWidths] of rectangular errors common to all readings, in the same unit
 * @returns {Spread}
 * @throws {ReadingsContradict} fewer than two readings, or a negative half-width
 */
export function spread(readings, halfWidths = []) {
  requireFinite(...readings, ...halfWidths);
  if (readings.length < 2) {
    throw new ReadingsContradict("at least two readings are needed to see how far they scatter");
  }
  if (halfWidths.some((width) => width < 0)) {
    throw new ReadingsContradict("the half-width of an error is not negative");
  }
  const scatter = deviationOf(readings);
  const ofMean = scatter / Math.sqrt(readings.length);
  /** @type {[number, number][]} */
  const parts = [[ofMean, readings.length - 1]];
  for (const width of halfWidths) parts.push([width / Math.sqrt(3), Infinity]);
  const { standard, freedom } = combine(parts);
  const mean = meanOf(readings);
  return { count: readings.length, mean, scatter, ofMean, combined: standard, freedom, expanded: 2 * standard };
}

/**
 * A straight line through points: `y = intercept + slope * x`. `middle` is the mean of their x, `width` the sum of the
 * squares of x less that, `scatter` the standard deviation of one y about the line (zero for two points).
 * @typedef {{intercept: number, slope: number, correlation: number, count: number, middle: number, width: number,
 *   scatter: number}} Line
 */

/**
 * The line's value at x.
 * @param {Line} line
 * @param {number} x
 */
export const lineAt = (line, x) => line.intercept + line.slope * x;

/**
 * The standard uncertainty of the line's value at x, with `count - 2` degrees of freedom (H.3.4).
 * @param {Line} line
 * @param {number} x
 * @throws {ReadingsContradict} fewer than three points, about which nothing scatters
 */
export function uncertaintyAt(line, x) {
  requireFinite(x);
  if (line.count < 3) {
    throw new ReadingsContradict("two readings are always in line: a third shows how far the line can be trusted");
  }
  return line.scatter * Math.hypot(1 / Math.sqrt(line.count), (x - line.middle) / Math.sqrt(line.width));
}

/**
 * The line of least squares through (x, y) points (JCGM 100:2008, H.3).
 * @param {readonly (readonly [number, number])[]} points
 * @returns {Line}
 * @throws {ReadingsContradict} fewer than two points, or all at one x
 */
export function fitLine(points) {
  requireFinite(...points.flat());
  if (new Set(points.map(([x]) => x)).size < 2) {
    throw new ReadingsContradict("readings at two or more settings are needed");
  }
  const count = points.length;
  const middle = meanOf(points.map(([x]) => x));
  const middleY = meanOf(points.map(([, y]) => y));
  const width = sumOf(points.map(([x]) => (x - middle) ** 2));
  const xy = sumOf(points.map(([x, y]) => (x - middle) * (y - middleY)));
  const yy = sumOf(points.map(([, y]) => (y - middleY) ** 2));
  const slope = xy / width;
  const off = Math.hypot(...points.map(([x, y]) => y - middleY - slope * (x - middle)));
  const scatter = count > 2 ? off / Math.sqrt(count - 2) : 0;
  const correlation = yy ? Math.max(-1, Math.min(1, xy / (Math.sqrt(width) * Math.sqrt(yy)))) : 0;
  return { intercept: middleY - slope * middle, slope, correlation, count, middle, width, scatter };
}
