/**
 * A contact beyond the numbers of the rim: marked on it with a pencil, and measured along it from the dead-centre mark
 * with a tape.
 */

import { exactly } from "../../bench/aids/wording.js";
import { angleOfArc } from "../../calc/rim.js";
import { QuantityError } from "../../errors.js";
import { Fraction } from "../../quantity/fraction.js";
import { roundToStep } from "../../quantity/number.js";
import { readQuantity } from "../../quantity/quantity.js";
import { convert, unitOf } from "../../quantity/unit.js";
import { typedValue } from "./number-pad.js";

/** @typedef {import("./number-pad.js").TypedReading} TypedReading */

export const TAPE_UNITS = ["mm", "in"];
const TURN = Fraction.of(360);
const HUNDREDTH = new Fraction(1n, 100n);

/** A length of a tape, in millimetres. @param {TypedReading} typed */
function millimetres(typed) {
  const { nominal, unit } = readQuantity(typedValue(typed, TAPE_UNITS));
  return convert(nominal ?? Fraction.of(0), unit, unitOf("mm"));
}

/**
 * The place of a pencil mark on the rim, in signed degrees to a hundredth.
 * @param {TypedReading} typed how far along the rim from the dead-centre mark, and on which side
 * @param {Readonly<Record<string, string>> | undefined} diameter of the rim, as its file has it
 * @param {TypedReading} round once round the rim, where its file has no diameter
 * @throws {QuantityError} something is empty or not a plain length, the side is not chosen, or it is once round or more
 */
export function degreesAlong(typed, diameter, round) {
  const along = millimetres(typed);
  if (along.sign() && !typed.side) throw new QuantityError(`choose before TDC or after TDC for ${typed.text}`);
  const size = typed.side === "atdc" ? along.negative() : along;
  if (diameter) {
    const { nominal, unit } = readQuantity(diameter);
    const across = convert(nominal ?? Fraction.of(0), unit, unitOf("mm")).toNumber();
    return roundToStep(exactly(angleOfArc(size.toNumber(), across)), HUNDREDTH);
  }
  const whole = millimetres(round);
  if (!whole.above(along)) throw new QuantityError("once round the rim is longer than that: measure it with the tape");
  return roundToStep(size.times(TURN).over(whole), HUNDREDTH);
}
