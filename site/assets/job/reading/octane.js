/**
 * The octane that was filled, against the one that a page wants: a petrol of less knocks under load. Two scales
 * are not converted into each other, since what lies between them differs from petrol to petrol.
 */

import { readNumber } from "../../quantity/number.js";
import { Condition, OctaneScale } from "../../vocabulary.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../step-figure.js").StepFigure} StepFigure */

/** The scales as pumps show them. @type {ReadonlyMap<string, string>} */
export const SCALE_WORDS = new Map([
  [OctaneScale.RON, "RON"],
  [OctaneScale.AKI, "(R+M)/2"],
  [OctaneScale.MON, "MON"],
]);

/** An octane in words, such as `95 RON`. @param {Document} octane */
export const octaneWords = (octane) =>
  Object.entries(octane)
    .map(([scale, number]) => `${number} ${SCALE_WORDS.get(scale) ?? scale}`)
    .join(", ");

/**
 * What is wrong with the octane of a reading; empty if nothing, or if no page wants one.
 * @param {readonly StepFigure[]} shown
 * @param {Document} conditions of the reading
 */
export function octaneFault(shown, conditions) {
  const wanted = shown.map(({ at }) => at[Condition.OCTANE]).find(Boolean);
  if (!wanted) return "";
  const filled = conditions[Condition.OCTANE];
  if (!filled) return `no octane noted; ${octaneWords(wanted)} is printed`;
  const alike = Object.keys(wanted).filter((scale) => scale in filled);
  if (!alike.length)
    return `octane ${octaneWords(filled)} was filled and ${octaneWords(wanted)} is printed: two scales that are not compared`;
  const low = alike.some((scale) => readNumber(wanted[scale]).value.above(readNumber(filled[scale]).value));
  return low
    ? `octane ${octaneWords(filled)} was filled, below the printed ${octaneWords(wanted)}: it knocks under load`
    : "";
}
