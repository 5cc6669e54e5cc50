/**
 * The next turn of an adjusting screw from the readings so far, and what a turn of a linkage screw or rod is worth. The
 * line of least squares (JCGM 100:2008, H.3); the triangle of lever and rod is plain geometry.
 */

import { GeometryImpossible, ReadingsContradict } from "../errors.js";
import { degrees } from "./circle.js";
import { requireFinite } from "./finite.js";
import { fitLine } from "./readings.js";

/** Degrees a turn below which a screw is taken not to act on the reading. */
export const LEAST_SLOPE = 0.05;

/**
 * What to turn next: `turns` from the screw's present position, inward positive; `to` the setting to reach, counted as the
 * readings' settings are; `slope` degrees a turn inward; `fromOneSide` says that the target lies behind the last
 * movement, so that the screw must go past it and come back, because of backlash.
 * @typedef {{turns: number, to: number, slope: number, fromOneSide: boolean}} NextTurn
 */

/**
 * The next screw turn from readings after known turns.
 * @param {readonly (readonly [number, number])[]} settings turns in, counted from any start, and the reading there in
 *   signed degrees (before top dead centre positive), in the order taken
 * @param {number} target in the same degrees
 * @param {number} [knownSign] +1 where turning in is known to make it earlier, -1 later, 0 unknown
 * @returns {NextTurn}
 * @throws {ReadingsContradict} fewer than two settings, a slope near zero, readings that go both ways by more than
 *   they scatter, or against the known direction
 */
export function nextTurn(settings, target, knownSign = 0) {
  requireFinite(target);
  const line = fitLine(settings);
  if (Math.abs(line.slope) < LEAST_SLOPE) {
    throw new ReadingsContradict("the reading hardly moves with the screw: is it the right one, its lock nut loose?");
  }
  if (knownSign && line.slope > 0 !== knownSign > 0) {
    throw new ReadingsContradict("the reading moves against what the screw is known to do: read both again");
  }
  if (settings.length > 2 && line.correlation ** 2 < 0.8) {
    throw new ReadingsContradict("the readings go both ways: something is loose, or your eye moved");
  }
  const to = (target - line.intercept) / line.slope;
  const stops = settings.map(([turns]) => turns).reverse();
  const [now = 0] = stops;
  const came = now - (stops.find((stop) => stop !== now) ?? now);
  return { turns: to - now, to, slope: line.slope, fromOneSide: (to - now) * came < 0 };
}

/**
 * Degrees a lever turns for turns of its rod, about the square position: 2 asin(n pitch / 2 L).
 * @param {number} pitch of the thread, in the arm's unit of length
 * @param {number} arm of the lever
 * @param {number} [turns]
 * @param {boolean} [leftAndRight] a rod with a left-hand and a right-hand thread moves by twice the pitch
 * @throws {GeometryImpossible} pitch or arm not positive, or the rod moves further than the lever reaches
 */
export function rodTurnDegrees(pitch, arm, turns = 1, leftAndRight = false) {
  const moved = rodMoved(pitch, turns, leftAndRight);
  requireFinite(arm);
  if (arm <= 0) throw new GeometryImpossible(`an arm is a positive length, not ${arm}`);
  if (Math.abs(moved) > 2 * arm) {
    throw new GeometryImpossible(`${turns} turns move the rod further than an arm of ${arm} reaches`);
  }
  return degrees(2 * Math.atan2(moved, Math.sqrt((2 * arm - moved) * (2 * arm + moved))));
}

/**
 * The angle in degrees at a lever's pivot between its arm and the line to the rod's far end (law of cosines); the half
 * angle is taken from its sine and cosine, which keeps its digits near a straight line.
 * @param {number} arm of the lever
 * @param {number} other the distance from its pivot to the far ball
 * @param {number} rod between ball centres
 * @throws {GeometryImpossible} no such triangle
 */
export function leverAngle(arm, other, rod) {
  const [halfSine, halfCosine] = halfAngle(arm, other, rod);
  return degrees(2 * Math.atan2(halfSine, halfCosine));
}

/**
 * Degrees a lever turns, opening positive, when its rod is made longer by turns of its thread, wherever it stands.
 * @param {number} arm
 * @param {number} other
 * @param {number} rod before the turns
 * @param {number} pitch
 * @param {number} [turns] negative where they shorten
 * @param {boolean} [leftAndRight]
 * @throws {GeometryImpossible} no such triangle before or after, or the pitch is not positive
 */
export function leverMoved(arm, other, rod, pitch, turns = 1, leftAndRight = false) {
  const moved = rodMoved(pitch, turns, leftAndRight);
  const [sineNow, cosineNow] = halfAngle(arm, other, rod);
  const [sineThen, cosineThen] = halfAngle(arm, other, rod + moved);
  // sin(then - now) of the half angles, from the difference of the squares, in which nothing is lost.
  const across = moved ? (moved * (2 * rod + moved)) / (sineThen * cosineNow + cosineThen * sineNow) : 0;
  return degrees(2 * Math.atan2(4 * arm * other * across, cosineThen * cosineNow + sineThen * sineNow));
}

/** @param {number} pitch @param {number} turns @param {boolean} leftAndRight */
function rodMoved(pitch, turns, leftAndRight) {
  requireFinite(pitch, turns);
  if (pitch <= 0) throw new GeometryImpossible(`a pitch is a positive length, not ${pitch}`);
  return turns * pitch * (leftAndRight ? 2 : 1);
}

/**
 * Sine and cosine of half the lever's angle, both times `2 sqrt(arm * other)`.
 * @param {number} arm
 * @param {number} other
 * @param {number} rod
 * @returns {[number, number]}
 */
function halfAngle(arm, other, rod) {
  requireFinite(arm, other, rod);
  if (!(arm > 0 && other > 0 && rod > 0)) throw new GeometryImpossible("the three lengths are positive");
  const [apart, reach] = [Math.abs(arm - other), arm + other];
  if (!(apart <= rod && rod <= reach)) {
    throw new GeometryImpossible(`no triangle has the sides ${arm}, ${other} and ${rod}`);
  }
  return [Math.sqrt((rod - apart) * (rod + apart)), Math.sqrt((reach - rod) * (reach + rod))];
}
