/** Sums without any error but the last rounding, however many numbers and however unlike their sizes. */

import { Fraction, ZERO } from "../quantity/fraction.js";

/** @param {readonly number[]} values */
const exactSum = (values) => values.reduce((sum, value) => sum.plus(Fraction.of(value)), ZERO);

/**
 * The sum of finite numbers, rounded once.
 * @param {readonly number[]} values
 */
export const sumOf = (values) => exactSum(values).toNumber();

/**
 * The mean of finite numbers, at least one.
 * @param {readonly number[]} values
 */
export const meanOf = (values) => sumOf(values) / values.length;

/**
 * The experimental standard deviation of finite numbers, at least two: the root of the sum of the squares of what each
 * is off the mean, over one less than their count.
 * @param {readonly number[]} values
 */
export function deviationOf(values) {
  const count = Fraction.of(values.length);
  const mean = exactSum(values).over(count);
  const squares = values.map((value) => Fraction.of(value).minus(mean)).map((off) => off.times(off));
  const sum = squares.reduce((total, square) => total.plus(square), ZERO);
  return Math.sqrt(sum.over(Fraction.of(values.length - 1)).toNumber());
}
