/** Reads a value in words back, for the sides of a dispute, which a page's document has only in words. */

import { QuantityError } from "../errors.js";
import { readQuantity } from "../quantity/quantity.js";

/** @typedef {Readonly<Record<string, any>>} Document */

const NUMBER = "[0-9][0-9./ ]*?";
const ENDING = "(°| mm of piston travel| in of piston travel) (BTDC|ATDC)";
const ANGLE = new RegExp(`^(at least |at most )?(${NUMBER})(?: to (${NUMBER})| ± (${NUMBER}))?${ENDING}$`);
const ACROSS = new RegExp(`^(${NUMBER})${ENDING} to (${NUMBER})${ENDING}$`);
const RATIO = /^([0-9.]+)(?: to ([0-9.]+))?:1$/;
const PRESSURE = /^(at least |at most )?([0-9.]+)(?: to ([0-9.]+))? (psi|kPa|bar|kgf\/cm²)$/;

/**
 * The value of the words, as typed in a family's file; null unless it reads back to exactly the same words.
 * @param {string} words
 * @returns {Document | null}
 */
export function readPrinted(words) {
  const typed = angleOf(words) ?? pressureOf(words);
  if (!typed) return null;
  try {
    return `${readQuantity(typed)}` === words ? typed : null;
  } catch (error) {
    if (error instanceof QuantityError) return null;
    throw error;
  }
}

/** @param {string} words @returns {Document | null} */
function angleOf(words) {
  if (words === "TDC") return { tdc: "0" };
  const across = ACROSS.exec(words);
  if (across) {
    const [, one = "", unit = "", side = "", other = "", second = "", last = ""] = across;
    return { from: sided(one, unit, side), to: sided(other, second, last) };
  }
  const [, bound, first = "", second, either, unit = "", side = ""] = ANGLE.exec(words) ?? [];
  if (!side) return null;
  const inner = either ? { nominal: first, plus_minus: either } : second ? [first, second] : first;
  return sided(bound ? { [bound.trim().replace(" ", "_")]: first } : inner, unit, side);
}

/** @param {unknown} inner @param {string} unit @param {string} side @returns {Document} */
function sided(inner, unit, side) {
  const length = unit.trim().slice(0, 2);
  return { [side.toLowerCase()]: unit === "°" ? inner : { [length]: inner } };
}

/** @param {string} words @returns {Document | null} */
function pressureOf(words) {
  const ratio = RATIO.exec(words);
  if (ratio) return { to_one: ratio[2] ? [ratio[1], ratio[2]] : ratio[1] };
  const [, bound, first = "", second, symbol = ""] = PRESSURE.exec(words) ?? [];
  if (!symbol) return null;
  const key = symbol === "kgf/cm²" ? "kgf_cm2" : symbol;
  if (bound) return { [key]: { [bound.trim().replace(" ", "_")]: first } };
  return { [key]: second ? [first, second] : first };
}
