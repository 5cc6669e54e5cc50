/** What the timing light should show for a printed figure on this engine today, and where that is on the rim. */

import { aim } from "../../book/aim.js";
import { runsAt } from "../../book/when-running.js";
import { ZERO } from "../../quantity/fraction.js";
import { printedWords, typedFigure } from "./typed-figure.js";

/**
 * @param {import("./typed-figure.js").FigureInputs} given
 * @returns {import("./wording.js").Worked}
 */
export function work(given) {
  const { figure, correction } = typedFigure(given);
  const found = aim(figure, {
    margin: given.margin ?? ZERO,
    deadCentre: given.dead_centre,
    correction,
    rpm: given.rpm,
  });
  const answer = [`set it to ${found.show} on the light; ${printedWords(figure)}`];
  if (found.window) answer.push(`OK from ${found.window} on the light`);
  answer.push(...placeWords(found));
  if (found.running) answer.push(runsAt(found.running));
  return {
    big: `${found.show}`,
    answer,
    steps: found.steps,
    cautions: [],
    remarks: [
      ...found.remarks,
      "the figure's own state holds: a cranking figure is set cranking, a running figure running",
    ],
  };
}

/**
 * Where a target lies: on the rim, and by the depth gauge.
 * @param {Pick<ReturnType<typeof aim>, "rim" | "piston">} target
 */
export function placeWords({ rim, piston }) {
  const words = rim ? [`on the rim: ${rim.words}`] : [];
  return piston ? [...words, `${piston}, by the depth gauge, from true top dead centre`] : words;
}
