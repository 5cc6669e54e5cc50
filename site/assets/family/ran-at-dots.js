/** The settings at which engines ran, as dots on a strip of 300 steps beside the printed window, and in words. */

import { QuantityError } from "../errors.js";
import { Fraction, ONE } from "../quantity/fraction.js";
import { readQuantity } from "../quantity/quantity.js";
import { convert } from "../quantity/unit.js";
import { wasOneOf } from "./engine-rows.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {[Document, Document]} ReportedReading a report, and one of its readings as left */

const WIDE = 300;

/** A typed value as a quantity; null if it is not one. @param {Document | undefined} typed */
export function quantityOf(typed) {
  try {
    return typed && !("by_rpm" in typed) ? readQuantity(typed) : null;
  } catch (error) {
    if (error instanceof QuantityError) return null;
    throw error;
  }
}

/**
 * A strip for each printed window with reports; none if no report has a reading as left in this state. If there is no
 * window or no dot to draw, `wide` is 0 and there are only words. Larger values, for angles earlier ones, lie to the
 * right. An angle as shown, or not said to be true, is in words alone. An engine whose serial number does not decide
 * between several windows is shown with none of them.
 * @param {Document} page
 * @param {import("./engine-rows.js").FigureRows} told
 */
export function dotsOf(page, told) {
  const left = page["reports"].length ? leftAt(page, told.figure, told.row) : [];
  if (!left.length) return [];
  const figure = page["figures"].find((/** @type {Document} */ one) => one["id"] === told.figure);
  /** @type {import("./engine-rows.js").EngineRow[]} */
  const rows = told.depends.length ? told.depends : [["", told.row, told.kinds]];
  return rows.flatMap(([engines, row, kinds]) => {
    const readings = left.filter(([report]) => wasOneOf(page, figure, report["serial"] ?? "", kinds));
    return readings.length ? [stripOf(engines, row, readings)] : [];
  });
}

/** @param {Document} page @param {string} figure @param {Document} row @returns {ReportedReading[]} */
function leftAt(page, figure, row) {
  const alike = (/** @type {Document} */ one) =>
    one["state"] === row["state"] && (one["conditions"] ?? "") === (row["conditions"] ?? "");
  return page["reports"].flatMap((/** @type {Document} */ report) =>
    (report["left"][figure] ?? []).filter(alike).map((/** @type {Document} */ one) => [report, one]),
  );
}

/** A reading, with the doubt whether it is true. @param {Document} one */
const printedOf = ({ printed, doubt }) => (doubt ? `${printed} (${doubt})` : printed);

/** A reading with a question mark if it may not be the true angle; the words below say why. @param {Document} one */
const brieflyOf = ({ printed, doubt }) => `${printed}${doubt ? "?" : ""}`.replaceAll(" of piston travel", " travel");

/** @param {string} engines @param {Document} row @param {ReportedReading[]} readings */
function stripOf(engines, row, readings) {
  const said = readings.map(([report, one]) => ({
    words: `${printedOf(one)} on ${report["on"]}`,
    ran: report["ran"] ?? "",
  }));
  const ranAt = [...new Set(readings.map(([, one]) => brieflyOf(one)))].join(", ");
  /** @type {{x: number}[]} */
  const points = [];
  const bare = { engines, printed: row["printed"] ?? "", ran_at: ranAt, said, from: 0, wide: 0, points };
  const window = quantityOf(row["value"]);
  if (!window) return bare;
  const values = readings.flatMap(([, one]) => {
    const value = one["doubt"] ? null : quantityOf(one["value"]);
    return value?.low && value.unit.dimension === window.unit.dimension
      ? [convert(value.low, value.unit, window.unit)]
      : [];
  });
  if (!values.length) return bare;
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
  // A bound is open on one side: its block reaches the end of the strip.
  const [start, end] = [first ? place(first) - 2 : 0, last ? place(last) + 2 : WIDE];
  return { ...bare, from: start, wide: end - start, points: values.map((value) => ({ x: place(value) })) };
}
