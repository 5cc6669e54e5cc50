/**
 * Engine speed, and what a constant electrical delay comes to in degrees at a speed. One revolution per minute is 6
 * degrees a second (NIST SP 811, appendix B.8).
 */

import { GeometryImpossible } from "../errors.js";
import { requireFinite } from "./finite.js";

/** @param {number} positive @param {string} what */
function require(positive, what) {
  requireFinite(positive);
  if (positive <= 0) throw new GeometryImpossible(`${what} is positive, not ${positive}`);
}

const PULSES = "the number of pulses in a turn";

/**
 * Revolutions per minute from a frequency in hertz and the pulses in one turn of the crank.
 * @param {number} frequency
 * @param {number} pulsesPerTurn
 * @throws {GeometryImpossible} a number is not positive
 */
export function rpmFromFrequency(frequency, pulsesPerTurn) {
  require(frequency, "a frequency");
  require(pulsesPerTurn, PULSES);
  return (60 * frequency) / pulsesPerTurn;
}

/**
 * The frequency in hertz of pulses at a speed in revolutions per minute.
 * @param {number} rpm
 * @param {number} pulsesPerTurn
 * @throws {GeometryImpossible} a number is not positive
 */
export function frequencyFromRpm(rpm, pulsesPerTurn) {
  require(rpm, "a speed");
  require(pulsesPerTurn, PULSES);
  return (rpm * pulsesPerTurn) / 60;
}

/**
 * The true speed where a tachometer is set for another number of pulses in a turn than the engine gives.
 * @param {number} shown
 * @param {number} setFor
 * @param {number} has
 * @throws {GeometryImpossible} a number is not positive
 */
export function trueRpm(shown, setFor, has) {
  require(shown, "a speed");
  require(setFor, PULSES);
  require(has, PULSES);
  return (shown * setFor) / has;
}

/**
 * Degrees of crank that pass during a delay: 6 N t.
 * @param {number} seconds not negative
 * @param {number} rpm
 * @throws {GeometryImpossible} the delay is negative or the speed not positive
 */
export function degreesOfDelay(seconds, rpm) {
  require(rpm, "a speed");
  requireFinite(seconds);
  if (seconds < 0) throw new GeometryImpossible("a delay is not negative");
  return 6 * rpm * seconds;
}

/**
 * The constant delay in seconds that loses so many degrees between two speeds.
 * @param {number} degreesLost
 * @param {number} slowRpm
 * @param {number} fastRpm
 * @throws {GeometryImpossible} the speeds are not positive, or the second is not the faster
 */
export function delayBetween(degreesLost, slowRpm, fastRpm) {
  require(slowRpm, "a speed");
  require(fastRpm, "a speed");
  requireFinite(degreesLost);
  if (fastRpm <= slowRpm) throw new GeometryImpossible("the second speed is the faster");
  return degreesLost / (6 * (fastRpm - slowRpm));
}
