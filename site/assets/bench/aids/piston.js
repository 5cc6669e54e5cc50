/** From degrees of crank to the piston's position and back, also through a leaning plug hole or a pin set aside. */

import { crankDegrees, degreesPerLength, pistonPosition } from "../../calc/crank.js";
import { offsetCrankDegrees, offsetPistonPosition } from "../../calc/offset.js";
import { positionOfTravel, travelOfPosition } from "../../calc/plug-hole.js";
import { QuantityError } from "../../errors.js";
import { Fraction, ZERO } from "../../quantity/fraction.js";
import { readNumber } from "../../quantity/number.js";
import { plain } from "../../quantity/spoken.js";
import { step } from "../../working.js";
import {
  ABOVE,
  angle,
  crankInputs,
  degreesOf,
  length,
  millimetresOf,
  NEAREST,
  originOf,
  READ,
  sizeWords,
  TYPED,
} from "./wording.js";

/** @typedef {import("./wording.js").Size} Size */
/** @typedef {import("../../working.js").Step} Step */
/** @typedef {{tilt: Fraction, slope: Fraction, inputs: [string, string, string][]}} Hole */

/**
 * @typedef {{stroke: Size, rod: Size, crank: Fraction | null, position: Size | null, side: string, lean: Fraction | null,
 *   slope: Fraction | null, offset: Size | null, origins?: import("./wording.js").Origins}} PistonInputs
 */

const CAUTION =
  "turn by hand only while a gauge or a stop is in the plug hole, and take it out before anyone touches the starter";

/**
 * @param {PistonInputs} given
 * @returns {import("./wording.js").Worked}
 */
export function work(given) {
  const { crank, position } = given;
  if (!crank === !position) {
    throw new QuantityError(`type either degrees of crank or a piston position${crank ? ", not both" : ""}`);
  }
  return crank ? positionAt(crank, given) : degreesAt(/** @type {Size} */ (position), given);
}

/** @param {PistonInputs} given @returns {Hole | null} */
function holeOf({ lean, slope, origins }) {
  if (!lean && !slope) return null;
  const [tilt, crown] = [lean ?? ZERO, slope ?? ZERO];
  return {
    tilt,
    slope: crown,
    inputs: [
      ["hole leans by", degreesOf(tilt), originOf(origins, "lean")],
      ["crown slopes by", degreesOf(crown), originOf(origins, "slope")],
    ],
  };
}

/** @param {PistonInputs} given */
function engineOf(given) {
  const { stroke, rod, offset } = given;
  /** @type {[string, string, string][]} */
  const inputs = crankInputs(given);
  if (offset) inputs.push(["pin offset", sizeWords(offset), originOf(given.origins, "offset")]);
  return {
    throwLength: millimetresOf(stroke) / 2,
    rod: millimetresOf(rod),
    aside: offset ? millimetresOf(offset) : 0,
    inputs,
    formula: offset
      ? "throw and rod with an offset pin, from where they are in line"
      : "rod + throw - throw x cos(crank) - root of (rod squared - (throw x sin(crank)) squared), throw half the stroke",
  };
}

/** @param {Fraction} crank @param {PistonInputs} given @returns {import("./wording.js").Worked} */
function positionAt(crank, given) {
  if (crank.size().above(Fraction.of(180))) {
    throw new QuantityError(`${angle(crank)} is more than half a turn; write up to 180 before or after`);
  }
  const { throwLength, rod, aside, inputs, formula } = engineOf(given);
  const hole = holeOf(given);
  const turned = crank.toNumber();
  const below = given.offset
    ? offsetPistonPosition(turned, throwLength, rod, aside)
    : pistonPosition(turned, throwLength, rod);
  const steps = [
    step("piston below its top", formula, [["crank", angle(crank), TYPED], ...inputs], length(below), NEAREST),
  ];
  const answer = [`at ${angle(crank)} the piston is ${length(below)} below its top`];
  if (hole) {
    const along = travelOfPosition(below, hole.tilt.toNumber(), hole.slope.toNumber());
    answer.unshift(`at ${angle(crank)} a gauge in the leaning hole shows ${length(along)} from its top`);
    const first = /** @type {[string, string, string]} */ (["position", length(below), ABOVE]);
    steps.push(
      step(
        "along the hole",
        "position x cos(slope) / cos(lean - slope)",
        [first, ...hole.inputs],
        length(along),
        NEAREST,
      ),
    );
  }
  return told(answer, steps, below, 0.01, "0.01 mm", given, hole);
}

/** @param {Size} position @param {PistonInputs} given @returns {import("./wording.js").Worked} */
function degreesAt(position, given) {
  const { throwLength, rod, aside, inputs, formula } = engineOf(given);
  const hole = holeOf(given);
  const [tilt, slope] = [hole?.tilt.toNumber() ?? 0, hole?.slope.toNumber() ?? 0];
  const read = millimetresOf(position);
  const below = hole ? positionOfTravel(read, tilt, slope) : read;
  /** @type {Step[]} */
  const steps = [];
  if (hole) {
    const first = /** @type {[string, string, string]} */ (["reading", length(read), READ]);
    steps.push(
      step(
        "piston below its top",
        "reading x cos(lean - slope) / cos(slope)",
        [first, ...hole.inputs],
        length(below),
        NEAREST,
      ),
    );
  }
  const one = crankDegreesOf(below, throwLength, rod, given.offset ? aside : null);
  const sides = given.side === "before" ? [one[0]] : given.side === "after" ? [one[1]] : one;
  const words = sides.map((side) => angle(side)).join(" or ");
  const first = /** @type {[string, string, string]} */ ([
    "piston below its top",
    hole ? length(below) : sizeWords(position),
    hole ? ABOVE : READ,
  ]);
  steps.push(step("crank", `${formula}, solved for the crank`, [first, ...inputs], words, NEAREST));
  const answer = [`${sizeWords(position)} is ${one[0] ? `${words} top dead centre` : "top dead centre"}`];
  const printed = readNumber(position.text, { fractions: true });
  const finest = printed.step.times(position.unit.factor).toNumber();
  const worth = hole ? positionOfTravel(finest, tilt, slope) : finest;
  return told(answer, steps, below, worth, `${plain(printed.step, 9)} ${position.unit.symbol}`, given, hole);
}

/**
 * @param {number} below
 * @param {number} throwLength
 * @param {number} rod
 * @param {number | null} aside
 * @returns {[number, number]}
 */
function crankDegreesOf(below, throwLength, rod, aside) {
  if (aside !== null) return offsetCrankDegrees(below, throwLength, rod, aside);
  const found = crankDegrees(below, throwLength, rod);
  return [found, -found];
}

/**
 * The answer, with the degrees that the last digit of a position stands for.
 * @param {string[]} answer
 * @param {Step[]} steps
 * @param {number} below
 * @param {number} digit in millimetres of piston travel
 * @param {string} words
 * @param {PistonInputs} given
 * @param {Hole | null} hole
 * @returns {import("./wording.js").Worked}
 */
function told(answer, steps, below, digit, words, given, hole) {
  const { throwLength, rod } = engineOf(given);
  if (below > 0 && below < 2 * throwLength) {
    const worth = degreesOf(degreesPerLength(below, throwLength, rod) * digit, 3);
    answer.push(`one in the last digit, ${words}, is worth ${worth} there`);
    steps.push(
      step(
        "what the last digit is worth",
        "last digit x degrees of crank for a unit of the piston's travel there",
        [
          ["piston below its top", length(below), ABOVE],
          ["one in the last digit", words, "as printed"],
          ...crankInputs(given),
        ],
        worth,
        NEAREST,
      ),
    );
  } else {
    answer.push("at a dead centre itself the piston hardly moves: never set by the peak of a gauge");
  }
  const remarks = [
    "true degrees, from true top dead centre: what the pointer shows differs by its dead-centre reading",
  ];
  if (!hole) remarks.push("the hole is taken to stand in line with the bore; if it leans, say by how much");
  if (given.offset) {
    remarks.push("before and after assume that the pin is offset to the before side; if not, swap them");
  }
  return { answer, steps, remarks, cautions: [CAUTION] };
}
