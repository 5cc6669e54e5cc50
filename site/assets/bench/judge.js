/** A reading of the timing light held against a printed figure: inside, or how far out, and early or late. */

import { judge } from "../book/aim.js";
import { NOUGHT } from "../quantity/fraction.js";
import { angle } from "./said.js";
import { CRANKING_CAUTION, MAXIMUM_CAUTION } from "./target.js";
import { typedFigure } from "./typed-figure.js";

/** @typedef {import("../quantity/fraction.js").Fraction} Fraction */

/**
 * @param {{kind: string, printed: Fraction, other_end: Fraction | null, margin: Fraction | null,
 *   dead_centre: Fraction | null, reading: Fraction}} given
 * @returns {import("./said.js").Worked}
 */
export function work(given) {
  const figure = typedFigure(given);
  const found = judge(figure, given.reading, { margin: given.margin ?? NOUGHT, deadCentre: given.dead_centre });
  const answer = [`${found.words}: it reads ${angle(given.reading)}, printed ${figure.printed}`];
  const { off } = found.verdict;
  if (off !== "inside") answer.push(`make it ${off === "early" ? "later" : "earlier"}, then tighten the lock nut and read again`);
  if (found.would) answer.push(`left so: ${found.would}`);
  if (found.window) answer.push(`right between ${found.window}`);
  return {
    answer,
    steps: [
      {
        name: "true angle",
        formula: "reading - dead-centre reading",
        inputs: [["reading", angle(given.reading)], ["dead-centre reading", given.dead_centre ? angle(given.dead_centre) : "0, taken as right"]],
        result: angle(found.angle),
      },
      {
        name: "verdict",
        formula: "true angle held against the figure",
        inputs: [["true angle", angle(found.angle)], ["figure", figure.printed]],
        result: found.words,
      },
    ],
    remarks: [...(found.allowed ? [found.allowed] : []), ...found.remarks],
    cautions: given.kind === "maximum" ? [CRANKING_CAUTION, MAXIMUM_CAUTION] : [CRANKING_CAUTION],
  };
}
