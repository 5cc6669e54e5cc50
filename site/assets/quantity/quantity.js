/** Quantities as printed: one unit, a nominal or a window or a bound, and for a crank angle its side. */

import { QuantityError, WindowInverted } from "../errors.js";
import { Fraction, ONE } from "./fraction.js";
import { decimalStep, readNumber, roundToStep, writeNumber } from "./number.js";
import { convert, DEGREE_OF_CRANK, PISTON_IN, PISTON_MM, unitOf } from "./unit.js";

/** @typedef {import("./unit.js").Unit} Unit */
/** @typedef {import("./number.js").PrintedNumber} PrintedNumber */
/** @typedef {import("./number.js").Toward} Toward */
/** @typedef {"btdc" | "atdc" | "tdc"} Side */
/** @typedef {"nominal" | "window" | "at_least" | "at_most" | "tolerance"} Form */

/** @type {Readonly<Record<Side, string>>} */
const SIDES = { btdc: "BTDC", atdc: "ATDC", tdc: "TDC" };
const SIDED = new Set(["crank-angle", "piston-position"]);
const BESIDE = new Set(["°", ":1"]);

/** A printed value. Crank angles and piston positions are signed inside, before top dead centre positive. */
export class Quantity {
  /**
   * @param {Unit} unit
   * @param {Form} form
   * @param {readonly PrintedNumber[]} numbers in the order of the form: nominal; smaller and larger; the bound; nominal,
   *   plus and minus
   * @param {readonly Side[]} sides one for each end of a straddling window, else one for all, or none
   */
  constructor(unit, form, numbers, sides = []) {
    this.unit = unit;
    this.form = form;
    this.numbers = numbers;
    this.sides = sides;
  }

  /** The printed precision, in the unit: the coarsest of the printed numbers. */
  get step() {
    return this.numbers.map((number) => number.step).reduce((one, other) => one.most(other));
  }

  /** The nominal value, signed for a crank angle; none for a window or a bound. */
  get nominal() {
    return this.form === "nominal" || this.form === "tolerance" ? this.#signed(0) : null;
  }

  /** The smaller end (for a crank angle the later one); none where it is open. */
  get low() {
    return this.#ends()[0];
  }

  /** The larger end (for a crank angle the earlier one); none where it is open. */
  get high() {
    return this.#ends()[1];
  }

  /** @param {number} index */
  #signed(index) {
    const value = this.#number(index);
    return this.sides[Math.min(index, this.sides.length - 1)] === "atdc" ? value.negative() : value;
  }

  /** @param {number} index */
  #number(index) {
    const number = this.numbers[index];
    if (!number) throw new QuantityError("a number is missing");
    return number.value;
  }

  /** @returns {[Fraction | null, Fraction | null]} */
  #ends() {
    const after = this.sides.at(-1) === "atdc";
    if (this.form === "nominal") return [this.#signed(0), this.#signed(0)];
    if (this.form === "window") {
      const [first, second] = [this.#signed(0), this.#signed(1)];
      return after || this.sides.length === 2 ? [second, first] : [first, second];
    }
    if (this.form === "tolerance") {
      const [low, high] = [this.#number(0).minus(this.#number(2)), this.#number(0).plus(this.#number(1))];
      return after ? [high.negative(), low.negative()] : [low, high];
    }
    return (this.form === "at_least") !== after ? [this.#signed(0), null] : [null, this.#signed(0)];
  }

  /** The value in words, with unit and side, such as `4 to 6° ATDC`; an angle shows no sign. */
  toString() {
    const texts = this.numbers.map((number) => number.text);
    const [first = "", second = "", third = ""] = texts;
    const [side, other] = this.sides;
    if (this.sides.length === 1 && side === "tdc") return "TDC";
    if (other) return `${this.#withUnit(first, side)} to ${this.#withUnit(second, other)}`;
    if (this.form === "window") return this.#withUnit(`${first} to ${second}`, side);
    if (this.form === "at_least") return `at least ${this.#withUnit(first, side)}`;
    if (this.form === "at_most") return `at most ${this.#withUnit(first, side)}`;
    if (this.form !== "tolerance") return this.#withUnit(first, side);
    return this.#withUnit(first + (second === third ? ` ± ${second}` : ` +${second} −${third}`), side);
  }

  /** @param {string} text @param {Side | undefined} side */
  #withUnit(text, side) {
    if (side === "tdc") return "TDC";
    const { symbol, dimension } = this.unit;
    const travel = dimension === "piston-position" ? " of piston travel" : "";
    return `${text}${BESIDE.has(symbol) ? "" : " "}${symbol}${travel}${side ? ` ${SIDES[side]}` : ""}`;
  }
}

/**
 * Read a quantity as a family's file types it, such as `{"btdc": "24"}`, `{"in": ["0.3", "0.4"]}`,
 * `{"psi": {"at_least": "110"}}`, `{"from": {"btdc": "2"}, "to": {"atdc": "3"}}`, `{"btdc": {"in": "0.150"}}`.
 * @param {Readonly<Record<string, any>>} typed
 * @returns {Quantity}
 * @throws {QuantityError} it is no quantity
 */
export function readQuantity(typed) {
  if (typed["from"] && typed["to"]) {
    const [early, late] = [readQuantity(typed["from"]), readQuantity(typed["to"])];
    if (!early.high || !late.low || early.unit !== late.unit) throw new QuantityError("the ends differ in unit");
    if (early.high.below(late.low)) throw new WindowInverted(`from, ${early}, is later than to, ${late}`);
    return new Quantity(early.unit, "window", [...early.numbers, ...late.numbers], [...early.sides, ...late.sides]);
  }
  const [key = "", ...more] = Object.keys(typed);
  if (more.length) throw new QuantityError(`exactly one unit is needed, not ${key}, ${more.join(", ")}`);
  /** @type {any} */
  let raw = typed[key];
  /** @type {Side[]} */
  const sides = key === "btdc" || key === "atdc" || key === "tdc" ? [key] : [];
  let unit = sides.length ? DEGREE_OF_CRANK : unitOf(key);
  const inner = sides.length && typeof raw === "object" && !Array.isArray(raw) ? Object.keys(raw)[0] : "";
  if (inner === "mm" || inner === "in") [unit, raw] = [inner === "mm" ? PISTON_MM : PISTON_IN, raw[inner]];
  const [form, texts] = shapeOf(raw);
  const numbers = texts.map((text, index) =>
    readNumber(text, { fractions: unit.fractions, signed: unit.signed && !(form === "tolerance" && index > 0) }),
  );
  return new Quantity(unit, form, numbers, sides);
}

/** @param {any} raw @returns {[Form, string[]]} */
function shapeOf(raw) {
  if (typeof raw === "string") return ["nominal", [raw]];
  if (Array.isArray(raw) && raw.length === 2) return ["window", raw];
  const { at_least: least, at_most: most, nominal, plus_minus: either } = raw ?? {};
  if (least !== undefined) return ["at_least", [least]];
  if (most !== undefined) return ["at_most", [most]];
  if (nominal !== undefined) return ["tolerance", [nominal, raw.plus ?? either, raw.minus ?? either]];
  throw new QuantityError("write a number, [smaller, larger], at_least, at_most, or nominal with plus_minus");
}

/**
 * A crank angle, or a window, in signed degrees, with no more decimals than it has; rounded toward late.
 * @param {Fraction} low
 * @param {Fraction} [high]
 * @param {Fraction} [finest]
 */
export function plainAngle(low, high = low, finest = new Fraction(1n, 1000n)) {
  const ends = [low, high].map((end) => roundToStep(end, finest, "down"));
  const steps = [ONE, new Fraction(1n, 10n), new Fraction(1n, 100n)];
  const step = steps.find((one) => ends.every((end) => end.over(one).isWhole())) ?? finest;
  return signedQuantity(DEGREE_OF_CRANK, ends[0] ?? low, ends[1] ?? high, step);
}

/**
 * A quantity from its two ends in a unit, printed to a step; equal ends give a nominal. For crank angles and piston
 * positions the ends are signed; the result carries sides and no signs.
 * @param {Unit} unit
 * @param {Fraction} first the smaller
 * @param {Fraction} last
 * @param {Fraction} step
 * @param {Toward} [toward]
 */
export function signedQuantity(unit, first, last, step, toward = "nearest") {
  const fine = decimalStep(step);
  const [low, high] = [roundToStep(first, fine, toward), roundToStep(last, fine, toward)];
  const ends = low.equals(high) ? [low] : [low, high];
  const form = ends.length === 1 ? "nominal" : "window";
  if (!SIDED.has(unit.dimension)) {
    return new Quantity(
      unit,
      form,
      ends.map((end) => writeNumber(end, fine)),
    );
  }
  const written = ends.map((end) => writeNumber(end.size(), fine));
  if (ends.length === 1) {
    return new Quantity(unit, form, written, [low.sign() === 0 ? "tdc" : low.sign() > 0 ? "btdc" : "atdc"]);
  }
  if (low.sign() >= 0) return new Quantity(unit, form, written, ["btdc"]);
  return new Quantity(unit, form, written.reverse(), high.sign() <= 0 ? ["atdc"] : ["btdc", "atdc"]);
}

/**
 * A length in millimetres at its nominal, as a number; null if it is not one length.
 * @param {Readonly<Record<string, any>> | undefined} typed
 */
export function millimetres(typed) {
  const found = typed ? readQuantity(typed) : null;
  return found?.nominal ? convert(found.nominal, found.unit, unitOf("mm")).toNumber() : null;
}

/**
 * The same in another unit of its dimension: exact, then rounded to the printed precision.
 * @param {Quantity} quantity
 * @param {Unit} unit
 */
export function converted(quantity, unit) {
  if (unit === quantity.unit) return quantity;
  const ratio = quantity.unit.factor.over(unit.factor);
  const step = decimalStep(quantity.step.times(ratio));
  const numbers = quantity.numbers.map(({ value }, index) => {
    // Plus and minus are differences: the scale's offset is not theirs.
    const difference = quantity.form === "tolerance" && index > 0;
    return writeNumber(difference ? value.times(ratio) : convert(value, quantity.unit, unit), step);
  });
  return new Quantity(unit, quantity.form, numbers, quantity.sides);
}
