/** True top dead centre by piston stop: what the pointer shows there, and how well that is known. */

import { requireNearCentre } from "../book/aim.js";
import { STOP_JOB_BEYOND, meanDeadCentre } from "../calc/dead-centre.js";
import { QuantityError, ReadingsContradict } from "../errors.js";
import { Fraction, HALF } from "../quantity/fraction.js";
import { roundToStep } from "../quantity/number.js";
import { angle, degreesOf, exactly } from "./said.js";

const [NEAREST, FURTHEST] = [10, 60];
const MOST_APART = 2;
const STEP = new Fraction(1n, 100n);

/** @typedef {[Fraction, Fraction]} Pair */

/**
 * What the pointer shows at true top dead centre, from one or two pairs of contacts in signed degrees.
 * @param {{first: Fraction, second: Fraction, again: Fraction | null, second_again: Fraction | null}} given
 * @returns {import("./said.js").Worked}
 */
export function work({ first, second, again, second_again: secondAgain }) {
  if (!again !== !secondAgain) throw new QuantityError("the second pair has one contact only: type both, or neither");
  /** @type {Pair[]} */
  const pairs = again && secondAgain ? [[first, second], [again, secondAgain]] : [[first, second]];
  for (const pair of pairs) requireContacts(pair);
  const found = meanDeadCentre(pairs.map(([one, other]) => [one.toNumber(), other.toNumber()]));
  const middles = pairs.map(([one, other]) => one.plus(other).times(HALF));
  const [least, most] = middles.length > 1 && middles[0]?.above(middles[1] ?? HALF) ? [middles[1], middles[0]] : [middles[0], middles.at(-1)];
  if (least && most && most.minus(least).above(Fraction.of(MOST_APART))) {
    throw new ReadingsContradict(
      `the pairs give ${angle(least)} and ${angle(most)} for top dead centre: something moves; tighten stop and ` +
        "pointer, and read again",
    );
  }
  const reading = roundToStep(exactly(found.reading), STEP, "down");
  requireNearCentre(reading);
  return {
    answer: [
      `the pointer shows ${angle(reading)} at true top dead centre`,
      `uncertainty ${degreesOf(found.expanded)} either way (k = 2, about 95 %)`,
    ],
    steps: [{
      name: "dead-centre reading",
      formula: `${pairs.length > 1 ? "mean of " : ""}(first + second) / 2, before counted up and after counted down`,
      inputs: pairs.flatMap(([one, other], index) => {
        const pair = pairs.length > 1 ? `, pair ${index + 1}` : "";
        return /** @type {[string, string][]} */ ([
          [`first contact${pair}`, angle(one)], [`second contact${pair}`, angle(other)],
        ]);
      }),
      result: angle(reading),
    }],
    remarks: remarksOn(pairs, reading, found.expanded),
    cautions: [
      "turn by hand only and touch the stop gently; before that ground a magneto's stop lead, or turn the key off and " +
        "take the battery off",
      "take the stop out of the plug hole before anyone touches the starter",
      "little backward turning, just enough to find the second contact: it folds the water pump's impeller",
    ],
  };
}

/** @param {Pair} pair */
const halfBetween = ([first, second]) => first.minus(second).size().times(HALF);

/** @param {Pair} pair */
function requireContacts([first, second]) {
  const said = `${angle(first)} and ${angle(second)}`;
  if (first.equals(second)) {
    throw new QuantityError(
      `both contacts read ${angle(first)}: turn the other way for the second one, and read again`,
    );
  }
  if (first.sign() * second.sign() > 0) {
    throw new QuantityError(
      `${said} are on one side: one of the contacts is before top dead centre and the other after; if the pointer ` +
        "really shows both on one side, look at the flywheel key and whether this is the right flywheel",
    );
  }
  const half = halfBetween([first, second]);
  if (half.below(Fraction.of(NEAREST))) {
    throw new QuantityError(
      `${said} are only ${degreesOf(half)} from top dead centre, where the piston hardly moves; screw the stop ` +
        "further in, until it touches 20 to 40 degrees each side",
    );
  }
  if (half.above(Fraction.of(FURTHEST))) {
    throw new QuantityError(
      `${said} are ${degreesOf(half)} from top dead centre: too far; screw the stop out, until it touches 20 to 40 ` +
        "degrees each side, and look whether both readings are right",
    );
  }
}

/** @param {Pair[]} pairs @param {Fraction} reading @param {number} expanded */
function remarksOn(pairs, reading, expanded) {
  const remarks = ["it belongs to this engine and this job: find it again next time"];
  if (reading.sign()) {
    const side = reading.sign() > 0 ? "later" : "earlier";
    remarks.push(
      `a reading is truly ${degreesOf(reading.size())} ${side} than the pointer shows; better than remembering that, ` +
        "move the pointer until it shows 0 at true top dead centre",
    );
  }
  if (reading.size().toNumber() + expanded > STOP_JOB_BEYOND) {
    remarks.push(
      `with its uncertainty it may be beyond ${STOP_JOB_BEYOND} degrees: take more pairs before you go on`,
    );
  }
  const halves = pairs.map((pair) => halfBetween(pair).toNumber());
  if (Math.min(...halves) < 20 || Math.max(...halves) > 40) {
    remarks.push("contacts 20 to 40 degrees each side are better: screw the stop in or out (common practice)");
  }
  remarks.push("each reading is taken to be good to 0.25 degree (standard uncertainty)");
  return remarks;
}
