/** Oil for petrol, with the gallon named; and the ratio of a mixture of two volumes. */

import { oilFor, ratioOf } from "../../calc/premix.js";
import { QuantityError } from "../../errors.js";
import { Fraction, ONE } from "../../quantity/fraction.js";
import { roundToStep } from "../../quantity/number.js";
import { plain } from "../../quantity/spoken.js";
import { convert, unitOf } from "../../quantity/unit.js";
import { step } from "../../working.js";
import { LITRE, NEAREST, originOf, sizeWords, TYPED } from "./wording.js";

/** @typedef {import("./wording.js").Size} Size */

const TENTH = new Fraction(1n, 10n);
/** @type {[string, Fraction][]} */
const OIL = [
  ["mL", ONE],
  ["us_fl_oz", TENTH],
  ["imp_fl_oz", TENTH],
];
const [LEAST, MOST] = [16, 100];
const CAUTIONS = [
  "too little oil seizes the engine: measure both, pour the oil into part of the petrol, shake, then fill up",
  "mix outdoors, away from sparks and flames, in a petrol can on the ground",
];

/**
 * `held.said` are the remarks on a family's ratio.
 * @param {{petrol: Size, parts: Fraction | null, oil: Size | null, origins?: import("./wording.js").Origins,
 *   held?: {said?: readonly string[] | undefined}}} given
 * @returns {import("./wording.js").Worked}
 */
export function work({ petrol, parts, oil, origins, held }) {
  if (!parts && oil) return ratio(petrol, oil);
  if (!parts || oil)
    throw new QuantityError("type the parts of petrol to one of oil, or the oil that is in it; one of the two");
  const volumes = OIL.map(([key, finest]) => {
    const found = oilFor(petrol.value, parts, petrol.unit, unitOf(key));
    return `${plain(roundToStep(found, finest, "up"))} ${unitOf(key).symbol}`;
  });
  const printed = `${plain(parts)}:1`;
  return {
    answer: [
      `${volumes[0]} of oil for ${sizeWords(petrol)} of petrol, at ${printed}`,
      `that is ${volumes[1]}, or ${volumes[2]}`,
    ],
    steps: [
      step(
        "oil",
        "petrol / parts",
        [
          ["petrol", sizeWords(petrol), TYPED],
          ["parts of petrol to one of oil", printed, originOf(origins, "parts")],
        ],
        volumes.join(" = "),
        "rounded up: a little more oil rather than too little",
      ),
    ],
    remarks: [...(held?.said ?? []), ...strange(parts), ...gallon(petrol)],
    cautions: CAUTIONS,
  };
}

/** @param {Size} petrol @param {Size} oil @returns {import("./wording.js").Worked} */
function ratio(petrol, oil) {
  const parts = ratioOf(petrol.value, oil.value, petrol.unit, oil.unit);
  const words = `${plain(parts, 1)}:1`;
  return {
    answer: [`${sizeWords(petrol)} of petrol and ${sizeWords(oil)} of oil are ${words}`],
    steps: [
      step(
        "ratio",
        "petrol / oil, in one unit",
        [
          ["petrol", sizeWords(petrol), TYPED],
          ["oil", sizeWords(oil), TYPED],
        ],
        words,
        NEAREST,
      ),
    ],
    remarks: [...strange(parts), ...gallon(petrol)],
    cautions: CAUTIONS,
  };
}

/** @param {Fraction} parts */
function strange(parts) {
  if (!parts.below(Fraction.of(LEAST)) && !parts.above(Fraction.of(MOST))) return [];
  return [`mixtures are usually ${LEAST}:1 to ${MOST}:1 (common practice): look at the numbers again`];
}

/** @param {Size} petrol */
function gallon({ unit }) {
  return unit.key.endsWith("_gal") ? [`one ${unit.name} is ${plain(convert(ONE, unit, LITRE))} L`] : [];
}
