/** What engines ran at, as dots beside the printed window: places on a strip of 300 steps, and the same in words. */

import { QuantityError } from "../errors.js";
import { Fraction, ONE } from "../quantity/fraction.js";
import { readQuantity } from "../quantity/quantity.js";

/** @typedef {Readonly<Record<string, any>>} Document */

const WIDE = Fraction.of(300);

/** A typed value as a quantity; nothing where it is none. @param {Document} typed */
export function quantityOf(typed) {
  try {
    return readQuantity(typed);
  } catch (error) {
    if (error instanceof QuantityError) return null;
    throw error;
  }
}

/**
 * One strip, or none where nobody reported what an engine of this family was left at in that state. Larger values, and
 * for an angle earlier ones, lie to the right.
 * @param {Document} page
 * @param {string} figure
 * @param {Document} row
 */
export function dotsOf(page, figure, row) {
  const printed = row["value"] && !("by_rpm" in row["value"]) ? quantityOf(row["value"]) : null;
  const readings = page["reports"].flatMap((/** @type {Document} */ report) =>
    (report["left"][figure] ?? []).flatMap((/** @type {Document} */ one) => {
      const alike = one["state"] === row["state"] && (one["conditions"] ?? "") === (row["conditions"] ?? "");
      const value = alike && one["value"] ? quantityOf(one["value"]) : null;
      if (!value?.low || value.unit !== printed?.unit) return [];
      return [{ value: value.low, words: `${one["printed"]} on ${report["on"]}`, ran: report["ran"] ?? "" }];
    }),
  );
  const [start, end] = [printed?.low, printed?.high];
  if (!printed || !start || !end || !readings.length) return [];
  /** @type {Fraction[]} */
  const values = readings.map((/** @type {{value: Fraction}} */ { value }) => value);
  const low = values.reduce((one, other) => one.least(other), start);
  const high = values.reduce((one, other) => one.most(other), end);
  const spread = high.minus(low).over(Fraction.of(4));
  const room = spread.sign() ? spread : ONE;
  const first = low.minus(room);
  const whole = high.minus(low).plus(room).plus(room);
  const place = (/** @type {Fraction} */ value) => {
    const at = value.minus(first).times(WIDE).over(whole);
    return Number(at.top / at.bottom);
  };
  return [{
    from: place(start) - 2,
    wide: place(end) - place(start) + 4,
    printed: String(printed),
    points: values.map((value) => ({ x: place(value) })),
    said: readings.map((/** @type {{words: string, ran: string}} */ { words, ran }) => ({ words, ran })),
  }];
}
