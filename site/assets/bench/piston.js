/** From degrees of crank to the piston's position and back, through stroke and rod. */

import { crankDegrees, degreesPerLength, pistonPosition } from "../calc/crank.js";
import { QuantityError } from "../errors.js";
import { Fraction } from "../quantity/fraction.js";
import { angle, degreesOf, length, millimetresOf, sizeWords } from "./said.js";

/** @typedef {import("./said.js").Size} Size */

const FORMULA =
  "rod + throw - throw x cos(crank) - root of (rod squared - (throw x sin(crank)) squared), throw half the stroke";

/**
 * @param {{stroke: Size, rod: Size, crank: Fraction | null, position: Size | null}} given
 * @returns {import("./said.js").Worked}
 */
export function work({ stroke, rod: rodSize, crank, position }) {
  if (!crank === !position) throw new QuantityError("type either degrees of crank or a piston position, not both");
  const [throwLength, rod] = [millimetresOf(stroke) / 2, millimetresOf(rodSize)];
  /** @type {[string, string][]} */
  const inputs = [["stroke", sizeWords(stroke)], ["rod", sizeWords(rodSize)]];
  const [answer, steps] = [/** @type {string[]} */ ([]), /** @type {import("./said.js").Step[]} */ ([])];
  let below = 0;
  if (crank) {
    if (crank.size().above(Fraction.of(180))) {
      throw new QuantityError(`${angle(crank)} is more than half a turn; write up to 180 before or after`);
    }
    below = pistonPosition(crank.toNumber(), throwLength, rod);
    answer.push(`at ${angle(crank)} the piston stands ${length(below)} below its top`);
    steps.push({ name: "piston below its top", formula: FORMULA, inputs: [["crank", angle(crank)], ...inputs], result: length(below) });
  } else if (position) {
    below = millimetresOf(position);
    const found = crankDegrees(below, throwLength, rod);
    const words = `${angle(found)} or ${angle(-found)}`;
    answer.push(found ? `${sizeWords(position)} is ${words} top dead centre` : `${sizeWords(position)} is top dead centre`);
    steps.push({ name: "crank", formula: `${FORMULA}, solved for the crank`, inputs: [["piston below its top", sizeWords(position)], ...inputs], result: words });
  }
  if (below > 0 && below < 2 * throwLength) {
    const worth = degreesPerLength(below, throwLength, rod) * 0.01;
    answer.push(`one in the last digit, 0.01 mm, is worth ${degreesOf(worth, 3)} there`);
  } else {
    answer.push("at a dead centre itself the piston hardly moves: never set by the peak of a gauge");
  }
  return {
    answer,
    steps,
    remarks: [
      "true degrees, from true top dead centre: what the pointer shows differs by its dead-centre reading",
      "the hole is taken to stand in line with the bore, and the wrist pin in line with the crank",
    ],
    cautions: [
      "turn by hand only while a gauge or a stop is in the plug hole, and take it out before anyone touches the starter",
    ],
  };
}
