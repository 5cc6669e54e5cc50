/** True top dead centre by piston stop or dial gauge: what the pointer shows there, and how well that is known. */

import { requireNearCentre } from "../../book/pointer.js";
import { pistonPosition } from "../../calc/crank.js";
import { meanDeadCentre, offsetBias, STOP_JOB_BEYOND, shiftError } from "../../calc/dead-centre.js";
import { offsetPistonPosition } from "../../calc/offset.js";
import { QuantityError, ReadingsContradict } from "../../errors.js";
import { Fraction, HALF } from "../../quantity/fraction.js";
import { roundToStep } from "../../quantity/number.js";
import { plain } from "../../quantity/spoken.js";
import { step } from "../../working.js";
import {
  ABOVE,
  angle,
  crankInputs,
  degreesOf,
  exactly,
  millimetresOf,
  NEAREST,
  READ,
  sizeWords,
  TAKEN,
  TYPED,
} from "./wording.js";

/** @typedef {import("./wording.js").Size} Size */
/** @typedef {import("../../working.js").Step} Step */
/** @typedef {readonly [Fraction, Fraction]} Contacts */

/**
 * @typedef {{first: Fraction, second: Fraction, more: readonly Contacts[], by: string, uncertain: Fraction | null,
 *   stroke: Size | null, rod: Size | null, offset: Size | null, gave: Size | null,
 *   origins?: import("./wording.js").Origins}} DeadCentreInputs
 */

const [NEAREST_CONTACT, FURTHEST_CONTACT] = [10, 60];
const MOST_APART = 2;
const STANDARD = new Fraction(1n, 4n);
const HUNDREDTH = new Fraction(1n, 100n);
const LATE = "rounded toward after, which is late";
const BETWEEN = "half the angle between the contacts";

/** Rounded to a hundredth of a degree, toward after. @param {number} reading */
const toward = (reading) => roundToStep(exactly(reading), HUNDREDTH, "down");

/**
 * The pointer's reading at true top dead centre, from pairs of contacts in signed degrees.
 * @param {DeadCentreInputs} given
 * @returns {import("./wording.js").Worked}
 */
export function work(given) {
  const { first, second, more, by, uncertain, offset, gave } = given;
  const gauge = by === "gauge";
  /** @type {Contacts[]} */
  const pairs = [[first, second], ...more];
  for (const pair of pairs) requireContacts(pair, gauge ? "gauge readings" : "contacts");
  const found = meanDeadCentre(
    pairs.map(([one, other]) => [one.toNumber(), other.toNumber()]),
    (uncertain ?? STANDARD).toNumber(),
  );
  requireTogether(pairs);
  const contact = pairs.map(halfBetween).reduce((one, other) => one.least(other));
  const crank = offset || gave ? crankOf(given) : null;
  const aside = offset && crank ? bias(contact.toNumber(), crank, offset) : 0;
  requireNearCentre(exactly(found.reading - aside));
  const reading = toward(found.reading - aside);
  const middle = angle(toward(found.reading));
  const answer = [
    `the pointer shows ${angle(reading)} at true top dead centre`,
    `uncertainty ${degreesOf(found.expanded)} either way (k = 2, about 95 %)`,
  ];
  const steps = [readingStep(pairs, found, middle, gauge), uncertaintyStep(pairs.length, uncertain, found)];
  if (offset && crank) {
    answer.push(
      `the pin's offset of ${sizeWords(offset)} moves the middle of the contacts by ${degreesOf(Math.abs(aside), 3)}: subtracted`,
    );
    steps.push(
      step(
        "without the pin's offset",
        "middle - (arc tangent of offset over pin's height at the contact - arc sine of offset over rod + throw)",
        [
          ["middle of the contacts", middle, ABOVE],
          ["pin offset", sizeWords(offset), TYPED],
          ["contact from top dead centre", degreesOf(contact), BETWEEN],
          ...crank.inputs,
          ["the pin moves the middle by", degreesOf(Math.abs(aside), 3), "to the before side, where the pin is"],
        ],
        angle(reading),
        LATE,
      ),
    );
  }
  if (gave && crank) {
    const moved = degreesOf(shiftError(millimetresOf(gave), contact.toNumber(), crank.throwLength, crank.rod));
    answer.push(`if the stop gave way by ${sizeWords(gave)} on one side, this would be ${moved} off`);
    steps.push(
      step(
        "a stop that gives way",
        "half of the give over the piston's travel for a degree there",
        [
          ["give", sizeWords(gave), TYPED],
          ["contact from top dead centre", degreesOf(contact), BETWEEN],
          ...crank.inputs,
        ],
        moved,
        NEAREST,
      ),
    );
  }
  return {
    answer,
    steps,
    remarks: remarksOn(pairs, reading, found.expanded, uncertain),
    cautions: [
      "turn by hand only and touch the stop gently; before that ground a magneto's stop lead, or turn the key off and " +
        "take the battery off",
      "take the stop out of the plug hole before anyone touches the starter",
      "turn backward only as far as the second contact: it folds the water pump's impeller",
    ],
  };
}

/** @param {DeadCentreInputs} given */
function crankOf({ stroke, rod, origins }) {
  if (!stroke || !rod) {
    throw new QuantityError(
      "how much a pin set aside or a stop that gave way matters depends on the crank; type stroke and rod",
    );
  }
  return {
    throwLength: millimetresOf(stroke) / 2,
    rod: millimetresOf(rod),
    inputs: crankInputs({ stroke, rod, ...(origins ? { origins } : {}) }),
  };
}

/**
 * How far the middle of two contacts lies from true top dead centre, in degrees, before positive: from the piston position
 * without the offset, then with it.
 * @param {number} contact
 * @param {{throwLength: number, rod: number}} crank
 * @param {Size} offset
 */
function bias(contact, { throwLength, rod }, offset) {
  const aside = millimetresOf(offset);
  const about = offsetBias(aside, pistonPosition(contact, throwLength, rod), throwLength, rod);
  return offsetBias(aside, offsetPistonPosition(contact + about, throwLength, rod, aside), throwLength, rod);
}

/** @param {Contacts} pair */
const halfBetween = ([first, second]) => first.minus(second).size().times(HALF);

/** @param {readonly Contacts[]} pairs */
function requireTogether(pairs) {
  const middles = pairs.map(([one, other]) => one.plus(other).times(HALF));
  const [least, most] = [
    middles.reduce((one, other) => one.least(other)),
    middles.reduce((one, other) => one.most(other)),
  ];
  if (most.minus(least).above(Fraction.of(MOST_APART))) {
    throw new ReadingsContradict(
      `the pairs give ${angle(least)} and ${angle(most)} for top dead centre: something moves; tighten stop and ` +
        "pointer, and read again",
    );
  }
}

/** @param {Contacts} pair @param {string} what */
function requireContacts([first, second], what) {
  const said = `${angle(first)} and ${angle(second)}`;
  if (first.equals(second)) {
    throw new QuantityError(`both ${what} read ${angle(first)}: turn the other way for the second one, and read again`);
  }
  if (first.sign() * second.sign() > 0) {
    throw new QuantityError(
      `${said} are on one side: one of the ${what} is before top dead centre and the other after; if the pointer ` +
        "really shows both on one side, look at the flywheel key and whether this is the right flywheel",
    );
  }
  const half = halfBetween([first, second]);
  if (half.below(Fraction.of(NEAREST_CONTACT))) {
    throw new QuantityError(
      `${said} are only ${degreesOf(half)} from top dead centre, where the piston hardly moves; screw the stop ` +
        "further in, until it touches 20 to 40 degrees each side",
    );
  }
  if (half.above(Fraction.of(FURTHEST_CONTACT))) {
    throw new QuantityError(
      `${said} are ${degreesOf(half)} from top dead centre: too far; screw the stop out, until it touches 20 to 40 ` +
        "degrees each side, and look whether both readings are right",
    );
  }
}

/**
 * @param {readonly Contacts[]} pairs
 * @param {{reading: number}} found
 * @param {string} words
 * @param {boolean} gauge
 * @returns {Step}
 */
function readingStep(pairs, found, words, gauge) {
  const what = gauge ? "gauge reading" : "contact";
  const formula = "(first + second) / 2, before counted up and after counted down";
  const inputs = pairs.flatMap(([one, other], place) => {
    const pair = pairs.length > 1 ? `, pair ${place + 1}` : "";
    return /** @type {[string, string, string][]} */ ([
      [`first ${what}${pair}`, angle(one), READ],
      [`second ${what}${pair}`, angle(other), READ],
    ]);
  });
  const whole = exactly(found.reading).over(HUNDREDTH).isWhole();
  return step(
    "dead-centre reading",
    `${pairs.length > 1 ? "mean of " : ""}${formula}`,
    inputs,
    words,
    whole ? "" : LATE,
  );
}

/**
 * @param {number} count
 * @param {Fraction | null} uncertain
 * @param {{expanded: number, scatter: number}} found
 * @returns {Step}
 */
function uncertaintyStep(count, uncertain, { expanded, scatter }) {
  /** @type {[string, string, string][]} */
  const inputs = [["standard uncertainty of a reading", degreesOf(uncertain ?? STANDARD), uncertain ? TYPED : TAKEN]];
  let formula = "2 x (reading's uncertainty / square root of 2)";
  if (count > 1) {
    inputs.push([`scatter of the ${count} pairs`, degreesOf(scatter), READ]);
    formula = "2 x root of the sum of squares of (scatter / root of pairs) and (reading's uncertainty / root of 2)";
  }
  return step("expanded uncertainty, k = 2", formula, inputs, degreesOf(expanded), NEAREST);
}

/**
 * @param {readonly Contacts[]} pairs
 * @param {Fraction} reading
 * @param {number} expanded
 * @param {Fraction | null} uncertain
 */
function remarksOn(pairs, reading, expanded, uncertain) {
  const remarks = ["it belongs to this engine and this job: find it again next time"];
  if (reading.sign()) {
    const side = reading.sign() > 0 ? "later" : "earlier";
    remarks.push(
      `a reading is truly ${degreesOf(reading.size())} ${side} than the pointer shows; if you move the pointer instead, ` +
        "hold the rim half-way between the contacts, bring the pointer to 0 there, and read both contacts again: " +
        "only what they give counts",
    );
  }
  if (reading.size().plus(Fraction.of(expanded)).above(Fraction.of(STOP_JOB_BEYOND))) {
    remarks.push(`with its uncertainty it may be beyond ${STOP_JOB_BEYOND} degrees: take more pairs before you go on`);
  }
  const halves = pairs.map(halfBetween);
  if (halves.some((half) => half.below(Fraction.of(20)) || half.above(Fraction.of(40)))) {
    remarks.push("contacts 20 to 40 degrees each side are better: screw the stop in or out (common practice)");
  }
  if (!uncertain) {
    remarks.push(
      `each reading is assumed good to ${plain(STANDARD)} degree (standard uncertainty); give your own under ` +
        "“How well you read it”",
    );
  }
  if (pairs.length > 1 && pairs.length < 4)
    remarks.push("two or three pairs say little about their scatter: four say more");
  return remarks;
}
