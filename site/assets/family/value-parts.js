/**
 * A value as shown: digits with unit and side beside them; converted to another unit; in the chosen units.
 */

import { converted } from "../quantity/quantity.js";
import { unitOf } from "../quantity/unit.js";
import { quantityOf } from "./ran-at-dots.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/**
 * Digits, the unit and side beside them, and more in small type.
 * @typedef {{number: string, unit: string, more: string}} Piece
 */

const OTHER = new Map([
  ["mm", "in"],
  ["in", "mm"],
  ["lbf_ft", "Nm"],
  ["lbf_in", "Nm"],
  ["kgf_m", "Nm"],
  ["Nm", "lbf_ft"],
  ["psi", "kPa"],
  ["kPa", "psi"],
  ["bar", "psi"],
  ["kgf_cm2", "kPa"],
  ["piston_mm", "piston_in"],
  ["piston_in", "piston_mm"],
]);

/** The unit in which each is shown, by the chosen units. */
const CHOSEN = new Map([
  [
    "metric",
    new Map([
      ["in", "mm"],
      ["lbf_ft", "Nm"],
      ["lbf_in", "Nm"],
      ["psi", "kPa"],
      ["piston_in", "piston_mm"],
    ]),
  ],
  [
    "inch",
    new Map([
      ["mm", "in"],
      ["Nm", "lbf_ft"],
      ["kgf_m", "lbf_ft"],
      ["kPa", "psi"],
      ["bar", "psi"],
      ["kgf_cm2", "psi"],
      ["piston_mm", "piston_in"],
    ]),
  ],
]);

const PARTS = /; |(?<=TDC) (?=to )/;
const CORRECTION = /^(?:reads )?([0-9./ ]+°) (earlier|later) (while cranking) than when running(.*)$/;
const DIGITS = /^(.*[0-9]°?)(?: ([^0-9]*?)(?: of (piston travel.*))?)?$/;
const TRAVEL = / of piston travel [AB]TDC$/;

/**
 * A value in words, split into pieces: one for each end with a side of its own.
 * @param {string} value
 */
export const pieces = (value) => value.split(PARTS).map(pieceOf);

/** @param {string} words @returns {Piece} */
function pieceOf(words) {
  const correction = CORRECTION.exec(words);
  if (correction) {
    const [, number = "", unit = "", first = "", rest = ""] = correction;
    return { number, unit, more: first + rest };
  }
  const found = DIGITS.exec(words);
  return found ? { number: found[1] ?? "", unit: found[2] ?? "", more: found[3] ?? "" } : wholeOf(words);
}

/** Words, or a code, in one piece. @param {string} words @returns {Piece} */
export const wholeOf = (words) => ({ number: words, unit: "", more: "" });

/**
 * A row's value in the chosen units, and in small type the other one: the printed value if it is not the big one. The
 * page's own second unit is preferred to a conversion.
 * @param {Document} row
 * @param {any[][]} cited
 * @param {string} units empty, metric or inch
 * @returns {[string, string]}
 */
export function inUnits(row, cited, units) {
  const { printed, value } = row;
  if (!value) return [printed, ""];
  const key = unitKey(value);
  const also = alsoOf(row, cited);
  const chosen = CHOSEN.get(units)?.get(key);
  if (chosen) {
    const symbol = ` ${unitOf(chosen).symbol}`;
    return [also.find((one) => one.endsWith(symbol)) || inUnit(value, chosen), `printed ${printed}`];
  }
  if (also.length) return [printed, shortly(also.join(" · "))];
  const other = OTHER.get(key);
  return [printed, other ? shortly(inUnit(value, other)) : ""];
}

/** In small type the side is left out, unless each end has its own. @param {string} other */
const shortly = (other) => (other.split("TDC").length === 2 ? other.replace(TRAVEL, " travel") : other);

/** @param {Document} row @param {any[][]} cited @returns {string[]} */
function alsoOf(row, cited) {
  for (const one of row["statements"]) {
    const [printed, also] = cited[one[0]] ?? [];
    if (also?.length && printed === row["printed"] && one.length === 1) return also;
  }
  return [];
}

/** @param {Document} value @returns {string} */
function unitKey(value) {
  const [key = ""] = Object.keys(value);
  const raw = value[key];
  if (key === "from") return unitKey(raw);
  const inner = (key === "btdc" || key === "atdc") && typeof raw === "object" && !Array.isArray(raw);
  return inner ? `piston_${Object.keys(raw)[0]}` : key;
}

/** @param {Document} value @param {string} unit */
function inUnit(value, unit) {
  const found = quantityOf(value);
  return found ? String(converted(found, unitOf(unit))) : "";
}
