/**
 * A verdict in words. Of a maximum both distances: how far past the book's figure or late of it, and how far from the
 * target, which has the margin in it; late of it is on the safe side. Of any other figure how far out, early or late.
 */

import { Fraction, HALF } from "../quantity/fraction.js";
import { angleInWords, plain } from "../quantity/spoken.js";
import { shownTarget } from "./window.js";

/** @typedef {import("./window.js").Setting} Setting */
/** @typedef {import("../calc/target.js").Verdict} Verdict */

const READABLE = HALF;
const LEAST = new Fraction(1n, 1000n);

/** How far out a reading is, and on which side: `1 degree early (advanced)`. @param {Verdict} verdict */
export function verdictWords({ off, degrees }) {
  if (off === "inside") return off;
  const number = sizeWords(degrees);
  const side = off === "early" ? "early (advanced)" : "late (retarded)";
  return `${number} degree${number === "1" ? "" : "s"} ${side}`;
}

/**
 * How far a true angle is from the book's maximum and from the target: `early, 1° past the book's 24, 2° from your 23`;
 * the target is told as the pointer shows it.
 * @param {Verdict} verdict
 * @param {Setting} found
 * @param {Fraction} angle
 * @param {Fraction} pointer
 */
export function maximumWords({ off }, found, angle, pointer) {
  const book = fromTheBook(found, angle, pointer);
  const shown = shownTarget(found, pointer);
  const target = shown?.minus(pointer);
  const aimed = target ? fromTheTarget(found, angle, target, pointer) : "";
  if (off === "early") return `early, ${book}${aimed}`;
  if (off === "late") return `${book}${aimed}, still on the safe side`;
  const near = target && !angle.above(target) && (found.low || !target.minus(angle).above(READABLE));
  return near ? `on target, ${book}` : `inside, ${book}${aimed}`;
}

/**
 * The distance from the nearer printed end, or what is printed if it is inside.
 * @param {Setting} found
 * @param {Fraction} angle
 * @param {Fraction} pointer
 */
function fromTheBook({ low, high }, angle, pointer) {
  if (high && angle.above(high)) return `${degreesWords(angle.minus(high))} past the book's ${endWords(high, pointer)}`;
  const late = low ?? high;
  if (late && angle.below(late))
    return `${degreesWords(late.minus(angle))} late of the book's ${endWords(late, pointer)}`;
  if (low && high && !low.equals(high)) return `between the book's ${numberWords(low)} and ${endWords(high, pointer)}`;
  return `the book's ${endWords(high ?? low, pointer)}`;
}

/**
 * The distance from the target; empty if that is the printed figure, or was reached.
 * @param {Setting} found
 * @param {Fraction} angle
 * @param {Fraction} target
 * @param {Fraction} pointer
 */
function fromTheTarget({ low, high, margin }, angle, target, pointer) {
  const nearest = angle.above(target) ? high : low;
  if (target.equals(angle) || (nearest && target.equals(nearest))) return "";
  const shown = numberWords(target.plus(pointer));
  return `, ${degreesWords(angle.minus(target))} from ${margin.sign() ? `your ${shown}` : `the ${shown} to aim at`}`;
}

/** A printed end, and what that is on a pointer that is off. @param {Fraction | null} end @param {Fraction} pointer */
function endWords(end, pointer) {
  if (!end) return "";
  const shown = pointer.sign() ? ` (${numberWords(end.plus(pointer))} on this pointer)` : "";
  return numberWords(end) + shown;
}

/** Before top dead centre, where a maximum lies, a number alone; else with its side. @param {Fraction} angle */
const numberWords = (angle) => (angle.sign() < 0 ? angleInWords(angle) : plain(angle));

/** @param {Fraction} size */
const degreesWords = (size) => `${sizeWords(size.size())}°`;

/** @param {Fraction} size */
const sizeWords = (size) => (size.below(LEAST) ? "less than 0.001" : plain(size));
