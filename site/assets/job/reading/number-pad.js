/** Large number keys on the screen, for gloves and wet fingers; the ordinary keyboard types into the same box. */

import { element } from "../../dom.js";
import { QuantityError } from "../../errors.js";
import { readNumber } from "../../quantity/number.js";
import { UNITS } from "../../quantity/unit.js";
import { choice, key } from "../controls.js";

/** @typedef {Readonly<Record<string, any>>} Document */

/**
 * What is being typed: the digits, the unit's key, and for a crank angle the side.
 * @typedef {{text: string, unit: string, side: string}} TypedReading
 */

export const SIDE_CHOICES = /** @type {const} */ ([
  ["btdc", "before TDC"],
  ["atdc", "after TDC"],
]);
const WORDS = new Map([
  ["mark", "words"],
  ["code", "as stamped"],
]);
/** How a crank position may be read: by the light in degrees, or as the depth of the piston below top dead centre. */
const PLACES = /** @type {const} */ ([
  ["deg", "degrees"],
  ["mm", "mm below the top"],
  ["in", "in below the top"],
]);
const LONGEST = { number: 14, words: 200 };

/** Whether a crank position is typed as a depth. @param {TypedReading} typed @param {readonly string[]} units */
const isDepth = ({ unit }, units) => takesSides(units) && (unit === "mm" || unit === "in");

/** Whether a kind of figure is read as a crank position. @param {readonly string[]} units */
export const takesSides = (units) => units.includes("btdc");

/** @param {string} unit */
const isWords = (unit) => WORDS.has(unit);

/** Whether top dead centre itself was typed: `tdc`, `0 tdc`. @param {string} text */
const isCentre = (text) => /^(0(\.0+)?\s*°?\s*|at )?tdc$/i.test(text);

/** Whether something is typed that was not noted yet. @param {TypedReading} typed */
export const isTyped = ({ text, side }) => text.trim() !== "" || side !== "";

/** A number as typed in haste, made plain: a comma for the point, no digit before it, spaces around. @param {string} text */
export function asPlain(text) {
  const pointed = text.trim().replace(",", ".").replace(/\s+/g, " ");
  return pointed.startsWith(".") ? `0${pointed}` : pointed;
}

/**
 * What was typed, as in a report: `{"btdc": "22.5"}`, `{"psi": "110"}`, `{"mark": "in line"}`.
 * @param {TypedReading} typed
 * @param {readonly string[]} units of the figure's kind
 * @returns {Document}
 * @throws {QuantityError} it is empty, not a plain number, or without a side; the message says what to type
 */
export function typedValue({ text, unit, side }, units) {
  if (isWords(unit)) {
    const words = text.trim().replace(/\s+/g, " ");
    if (!words) throw new QuantityError("it is empty: write what you see, in your own words");
    return { [unit]: words };
  }
  const plain = asPlain(text);
  const sided = takesSides(units);
  if (sided && isCentre(plain)) return { tdc: "0" };
  if (!plain) throw new QuantityError(`it is empty: type ${sided ? "degrees, such as 22.5" : "a number"} first`);
  const depth = isDepth({ text, unit, side }, units);
  const about = sided && !depth ? null : UNITS.get(unit);
  const { value, text: digits } = readNumber(plain, {
    fractions: about?.fractions ?? false,
    signed: about?.signed ?? false,
  });
  if (!sided) return { [unit]: digits };
  if (!value.sign()) return { tdc: "0" };
  if (!depth && value.toNumber() > 90)
    throw new QuantityError(
      `${digits} degrees cannot be right: a reading of the light lies within 90 of top dead centre; type it again`,
    );
  if (!side) throw new QuantityError(`choose before TDC or after TDC for ${digits}`);
  return { [side]: depth ? { [unit]: digits } : digits };
}

/**
 * The number keys; each types into the box that `box` returns.
 * @param {() => HTMLInputElement} box
 * @param {boolean} fractions whether `7/64` can be typed
 */
export function digitKeys(box, fractions) {
  const press = (/** @type {string} */ mark) => () => {
    const into = box();
    into.value = mark ? (into.value + mark).slice(0, LONGEST.number) : into.value.slice(0, -1);
    into.dispatchEvent(new Event("input", { bubbles: true }));
  };
  const digit = (/** @type {string} */ mark, label = mark, typed = mark) =>
    key(mark, press(typed), { class: "digit", "aria-label": label });
  return element(
    "div",
    { class: fractions ? "digits seven" : "digits", role: "group", "aria-label": "Number keys" },
    ...[..."12345"].map((mark) => digit(mark)),
    digit(".", "point"),
    ...(fractions ? [digit("/", "over")] : []),
    ...[..."67890"].map((mark) => digit(mark)),
    digit("⌫", "take the last one back", ""),
    ...(fractions ? [digit("␣", "and, as in 1 1/4", " ")] : []),
  );
}

/**
 * The box with the keys for its side, the number keys, and the choice of the unit.
 * @param {string} id unique on the screen
 * @param {string} label
 * @param {readonly string[]} units
 * @param {TypedReading} typed changed in place as keys are pressed
 * @param {boolean} depth whether a crank position may be typed as a depth too
 * @param {() => unknown} changed called after each change of unit, which may need other keys
 */
export function numberPad(id, label, units, typed, depth, changed) {
  const words = isWords(typed.unit);
  const sided = takesSides(units);
  const fractions = (!sided || isDepth(typed, units)) && UNITS.get(typed.unit)?.fractions;
  const box = element("input", {
    id,
    type: "text",
    class: "reading-box",
    autocomplete: "off",
    spellcheck: "false",
    inputmode: words ? "text" : "none",
    maxlength: String(words ? LONGEST.words : LONGEST.number),
  });
  if (!(box instanceof HTMLInputElement)) throw new TypeError("no box");
  box.value = typed.text;
  const take = () => {
    typed.text = box.value;
  };
  box.addEventListener("input", take);
  const choose = (/** @type {string} */ side) => {
    typed.side = side;
  };
  const unitWords = (/** @type {string} */ unit) => WORDS.get(unit) ?? UNITS.get(unit)?.symbol ?? unit;
  const named = sided
    ? PLACES.filter(([unit]) => depth || unit === "deg")
    : units.map((unit) => /** @type {const} */ ([unit, unitWords(unit)]));
  const suffix = isWords(typed.unit) ? "" : (named.find(([unit]) => unit === typed.unit)?.[1] ?? "");
  const row = element(
    "div",
    { class: sided ? "pad sided" : "pad" },
    element("label", { for: id }, label, suffix ? `, ${suffix}` : ""),
    box,
    sided && choice(`${id}-side`, "Side", SIDE_CHOICES, typed.side, choose, "bare"),
  );
  const unit =
    named.length > 1
      ? choice(
          `${id}-unit`,
          "Unit",
          named,
          typed.unit,
          (chosen) => {
            typed.unit = chosen;
            changed();
          },
          "aside",
        )
      : null;
  return { row, unit, digits: words ? null : digitKeys(() => box, Boolean(fractions)) };
}
