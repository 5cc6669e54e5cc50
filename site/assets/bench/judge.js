/** A reading of the timing light held against a printed figure: inside, or how far out, and early or late. */

import { judge } from "../book/aim.js";
import { NOUGHT } from "../quantity/fraction.js";
import { angleInWords } from "../quantity/spoken.js";
import { runsAt } from "./target.js";
import { printedWords, typedFigure } from "./typed-figure.js";

/**
 * @param {import("./typed-figure.js").Given & {reading: import("../quantity/fraction.js").Fraction}} given
 * @returns {import("./said.js").Worked}
 */
export function work(given) {
  const { figure, correction } = typedFigure(given);
  const choices = { margin: given.margin ?? NOUGHT, deadCentre: given.dead_centre, correction, rpm: given.rpm };
  const found = judge(figure, given.reading, choices);
  const answer = [`${angleInWords(given.reading)} is ${found.words}; ${printedWords(figure)}`];
  if (found.window) answer.push(`right from ${found.window} on the light`);
  if (found.would) answer.push(`left so: ${found.would}`);
  if (found.turn) answer.push(found.turn);
  if (found.running) answer.push(runsAt(found.running));
  return {
    big: found.words, answer, steps: found.steps, cautions: [],
    remarks: [...(found.allowed ? [found.allowed] : []), ...found.remarks, "only the reading after the lock nut is tight counts as left"],
  };
}
