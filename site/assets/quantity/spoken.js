/** What a mechanic types or says: an angle with its side in words ("2 before"), a number with its unit ("62 mm"). */

import { QuantityError } from "../errors.js";
import { Fraction, ZERO } from "./fraction.js";
import { readNumber, writeNumber } from "./number.js";

const ANGLE = /^\s*([0-9][0-9./ ]*?)\s*(?:°|deg|degrees?)?\s*(before|after|btdc|atdc)?\s*$/i;

/**
 * Signed degrees of crank, before top dead centre positive, from words such as `2 before`, `1.5 ATDC` or `0`.
 * @param {string} words
 * @returns {Fraction}
 * @throws {QuantityError} the words have no side, or no plain number; the message says what to type
 */
export function spokenAngle(words) {
  if (["tdc", "0 tdc", "at tdc"].includes(words.trim().toLowerCase())) return ZERO;
  const found = ANGLE.exec(words);
  if (found) {
    const value = readNumber((found[1] ?? "").trim(), { fractions: true }).value;
    const side = (found[2] ?? "").toLowerCase();
    if (side === "before" || side === "btdc") return value;
    if (side || !value.sign()) return value.negative();
  }
  throw new QuantityError(
    `'${words.slice(0, 40)}' is not an angle with its side; write degrees and before or after top dead centre, ` +
      "such as '2 before', '1.5 after', or 0",
  );
}

/**
 * Signed degrees as words, to a thousandth: `2 before`, `1.5 after`, `0`.
 * @param {Fraction | number} degrees
 */
export function angleInWords(degrees) {
  const exact = Fraction.of(degrees);
  const number = plain(exact);
  return number === "0" ? number : `${number} ${exact.sign() > 0 ? "before" : "after"}`;
}

/**
 * The size of a number, without its sign, with so many decimals at most and no needless zeros.
 * @param {Fraction | number} number
 * @param {number} [decimals] up to nine
 */
export function plain(number, decimals = 3) {
  const { text } = writeNumber(Fraction.of(number).size(), new Fraction(1n, 10n ** BigInt(decimals)));
  return text.includes(".") ? text.replace(/0+$/, "").replace(/\.$/, "") : text;
}

/** Words for the beginning of a line. @param {string} words */
export const capital = (words) => words.slice(0, 1).toUpperCase() + words.slice(1);
