/** Judges a reading of the timing light against a printed figure: inside, or how far out, early or late. */

import { aim } from "../../book/aim.js";
import { judge } from "../../book/judge.js";
import { runsAt } from "../../book/when-running.js";
import { NotAnAngle } from "../../errors.js";
import { ZERO } from "../../quantity/fraction.js";
import { angleInWords } from "../../quantity/spoken.js";
import { placeWords } from "./target.js";
import { printedWords, typedFigure } from "./typed-figure.js";

/**
 * @param {import("./typed-figure.js").FigureInputs & {reading: import("../../quantity/fraction.js").Fraction}} given
 * @returns {import("./wording.js").Worked}
 */
export function work(given) {
  const { figure, correction } = typedFigure(given);
  const choices = { margin: given.margin ?? ZERO, deadCentre: given.dead_centre, correction, rpm: given.rpm };
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
 * The target and where it lies; empty if the figure has no single target.
 * @param {import("../../book/window.js").Figure} figure
 * @param {import("../../book/aim.js").EngineOnTheStand} choices
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
