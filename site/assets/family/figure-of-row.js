/** A row of a page document as a figure that can be aimed at and judged, and its correction. */

import { CORRECTION } from "../book/catalogue.js";
import { figureRows } from "./engine-rows.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./engine-rows.js").FigureRows} FigureRows */

/** The parts of a family that a target needs. @type {readonly string[]} */
const PARTS = ["engine", "flywheel", "adjusters"];

/**
 * The rows of one kind of figure for an engine with this serial number; for any engine without one.
 * @param {Document} page
 * @param {string} figure
 * @param {string} serial
 * @returns {FigureRows[]}
 * @throws {SerialFitsNone} the serial number is in no range of the family
 */
export function figureRowsOf(page, figure, serial) {
  const found = page["figures"].find((/** @type {Document} */ one) => one["id"] === figure);
  return found ? figureRows(page, found, serial) : [];
}

/**
 * A statement of the document, from its list in a row.
 * @param {Document} page
 * @param {string} figure
 * @param {any[]} one
 */
export function citedOf(page, figure, [number, role = "counts", reason = ""]) {
  const held = page["figures"].find((/** @type {Document} */ one) => one["id"] === figure)["cited"][number];
  const [printed = "", also = [], state = "", conditions = "", only = "", source = 0, paper = "", note = ""] = held;
  return {
    printed,
    also,
    state,
    conditions,
    only,
    source: page["sources"][source] ?? "",
    page: paper,
    note,
    role,
    reason,
  };
}

/** The place of a statement: the source's id and the page. @param {{source: string, page: string}} cited */
const whereOf = ({ source, page }) => (page ? `${source} page ${page}` : source);

/** The parts of a row that make a figure. @typedef {Pick<FigureRows, "figure" | "row" | "statements">} FigureParts */

/**
 * Where a row's value stands: the first statement that counts and prints it, or all on which sources agreed; of a value
 * that was worked out, the first of what it came from.
 * @param {Document} page
 * @param {FigureParts} told
 */
function placeOf(page, { figure, row, statements }) {
  const counting = statements.map((one) => citedOf(page, figure, one)).filter(({ role }) => role === "counts");
  const printing = counting.find(({ printed }) => printed === row["printed"] || row["working"]?.length);
  return (printing ? [printing] : counting).map(whereOf).join(" and ");
}

/**
 * The sources of a row: the titles of those that count, with their pages.
 * @param {Document} page
 * @param {Document} shared
 * @param {FigureParts} told
 */
export function sourceWords(page, shared, { figure, statements }) {
  const cited = statements.map((one) => citedOf(page, figure, one));
  const counting = cited.filter(({ role }) => role === "counts");
  const said = (counting.length ? counting : cited.slice(0, 1)).map(({ source, page: paper }) => {
    const title = shared["sources"][source]?.title ?? source;
    return paper ? `${title}, page ${paper}` : title;
  });
  return said.join("; ");
}

/**
 * A row with an answer, as a figure.
 * @param {Document} page
 * @param {Document} kinds the kinds of figure by id
 * @param {FigureParts} told
 * @returns {import("../book/window.js").Figure}
 */
export function figureOf(page, kinds, told) {
  const { figure, row } = told;
  const parts = Object.fromEntries(PARTS.flatMap((name) => (page[name] ? [[name, page[name]]] : [])));
  return {
    figure,
    label: kinds[figure].label,
    family: page["id"],
    state: row["state"],
    printed: row["printed"],
    value: row["value"],
    kind: kinds[figure],
    ...parts,
    cited: placeOf(page, told),
    working: row["working"] ?? [],
    remarks: row["remarks"] ?? [],
  };
}

/**
 * The correction that holds for every engine this may be, or why it is unknown.
 * @param {Document} page
 * @param {Document} kinds
 * @param {string} serial
 * @returns {import("../book/when-running.js").Corrected}
 */
export function correctionOf(page, kinds, serial) {
  const label = kinds[CORRECTION]?.label ?? "Cranking correction";
  const what = `${label.toLowerCase()} of ${page["id"]}`;
  const told = figureRowsOf(page, CORRECTION, serial);
  const [only] = told;
  if (!only) return { unknown: `unknown: no figure is published for the ${what}` };
  if (told.some(({ depends }) => depends.length)) {
    return { unknown: `unknown: ${what} differs by ${serial ? "year" : "serial number"}; say yours` };
  }
  if (told.length > 1) return { unknown: `unknown: ${what} differs by condition; say which` };
  const { row } = only;
  if (row["problem"] !== undefined) return { unknown: `unknown: ${row["words"]}` };
  const value = row["value"];
  const known = value && ("by_rpm" in value || "cranking_earlier" in value || "cranking_later" in value);
  if (!known) return { unknown: `unknown: ${label.toLowerCase()} is ${row["printed"]}` };
  return { value, conditions: row["conditions"] ?? "", cited: placeOf(page, only) };
}
