/** What engines ran at, as dots beside the printed window: places on a strip of 300 steps, and the same in words. */

import { QuantityError } from "../errors.js";
import { Fraction, ONE } from "../quantity/fraction.js";
import { readQuantity } from "../quantity/quantity.js";
import { convert } from "../quantity/unit.js";
import { wasOneOf } from "./engine-rows.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {[Document, Document]} Reading a report, and one of the readings that it left */

const WIDE = 300;

/** A typed value as a quantity; nothing where it is none. @param {Document | undefined} typed */
export function quantityOf(typed) {
  try {
    return typed && !("by_rpm" in typed) ? readQuantity(typed) : null;
  } catch (error) {
    if (error instanceof QuantityError) return null;
    throw error;
  }
}

/**
 * A strip for each printed window that reports can be held against; none where nobody reported what an engine of this
 * family was left at in that state. Without a window to draw, its `wide` is nought and the words stand alone. Larger
 * values, and for an angle earlier ones, lie to the right. An engine whose serial number does not tell which of several
 * windows is its own stands beside none of them.
 * @param {Document} page
 * @param {import("./engine-rows.js").Told} told
 */
export function dotsOf(page, told) {
  const left = page["reports"].length ? leftAt(page, told.figure, told.row) : [];
  if (!left.length) return [];
  const figure = page["figures"].find((/** @type {Document} */ one) => one["id"] === told.figure);
  /** @type {import("./engine-rows.js").Own[]} */
  const rows = told.depends.length ? told.depends : [["", told.row, told.kinds]];
  return rows.flatMap(([engines, row, kinds]) => {
    const readings = left.filter(([report]) => wasOneOf(page, figure, report["serial"] ?? "", kinds));
    return readings.length ? [stripOf(engines, row, readings)] : [];
  });
}

/** @param {Document} page @param {string} figure @param {Document} row @returns {Reading[]} */
function leftAt(page, figure, row) {
  const alike = (/** @type {Document} */ one) =>
    one["state"] === row["state"] && (one["conditions"] ?? "") === (row["conditions"] ?? "");
  return page["reports"].flatMap((/** @type {Document} */ report) =>
    (report["left"][figure] ?? []).filter(alike).map((/** @type {Document} */ one) => [report, one]),
  );
}

/** @param {string} engines @param {Document} row @param {Reading[]} readings */
function stripOf(engines, row, readings) {
  const said = readings.map(([report, one]) => ({
    words: `${one["printed"]} on ${report["on"]}`,
    ran: report["ran"] ?? "",
  }));
  const ranAt = [...new Set(readings.map(([, one]) => one["printed"]))]
    .join(", ")
    .replaceAll(" of piston travel", " travel");
  /** @type {{x: number}[]} */
  const points = [];
  const bare = { engines, printed: row["printed"] ?? "", ran_at: ranAt, said, from: 0, wide: 0, points };
  const window = quantityOf(row["value"]);
  if (!window) return bare;
  const values = readings.flatMap(([, one]) => {
    const value = quantityOf(one["value"]);
    return value?.low && value.unit.dimension === window.unit.dimension
      ? [convert(value.low, value.unit, window.unit)]
      : [];
  });
  const { low: first, high: last } = window;
  const all = [first, last, ...values].filter((end) => end !== null);
  const [low, high] = [all.reduce((one, other) => one.least(other)), all.reduce((one, other) => one.most(other))];
  const spread = high.minus(low).over(Fraction.of(4));
  const room = spread.sign() ? spread : ONE;
  const whole = high.minus(low).plus(room).plus(room);
  const place = (/** @type {Fraction} */ value) => {
    const at = value.minus(low.minus(room)).times(Fraction.of(WIDE)).over(whole);
    return Number(at.top / at.bottom);
  };
  // A bound is open on one side: its block goes on to the strip's end.
  const [start, end] = [first ? place(first) - 2 : 0, last ? place(last) + 2 : WIDE];
  return { ...bare, from: start, wide: end - start, points: values.map((value) => ({ x: place(value) })) };
}
