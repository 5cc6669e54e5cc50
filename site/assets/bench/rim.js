/** The flywheel's rim: how far apart two marks are that lie so many degrees apart, or the degrees of a distance. */

import { angleOfArc, angleOfChord, arc, chord } from "../calc/rim.js";
import { QuantityError } from "../errors.js";
import { Fraction } from "../quantity/fraction.js";
import { degreesOf, length, millimetresOf, sizeWords } from "./said.js";

/** @typedef {import("./said.js").Size} Size */

const EDGE = "diameter as measured at the very edge that the tape lies on";
const STILL = "the engine stands still, and cannot start, while a tape or callipers are at the flywheel";

/**
 * @param {{diameter: Size, degrees: Fraction | null, tape: Size | null, callipers: Size | null}} given
 * @returns {import("./said.js").Worked}
 */
export function work({ diameter, degrees, tape, callipers }) {
  if (!degrees && !tape && !callipers) throw new QuantityError("type degrees, or a distance by tape or by callipers");
  const rim = millimetresOf(diameter);
  /** @type {[string, string][]} */
  const inputs = [["rim's diameter", sizeWords(diameter)]];
  const [answer, steps] = [/** @type {string[]} */ ([]), /** @type {import("./said.js").Step[]} */ ([])];
  if (degrees) {
    if (degrees.above(Fraction.of(360))) {
      throw new QuantityError(`${degreesOf(degrees)} is more than one turn of the flywheel; write up to 360`);
    }
    const [size, given] = [degrees.toNumber(), /** @type {[string, string]} */ (["degrees", degreesOf(degrees)])];
    const along = length(arc(size, rim));
    steps.push({ name: "along the rim, by tape", formula: "degrees as arc x radius", inputs: [given, ...inputs], result: along });
    const reached = size <= 180;
    if (reached) {
      const across = length(chord(size, rim));
      const formula = "diameter x sine of half the degrees";
      steps.push({ name: "across, by callipers", formula, inputs: [given, ...inputs], result: across });
      answer.push(`${degreesOf(degrees)} from mark to mark: ${along} along the rim by tape, ${across} across by callipers`);
    } else {
      answer.push(`${degreesOf(degrees)} from mark to mark: ${along} along the rim by tape; callipers do not reach beyond half a turn`);
    }
  }
  if (tape) {
    const found = angleOfArc(millimetresOf(tape), rim);
    if (found > 360) {
      throw new QuantityError(`${sizeWords(tape)} is more than once around a rim of ${sizeWords(diameter)}; measure again`);
    }
    const result = degreesOf(found);
    steps.push({ name: "by tape", formula: "distance / radius", inputs: [["distance", sizeWords(tape)], ...inputs], result });
    answer.push(`${sizeWords(tape)} along the rim by tape is ${result}`);
  }
  if (callipers) {
    const result = degreesOf(angleOfChord(millimetresOf(callipers), rim));
    const formula = "2 x arc sine of (distance / diameter)";
    steps.push({ name: "by callipers", formula, inputs: [["distance", sizeWords(callipers)], ...inputs], result });
    answer.push(`${sizeWords(callipers)} across by callipers is ${result}`);
  }
  return { answer, steps, remarks: [EDGE], cautions: [STILL] };
}
