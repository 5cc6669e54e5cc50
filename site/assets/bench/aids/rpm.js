/** Engine speed from sparks or from a tachometer set for another engine; and what a constant delay loses in degrees. */

import { degreesOfDelay, delayBetween, rpmFromFrequency, trueRpm } from "../../calc/speed.js";
import { QuantityError } from "../../errors.js";
import { Fraction } from "../../quantity/fraction.js";
import { plain } from "../../quantity/spoken.js";
import { convert, unitOf } from "../../quantity/unit.js";
import { step } from "../../working.js";
import { atField } from "./field-error.js";
import { degreesOf, NEAREST, READ, sizeWords, TYPED } from "./wording.js";

/** @typedef {import("./wording.js").Size} Size */
/** @typedef {import("./wording.js").Worked} Worked */
/** @typedef {Fraction | null} OptionalNumber */

/**
 * @typedef {{way: string, hertz: OptionalNumber, pulses: OptionalNumber, shown: OptionalNumber, set_for: OptionalNumber,
 *   has: OptionalNumber, delay: Size | null,
 *   at: OptionalNumber, lost: OptionalNumber, slow: OptionalNumber, fast: OptionalNumber}} SpeedInputs
 */

const FASTEST = 20_000;
const CAUTIONS = ["a running engine: cooling water at once, outdoors, and nothing near the open flywheel"];
const PULSES = "pulses in one turn of the crank: a two-stroke gives one for each cylinder, a four-stroke half of one";
const NO_SIDE =
  "a delay alone does not show whether an ignition reads earlier or later while cranking: only the book's correction does";

/**
 * The fields that each way of asking needs, with their labels.
 * @type {Readonly<Record<string, [string, string][]>>}
 */
const NEEDS = {
  sparks: [
    ["hertz", "pulses a second"],
    ["pulses", "pulses in one turn of the crank"],
  ],
  tachometer: [
    ["shown", "what the tachometer shows"],
    ["set_for", "pulses in a turn that it is set for"],
    ["has", "pulses in a turn that the engine gives"],
  ],
  delay: [
    ["delay", "the delay"],
    ["at", "the speed"],
  ],
  lost: [
    ["lost", "the degrees lost"],
    ["slow", "the slower speed"],
    ["fast", "the faster speed"],
  ],
};

/** @param {Fraction | number} speed */
const rpm = (speed) => `${plain(speed, 1)} rpm`;

/**
 * @param {SpeedInputs} given
 * @returns {Worked}
 */
export function work(given) {
  for (const [name, words] of NEEDS[given.way] ?? []) {
    const typed = given[/** @type {keyof SpeedInputs} */ (name)];
    if (typed === null || typed === "") throw atField(name, new QuantityError(`type ${words} too`));
  }
  if (given.way === "sparks") return fromSparks(number(given.hertz), number(given.pulses));
  if (given.way === "tachometer") return fromTachometer(number(given.shown), number(given.set_for), number(given.has));
  if (given.way === "delay") return lostBy(/** @type {Size} */ (given.delay), number(given.at));
  return delayOf(number(given.lost), number(given.slow), number(given.fast));
}

/** @param {OptionalNumber} typed */
const number = (typed) => typed ?? Fraction.of(0);

/** @param {Fraction} hertz @param {Fraction} pulses @returns {Worked} */
function fromSparks(hertz, pulses) {
  const found = rpmFromFrequency(hertz.toNumber(), pulses.toNumber());
  requireSpeed(found);
  const inputs = /** @type {[string, string, string][]} */ ([
    ["pulses a second", `${plain(hertz)} Hz`, READ],
    ["pulses in a turn", plain(pulses), TYPED],
  ]);
  const steps = [step("speed", "60 x pulses a second / pulses in a turn", inputs, rpm(found), NEAREST)];
  return { answer: [rpm(found)], steps, remarks: [PULSES], cautions: CAUTIONS };
}

/** @param {Fraction} shown @param {Fraction} setFor @param {Fraction} has @returns {Worked} */
function fromTachometer(shown, setFor, has) {
  const found = trueRpm(shown.toNumber(), setFor.toNumber(), has.toNumber());
  requireSpeed(found);
  const inputs = /** @type {[string, string, string][]} */ ([
    ["tachometer shows", rpm(shown), READ],
    ["it is set for pulses in a turn", plain(setFor), TYPED],
    ["the engine gives", plain(has), TYPED],
  ]);
  const answer = [`the true speed is ${rpm(found)} where the tachometer shows ${plain(shown)}`];
  const steps = [step("true speed", "shown x set for / engine gives", inputs, rpm(found), NEAREST)];
  return { answer, steps, remarks: [PULSES], cautions: CAUTIONS };
}

/** @param {Size} delay @param {Fraction} speed @returns {Worked} */
function lostBy(delay, speed) {
  requireSpeed(speed.toNumber());
  const seconds = convert(delay.value, delay.unit, unitOf("s")).toNumber();
  const found = degreesOfDelay(seconds, speed.toNumber());
  if (found >= 360) {
    throw new QuantityError(
      `${sizeWords(delay)} is more than a whole turn at ${rpm(speed)}; type the delay in µs, such as 50`,
    );
  }
  const inputs = /** @type {[string, string, string][]} */ ([
    ["delay", sizeWords(delay), TYPED],
    ["speed", rpm(speed), TYPED],
  ]);
  const answer = [`a delay of ${sizeWords(delay)} makes the spark ${degreesOf(found)} later at ${rpm(speed)}`];
  const steps = [step("degrees lost", "6 x rpm x delay in seconds", inputs, degreesOf(found), NEAREST)];
  return { answer, steps, remarks: [NO_SIDE], cautions: [] };
}

/** @param {Fraction} lost @param {Fraction} slow @param {Fraction} fast @returns {Worked} */
function delayOf(lost, slow, fast) {
  requireSpeed(fast.toNumber());
  const words = `${plain(delayBetween(lost.toNumber(), slow.toNumber(), fast.toNumber()) * 1e6, 1)} µs`;
  const inputs = /** @type {[string, string, string][]} */ ([
    ["degrees lost", degreesOf(lost), READ],
    ["between", `${plain(slow)} and ${rpm(fast)}`, READ],
  ]);
  const answer = [`losing ${degreesOf(lost)} between ${plain(slow)} and ${rpm(fast)} is a delay of ${words}`];
  const steps = [step("delay", "degrees / (6 x the difference in rpm), in seconds", inputs, words, NEAREST)];
  return { answer, steps, remarks: [NO_SIDE], cautions: [] };
}

/** @param {number} speed */
function requireSpeed(speed) {
  if (speed > FASTEST) {
    throw new QuantityError(`${rpm(speed)} is faster than any outboard turns; check the numbers and their units`);
  }
}
