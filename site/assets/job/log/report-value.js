/**
 * A value read on an engine, as it is typed in a report: exactly one unit with a plain number (`{"btdc": "24"}`), two ends
 * (`{"rpm": ["700", "750"]}`), a piston position (`{"btdc": {"in": "0.104"}}`), a window over dead centre
 * (`{"from": {"btdc": "2"}, "to": {"atdc": "3"}}`), a correction (`{"cranking_earlier": "2"}`), or words (`{"mark": "…"}`,
 * `{"code": "…"}`). Only pages have bounds and tolerances, not readings.
 */

import { QuantityError } from "../../errors.js";
import { readNumber } from "../../quantity/number.js";
import { readQuantity } from "../../quantity/quantity.js";
import { plain } from "../../quantity/spoken.js";
import { DEGREE_OF_CRANK, UNITS } from "../../quantity/unit.js";
import { SIDES } from "../../vocabulary.js";

/** @typedef {Readonly<Record<string, any>>} ReportValue */

export const LONGEST_TEXT = 600; // the longest text of a report
const WORDS = ["mark", "code"];
const ANGLES = [...SIDES, "from"];
const [BEFORE = "", AFTER = "", CENTRE = ""] = SIDES;
const CORRECTIONS = ["cranking_earlier", "cranking_later"];
const INNER = new Set(["crank_deg", "piston_mm", "piston_in"]); // internal, never typed

/**
 * Whether a value is a plain mapping, as parsed from JSON.
 * @param {unknown} raw
 * @returns {raw is Record<string, unknown>}
 */
export const isMapping = (raw) => typeof raw === "object" && raw !== null && !Array.isArray(raw);

/** Whether a value is a crank angle. @param {ReportValue | null | undefined} value */
export const isAngle = (value) => ANGLES.some((side) => value && side in value);

/**
 * A signed angle as a value: its size under its side, with so many decimals at most.
 * @param {import("../../quantity/fraction.js").Fraction} signed
 * @param {number} [decimals]
 * @returns {ReportValue}
 */
export const sidedValue = (signed, decimals) => ({
  [signed.sign() > 0 ? BEFORE : signed.sign() ? AFTER : CENTRE]: plain(signed, decimals),
});

/** Whether a value was read off the pointer, not with a depth gauge. @param {ReportValue} value */
export const isReadByPointer = (value) => isAngle(value) && readQuantity(value).unit === DEGREE_OF_CRANK;

/** A short excerpt of a value, for a message. @param {unknown} raw */
export function excerpt(raw) {
  let text = "something nested beyond all measure";
  try {
    text = raw === undefined ? "nothing" : JSON.stringify(raw);
  } catch {} // nested too deep to be written
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}

/** Whether it is a text that is not blank nor too long. @param {unknown} raw @param {number} [longest] @returns {raw is string} */
export const isWords = (raw, longest = LONGEST_TEXT) =>
  typeof raw === "string" && raw.trim() !== "" && raw.length <= longest;

/**
 * Read a value; unknown keys are refused.
 * @param {unknown} raw
 * @returns {ReportValue}
 * @throws {QuantityError} it is not a value; the message says what to write
 */
export function readValue(raw) {
  const keys = isMapping(raw) ? Object.keys(raw) : [];
  if (!isMapping(raw) || !keys.length)
    throw new QuantityError(`write a unit with its number, such as {"btdc": "24"}, not ${excerpt(raw)}`);
  if (keys.length === 2 && keys.includes("from") && keys.includes("to")) {
    const value = { from: readEnd(raw["from"]), to: readEnd(raw["to"]) };
    readQuantity(value);
    return value;
  }
  const key = keys[0] ?? "";
  const said = raw[key];
  if (keys.length > 1)
    throw new QuantityError(`exactly one unit is needed, not ${keys.slice(0, 5).join(", ").slice(0, 80)}`);
  if (WORDS.includes(key)) {
    if (!isWords(said))
      throw new QuantityError(`write ${key} as words, at most ${LONGEST_TEXT} characters, not ${excerpt(said)}`);
  } else if (CORRECTIONS.includes(key)) readNumber(plainText(said));
  else if (SIDES.includes(key)) return { [key]: readSided(key, said) };
  else if (!UNITS.has(key) || INNER.has(key)) throw new QuantityError(`there is no unit ${excerpt(key)}`);
  else return { [key]: readNumbers(key, said) };
  return { [key]: said };
}

/** One end of a window over dead centre. @param {unknown} raw */
function readEnd(raw) {
  const keys = isMapping(raw) ? Object.keys(raw) : [];
  const key = keys[0] ?? "";
  if (!isMapping(raw) || keys.length !== 1 || !SIDES.includes(key)) {
    throw new QuantityError(`write each end with its side, such as {"btdc": "2"}, not ${excerpt(raw)}`);
  }
  const said = readSided(key, raw[key]);
  if (Array.isArray(said)) throw new QuantityError(`write each end as one number, not ${excerpt(said)}`);
  return { [key]: said };
}

/** @param {string} side @param {unknown} raw */
function readSided(side, raw) {
  const inner = isMapping(raw) ? Object.keys(raw) : [];
  const unit = inner[0] ?? "";
  if (side !== "tdc" && isMapping(raw) && inner.length === 1 && (unit === "mm" || unit === "in")) {
    return { [unit]: readNumbers(unit, raw[unit]) };
  }
  const numbers = readNumbers("deg", raw);
  if (side === "tdc" && !/^0(\.0+)?$/.test(String(numbers)))
    throw new QuantityError(`top dead centre is tdc: 0, not ${excerpt(raw)}`);
  return numbers;
}

/**
 * One number, or two in ascending order, as texts.
 * @param {string} key
 * @param {unknown} raw
 * @returns {string | string[]}
 */
function readNumbers(key, raw) {
  if (!Array.isArray(raw)) return oneNumber(key, raw).text;
  const [first, second] = raw.map((one) => oneNumber(key, one));
  if (raw.length !== 2 || !first || !second) throw new QuantityError(`write one number or two, not ${excerpt(raw)}`);
  if (second.value.below(first.value)) throw new QuantityError(`write the smaller number first, not ${excerpt(raw)}`);
  return [first.text, second.text];
}

/** @param {string} key @param {unknown} raw */
function oneNumber(key, raw) {
  const unit = UNITS.get(key);
  return readNumber(plainText(raw), { fractions: unit?.fractions ?? false, signed: unit?.signed ?? false });
}

/** @param {unknown} raw @returns {string} */
function plainText(raw) {
  if (typeof raw !== "string") throw new QuantityError(`write the number as text, such as "24", not ${excerpt(raw)}`);
  return raw;
}
