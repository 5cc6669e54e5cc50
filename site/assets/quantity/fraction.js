/** Exact fractions on whole numbers of any size, for all that a figure, a target or a verdict comes to. */

import { NumberNotPlain } from "../errors.js";

/**
 * @param {bigint} one
 * @param {bigint} other
 * @returns {bigint} the greatest common divisor, not negative
 */
function common(one, other) {
  let [left, right] = [one < 0n ? -one : one, other < 0n ? -other : other];
  while (right) [left, right] = [right, left % right];
  return left;
}

/**
 * Whole-number division toward less, as on the number line.
 * @param {bigint} top
 * @param {bigint} bottom positive
 */
export function floorDivide(top, bottom) {
  const quotient = top / bottom;
  return top < 0n && quotient * bottom !== top ? quotient - 1n : quotient;
}

/** An exact fraction in its lowest terms, its lower part positive; frozen. */
export class Fraction {
  /** @param {bigint} top @param {bigint} bottom not zero */
  constructor(top, bottom = 1n) {
    if (!bottom) throw new RangeError("a fraction cannot have zero below its line");
    const shared = common(top, bottom) * (bottom < 0n ? -1n : 1n);
    this.top = top / shared;
    this.bottom = bottom / shared;
    Object.freeze(this);
  }

  /**
   * A fraction from a number (exactly the number that it is, to the last place), a whole number, or text such as
   * `-7/4` or `25.4`.
   * @param {number | bigint | string | Fraction} value
   * @returns {Fraction}
   */
  static of(value) {
    if (value instanceof Fraction) return value;
    if (typeof value === "bigint") return new Fraction(value);
    return typeof value === "number" ? fromNumber(value) : fromText(value);
  }

  /** @param {Fraction} other */
  plus(other) {
    return new Fraction(this.top * other.bottom + other.top * this.bottom, this.bottom * other.bottom);
  }

  /** @param {Fraction} other */
  minus(other) {
    return new Fraction(this.top * other.bottom - other.top * this.bottom, this.bottom * other.bottom);
  }

  /** @param {Fraction} other */
  times(other) {
    return new Fraction(this.top * other.top, this.bottom * other.bottom);
  }

  /** @param {Fraction} other not zero */
  over(other) {
    return new Fraction(this.top * other.bottom, this.bottom * other.top);
  }

  negative() {
    return new Fraction(-this.top, this.bottom);
  }

  size() {
    return this.top < 0n ? this.negative() : this;
  }

  /** -1, 0 or 1. */
  sign() {
    return this.top < 0n ? -1 : this.top > 0n ? 1 : 0;
  }

  /** @param {Fraction} other @returns {number} negative, zero or positive as this is less, equal or more */
  compare(other) {
    const [left, right] = [this.top * other.bottom, other.top * this.bottom];
    return left < right ? -1 : left > right ? 1 : 0;
  }

  /** @param {Fraction} other */
  equals(other) {
    return this.top === other.top && this.bottom === other.bottom;
  }

  /** @param {Fraction} other */
  below(other) {
    return this.compare(other) < 0;
  }

  /** @param {Fraction} other */
  above(other) {
    return this.compare(other) > 0;
  }

  /** @param {Fraction} other */
  least(other) {
    return this.compare(other) <= 0 ? this : other;
  }

  /** @param {Fraction} other */
  most(other) {
    return this.compare(other) >= 0 ? this : other;
  }

  isWhole() {
    return this.bottom === 1n;
  }

  /** The nearest number, halves to even: the same that a division without any error rounds to. */
  toNumber() {
    const size = this.top < 0n ? -this.top : this.top;
    if (size <= 9007199254740992n && this.bottom <= 9007199254740992n) return Number(this.top) / Number(this.bottom);
    // 66 binary places or more of the quotient, the last one marking that something was left: enough to round rightly.
    const shift = BigInt(66 + this.bottom.toString(2).length - size.toString(2).length);
    const [scaled, under] = shift > 0n ? [size << shift, this.bottom] : [size, this.bottom << -shift];
    const quotient = (scaled / under) | (scaled % under ? 1n : 0n);
    const number = Number(quotient) * 2 ** -Number(shift);
    return this.top < 0n ? -number : number;
  }

  toString() {
    return this.bottom === 1n ? `${this.top}` : `${this.top}/${this.bottom}`;
  }

  toJSON() {
    return this.toString();
  }
}

/** @param {number} value */
function fromNumber(value) {
  if (!Number.isFinite(value)) throw new RangeError(`${value} is not a finite number`);
  let [size, places] = [value, 0];
  while (!Number.isInteger(size)) [size, places] = [size * 2, places + 1];
  return new Fraction(BigInt(size), 1n << BigInt(places));
}

/** @param {string} text */
function fromText(text) {
  const found = /^(-?)([0-9]+)(?:\.([0-9]+)|\/([0-9]+))?$/.exec(text);
  if (!found || /^0+$/.test(found[4] ?? "1")) throw new NumberNotPlain(`'${text.slice(0, 40)}' is not a fraction`);
  const [, minus = "", whole = "0", decimals = "", bottom = "1"] = found;
  const top = BigInt(whole + decimals) * (minus ? -1n : 1n);
  return new Fraction(top, decimals ? 10n ** BigInt(decimals.length) : BigInt(bottom));
}

export const ZERO = new Fraction(0n);
export const ONE = new Fraction(1n);
export const HALF = new Fraction(1n, 2n);
