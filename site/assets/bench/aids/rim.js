/** The flywheel's rim: degrees to distance by tape and by callipers, and back; from which mark to count. */

import { NOT_READ, pointerInput, requireNearCentre } from "../../book/pointer.js";
import { countedFrom, neighbours, onTheRim, wayRound } from "../../book/rim-position.js";
import { angleOfArc, angleOfChord, arc, chord, fromNearestMark } from "../../calc/rim.js";
import { QuantityError } from "../../errors.js";
import { Fraction, ZERO } from "../../quantity/fraction.js";
import { plain } from "../../quantity/spoken.js";
import { step } from "../../working.js";
import { atField } from "./field-error.js";
import { angle, degreesOf, length, millimetresOf, NEAREST, originOf, READ, sizeWords, TYPED } from "./wording.js";

/** @typedef {import("./wording.js").Size} Size */
/** @typedef {import("../../working.js").Step} Step */
/** @typedef {import("../../working.js").InputEntry} InputEntry */

/**
 * `marks_before` and `marks_after` are degrees as texts; `held` has a family's own flywheel instead of typed marks.
 * @typedef {{diameter: Size, degrees: Fraction | null, shown: Fraction | null, tape: Size | null, callipers: Size | null,
 *   thickness: Size | null, marks_before: readonly string[], marks_after: readonly string[], division: string,
 *   dead_centre: Fraction | null, held?: import("./typed-figure.js").FamilyParts, origins?: import("./wording.js").Origins}} RimInputs
 */

const EDGE = "diameter measured at the edge that the tape lies on";
const STILL = "the engine must be still, and unable to start, while a tape or callipers are at the flywheel";
const TURN = Fraction.of(360);
const HALF_TURN = Fraction.of(180);

/**
 * @param {RimInputs} given
 * @returns {import("./wording.js").Worked}
 */
export function work(given) {
  const { degrees, shown, tape, callipers } = given;
  const asked = [degrees, shown, tape ?? callipers].filter((one) => one !== null).length;
  if (asked !== 1) {
    throw new QuantityError(
      "type one thing: degrees between two marks, or what the pointer is to show, or a distance by tape or by callipers",
    );
  }
  if (shown) return place(shown, given);
  if (degrees) return { ...distance(degrees, given, "from mark to mark"), remarks: [EDGE], cautions: [STILL] };
  return back(given);
}

/** @param {RimInputs} given */
function rimOf({ diameter, thickness, origins }) {
  /** @type {InputEntry[]} */
  const inputs = [["rim's diameter", sizeWords(diameter), originOf(origins, "diameter")]];
  if (thickness) inputs.push(["tape's thickness", sizeWords(thickness), TYPED]);
  return { millimetres: millimetresOf(diameter), thickness: thickness ? millimetresOf(thickness) : 0, inputs };
}

/** @param {RimInputs} given @returns {import("./wording.js").Worked} */
function back(given) {
  const { tape, callipers, diameter } = given;
  const { millimetres, thickness, inputs } = rimOf(given);
  const [answer, steps] = [/** @type {string[]} */ ([]), /** @type {Step[]} */ ([])];
  if (tape) {
    const found = angleOfArc(millimetresOf(tape), millimetres, thickness);
    if (found > 360) {
      throw atField(
        "tape",
        new QuantityError(`${sizeWords(tape)} is more than once around a rim of ${sizeWords(diameter)}; measure again`),
      );
    }
    const formula = `distance / ${thickness ? "(radius + half of the tape's thickness)" : "radius"}`;
    steps.push(step("by tape", formula, [["distance", sizeWords(tape), READ], ...inputs], degreesOf(found), NEAREST));
    answer.push(`${sizeWords(tape)} along the rim by tape is ${degreesOf(found)}`);
  }
  if (callipers) {
    const found = degreesOf(angleOfChord(millimetresOf(callipers), millimetres));
    const bare = inputs.slice(0, 1);
    steps.push(
      step(
        "by callipers",
        "2 x arc sine of (distance / diameter)",
        [["distance", sizeWords(callipers), READ], ...bare],
        found,
        NEAREST,
      ),
    );
    answer.push(`${sizeWords(callipers)} across by callipers is ${found}`);
  }
  return { answer, steps, remarks: [EDGE], cautions: [STILL] };
}

/**
 * The distance on the rim for a number of degrees.
 * @param {Fraction} size
 * @param {RimInputs} given
 * @param {string} whence
 * @returns {{answer: string[], steps: Step[]}}
 */
function distance(size, given, whence) {
  if (size.above(TURN)) {
    throw atField(
      "degrees",
      new QuantityError(`${degreesOf(size)} is more than one turn of the flywheel; write up to 360`),
    );
  }
  if (!size.sign()) return { answer: [`0° ${whence}: at the mark itself`], steps: [] };
  const { millimetres, thickness, inputs } = rimOf(given);
  const along = length(arc(size.toNumber(), millimetres, thickness));
  const first = /** @type {InputEntry} */ (["degrees", degreesOf(size), TYPED]);
  const formula = `degrees as arc x ${thickness ? "(radius + half of the tape's thickness)" : "radius"}`;
  const steps = [step("along the rim, by tape", formula, [first, ...inputs], along, NEAREST)];
  const line = `${degreesOf(size)} ${whence}: ${along} along the rim by tape`;
  if (size.above(HALF_TURN)) return { answer: [`${line}; callipers do not reach beyond half a turn`], steps };
  const across = length(chord(size.toNumber(), millimetres));
  steps.push(
    step(
      "across, by callipers",
      "diameter x sine of half the degrees",
      [first, ...inputs.slice(0, 1)],
      across,
      NEAREST,
    ),
  );
  return { answer: [`${line}, ${across} across by callipers`], steps };
}

/**
 * Where an angle lies that the pointer is to show.
 * @param {Fraction} shown
 * @param {RimInputs} given
 * @returns {import("./wording.js").Worked}
 */
function place(shown, given) {
  if (shown.size().above(HALF_TURN)) {
    throw atField(
      "shown",
      new QuantityError(`${angle(shown)} is more than half a turn; write up to 180 before or after`),
    );
  }
  const { dead_centre: pointer, marks_before: before, marks_after: after, held } = given;
  const flywheel = held?.flywheel;
  const marks = [...before.map((text) => Fraction.of(text)), ...after.map((text) => Fraction.of(text).negative())];
  requireNearCentre(pointer ?? ZERO);
  const truth = shown.minus(pointer ?? ZERO);
  const [answer, steps] = [/** @type {string[]} */ ([]), /** @type {Step[]} */ ([])];
  const found = flywheel ? onTheRim(flywheel, shown, truth) : null;
  if (found?.mark) {
    answer.push(`${angle(shown)} is ${found.words}`);
    const inputs = /** @type {InputEntry[]} */ ([
      ["pointer shows", angle(shown), TYPED],
      ["nearest number", `${found.mark}`, originOf(given.origins, "diameter")],
    ]);
    steps.push(
      step(
        "counted from a number",
        "angle - number",
        inputs,
        found.words,
        "rounded toward late to 0.1 mm along the rim",
      ),
    );
  } else if (!flywheel && marks.length) {
    count(shown, marks, given, answer, steps);
  } else if (given.division && !marks.length) {
    throw atField(
      "marks_before",
      new QuantityError("a division counts from a mark; type the numbered marks too, such as 9, 18, 27"),
    );
  }
  const side = truth.sign() > 0 ? "early" : "late";
  const way = truth.sign() ? ` to the ${side} side, ${wayRound(flywheel, side)}` : "";
  const own = distance(truth.size(), given, `from your own mark at true top dead centre${way}`);
  const { name, value, source } = pointerInput(pointer);
  const inputs = /** @type {InputEntry[]} */ ([
    ["pointer shows", angle(shown), TYPED],
    [name, value, source],
  ]);
  steps.push(step("from true top dead centre", "what the pointer shows - dead-centre reading", inputs, angle(truth)));
  return {
    answer: [...answer, ...own.answer],
    steps: [...steps, ...own.steps],
    remarks: [EDGE, ...(pointer ? [] : [NOT_READ])],
    cautions: [STILL],
  };
}

/**
 * Count from the nearest of the marks that were typed.
 * @param {Fraction} shown
 * @param {readonly Fraction[]} marks
 * @param {RimInputs} given
 * @param {string[]} answer
 * @param {Step[]} steps
 */
function count(shown, marks, given, answer, steps) {
  const { millimetres, thickness } = rimOf(given);
  const found = fromNearestMark(
    shown.toNumber(),
    marks.map((mark) => mark.toNumber()),
    given.division ? Fraction.of(given.division).toNumber() : null,
  );
  const far = Math.abs(found.beyond);
  const mark = angle(found.mark);
  let words = `at the mark ${mark}`;
  if (far) {
    const many = found.divisions === 1 ? "division" : "divisions";
    const divisions = found.divisions === null ? "" : `${plain(found.divisions)} ${many}, `;
    const side = found.beyond > 0 ? "early" : "late";
    const next = neighbours(marks, Fraction.of(found.mark), side).map((one) => one && angle(one));
    const place = countedFrom(`the mark ${mark}`, side, next[0], next[1]);
    words = `${divisions}${degreesOf(far)} ${place}, ${length(arc(far, millimetres, thickness))} along the rim`;
    if (found.extrapolated) words += "; past the last number, so counted on from it";
  }
  answer.push(`${angle(shown)} is ${words}`);
  const inputs = /** @type {InputEntry[]} */ ([
    ["pointer shows", angle(shown), TYPED],
    ["nearest number", mark, READ],
  ]);
  steps.push(step("counted from a number", "angle - number", inputs, words, NEAREST));
}
