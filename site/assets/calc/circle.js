/**
 * Sine and cosine of degrees, and degrees brought to within half a turn, without losing digits. A quarter turn is
 * exactly 90 degrees and no exact number of radians: what is folded in degrees, where the folding is exact, keeps every
 * digit near the quarter and half turns.
 */

const RADIANS = Math.PI / 180;
const DEGREES = 180 / Math.PI;

/** @param {number} degrees */
export const radians = (degrees) => degrees * RADIANS;

/** @param {number} angle in radians */
export const degrees = (angle) => angle * DEGREES;

/**
 * What is left of an angle in degrees after the nearest whole number of turns, exactly; halves to the even number.
 * @param {number} angle
 */
function folded(angle) {
  let left = Math.abs(angle) % 720;
  if (left >= 540) left -= 720;
  else if (left > 180) left -= 360;
  return angle < 0 ? -left : left;
}

/**
 * The sine of a finite angle in degrees, of any size; exactly zero at half turns and one at a quarter.
 * @param {number} angle
 */
export function sine(angle) {
  let left = folded(angle);
  if (Math.abs(left) > 90) left = Math.sign(left) * 180 - left;
  const cosineOfRest = Math.cos(radians(90 - Math.abs(left)));
  return Math.abs(left) > 45 ? Math.sign(left) * cosineOfRest : Math.sin(radians(left));
}

/**
 * The cosine of a finite angle in degrees, of any size; exactly zero at the quarter turns.
 * @param {number} angle
 */
export function cosine(angle) {
  const left = Math.abs(folded(angle));
  if (left > 135) return -Math.cos(radians(180 - left));
  return left > 45 ? Math.sin(radians(90 - left)) : Math.cos(radians(left));
}

/**
 * The same place on the flywheel as a finite angle, from -180 (excluded) to 180 degrees; exact.
 * @param {number} angle
 */
export function withinHalfATurn(angle) {
  const left = folded(angle);
  return left === -180 ? 180 : left;
}
