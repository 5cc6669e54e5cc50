/** A reading of the timing light held against a printed figure: inside, or how far out, and early or late. */

import { aim, judge } from "../../book/aim.js";
import { runsAt } from "../../book/when-running.js";
import { NotAnAngle } from "../../errors.js";
import { NOUGHT } from "../../quantity/fraction.js";
import { angleInWords } from "../../quantity/spoken.js";
import { placeWords } from "./target.js";
import { printedWords, typedFigure } from "./typed-figure.js";

/**
 * @param {import("./typed-figure.js").Given & {reading: import("../../quantity/fraction.js").Fraction}} given
 * @returns {import("./wording.js").Worked}
 */
export function work(given) {
  const { figure, correction } = typedFigure(given);
  const choices = { margin: given.margin ?? NOUGHT, deadCentre: given.dead_centre, correction, rpm: given.rpm };
  const found = judge(figure, given.reading, choices);
  const answer = [`${angleInWords(given.reading)} is ${found.words}; ${printedWords(figure)}`];
  if (found.window) answer.push(`OK from ${found.window} on the light`);
  if (found.would) answer.push(`left so: ${found.would}`);
  if (found.turn) answer.push(found.turn);
  if (found.running) answer.push(runsAt(found.running).replace(/^runs/, "so it runs"));
  answer.push(...whereTo(figure, choices));
  return {
    big: found.words,
    answer,
    steps: found.steps,
    cautions: [],
    remarks: [
      ...(found.allowed ? [found.allowed] : []),
      ...found.remarks,
      "only the reading after the lock nut is tight counts as left",
    ],
  };
}

/**
 * What to set it to, and where that is; nothing where a figure has no one target.
 * @param {import("../../book/window.js").Figure} figure
 * @param {import("../../book/aim.js").Given} choices
 */
function whereTo(figure, choices) {
  try {
    const target = aim(figure, choices);
    return [`the target is ${target.show} on the light`, ...placeWords(target)];
  } catch (error) {
    if (error instanceof NotAnAngle) return [];
    throw error;
  }
}
