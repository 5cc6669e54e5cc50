/** Oil for petrol, with the gallon named. */

import { oilFor } from "../calc/premix.js";
import { Fraction, ONE } from "../quantity/fraction.js";
import { roundToStep } from "../quantity/number.js";
import { plain } from "../quantity/spoken.js";
import { convert, unitOf } from "../quantity/unit.js";
import { LITRE, sizeWords } from "./said.js";

const TENTH = new Fraction(1n, 10n);
/** @type {[string, Fraction][]} */
const OIL = [["mL", ONE], ["us_fl_oz", TENTH], ["imp_fl_oz", TENTH]];
const [LEAST, MOST] = [16, 100];

/**
 * @param {{petrol: import("./said.js").Size, parts: Fraction}} given
 * @returns {import("./said.js").Worked}
 */
export function work({ petrol, parts }) {
  const said = OIL.map(([key, step]) => {
    const oil = oilFor(petrol.value, parts, petrol.unit, unitOf(key));
    return `${plain(roundToStep(oil, step, "up"))} ${unitOf(key).symbol}`;
  });
  const ratio = `${plain(parts)}:1`;
  const remarks = [];
  if (parts.below(Fraction.of(LEAST)) || parts.above(Fraction.of(MOST))) {
    remarks.push(`mixtures are usually ${LEAST}:1 to ${MOST}:1 (common practice): look at the numbers again`);
  }
  if (petrol.unit.key.endsWith("_gal")) {
    remarks.push(`one ${petrol.unit.name} is ${plain(convert(ONE, petrol.unit, LITRE))} L`);
  }
  return {
    answer: [`${said[0]} of oil for ${sizeWords(petrol)} of petrol, at ${ratio}`, `that is ${said[1]}, or ${said[2]}`],
    steps: [{
      name: "oil",
      formula: "petrol / parts, rounded up: a little more oil rather than too little",
      inputs: [["petrol", sizeWords(petrol)], ["parts of petrol to one of oil", ratio]],
      result: said.join(" = "),
    }],
    remarks,
    cautions: [
      "too little oil seizes the engine: measure both, pour the oil into part of the petrol, shake, then fill up",
      "mix outdoors, away from sparks and flames, in a petrol can that stands on the ground",
    ],
  };
}
