/** Numbers as they are printed: our own grammar, exact values, the precision that the digits claim. */

import { NumberNotPlain } from "../errors.js";
import { Fraction, floorDivide } from "./fraction.js";

const DECIMAL = /^(?:0|[1-9][0-9]{0,8})(?:\.[0-9]{1,9})?$/;
const SIGNED = /^-?(?:0|[1-9][0-9]{0,8})(?:\.[0-9]{1,9})?$/;
const FRACTION = /^(?:([1-9][0-9]{0,3}) )?([1-9][0-9]{0,3})\/([1-9][0-9]{0,3})$/;
const STEPS = Array.from({ length: 10 }, (_, decimals) => new Fraction(1n, 10n ** BigInt(decimals)));

/**
 * Which way a value is rounded. For crank angles, which count before top dead centre positive, `down` is later and `up`
 * is earlier.
 * @typedef {"nearest" | "down" | "up"} Toward
 */

/**
 * A printed number: its text, its exact value, and one unit in its last printed place (of a fraction, one over its
 * denominator).
 * @typedef {{readonly text: string, readonly value: Fraction, readonly step: Fraction}} PrintedNumber
 */

/**
 * Read a number as printed; `fractions` admits `7/64` and `1 1/4`, `signed` a leading minus.
 * @param {string} text
 * @param {{fractions?: boolean, signed?: boolean}} [admit]
 * @returns {PrintedNumber}
 * @throws {NumberNotPlain} the text is none of these; the message says what to type
 */
export function readNumber(text, { fractions = false, signed = false } = {}) {
  if ((signed ? SIGNED : DECIMAL).test(text)) {
    return { text, value: Fraction.of(text), step: stepOf((text.split(".")[1] ?? "").length) };
  }
  const found = fractions ? FRACTION.exec(text) : null;
  if (found) {
    const [whole, top, bottom] = [found[1] ?? "0", found[2] ?? "0", found[3] ?? "1"].map(BigInt);
    if (top !== undefined && bottom !== undefined && whole !== undefined && top < bottom) {
      return { text, value: new Fraction(whole * bottom + top, bottom), step: new Fraction(1n, bottom) };
    }
  }
  const wanted = `plain digits such as 24 or 0.030${fractions ? ", or a fraction such as 7/64 or 1 1/4" : ""}`;
  throw new NumberNotPlain(`'${text.slice(0, 40)}' is not a plain number; write ${wanted}`);
}

/**
 * Print a value to a decimal step, such as 1/100, rounding half away from zero unless told otherwise.
 * @param {Fraction} value
 * @param {Fraction} step taken as the next finer power of ten where it is none
 * @param {Toward} [toward]
 * @returns {PrintedNumber}
 */
export function writeNumber(value, step, toward = "nearest") {
  const decimals = decimalsOf(step);
  const fine = stepOf(decimals);
  const scaled = wholeSteps(value, fine, toward);
  const digits = `${scaled < 0n ? -scaled : scaled}`.padStart(decimals + 1, "0");
  const text = decimals ? `${digits.slice(0, -decimals)}.${digits.slice(-decimals)}` : digits;
  return { text: scaled < 0n ? `-${text}` : text, value: new Fraction(scaled, fine.bottom), step: fine };
}

/**
 * Round a value to a multiple of `step`: nearest (half away from zero), down or up.
 * @param {Fraction} value
 * @param {Fraction} step positive
 * @param {Toward} [toward]
 */
export function roundToStep(value, step, toward = "nearest") {
  return new Fraction(wholeSteps(value, step, toward) * step.top, step.bottom);
}

/**
 * The largest power of ten that is not coarser than `step`: at most one, at least a thousand-millionth.
 * @param {Fraction} step
 */
export function decimalStep(step) {
  return stepOf(decimalsOf(step));
}

/** @param {number} decimals @returns {Fraction} */
function stepOf(decimals) {
  return STEPS[decimals] ?? new Fraction(1n, 10n ** BigInt(decimals));
}

/** @param {Fraction} value @param {Fraction} step @param {Toward} toward @returns {bigint} */
function wholeSteps(value, step, toward) {
  const [top, bottom] = [value.top * step.bottom, value.bottom * step.top];
  if (toward === "down") return floorDivide(top, bottom);
  if (toward === "up") return -floorDivide(-top, bottom);
  return top >= 0n ? floorDivide(2n * top + bottom, 2n * bottom) : -floorDivide(bottom - 2n * top, 2n * bottom);
}

/** @param {Fraction} step */
function decimalsOf(step) {
  let [top, decimals] = [step.top, 0];
  while (top < step.bottom && decimals < STEPS.length - 1) [top, decimals] = [top * 10n, decimals + 1];
  return decimals;
}
