/**
 * Twins in a job: whether it is told which of them the engine is, and what is set where nothing tells. A plate, a cowl and
 * a year may be another engine's; the stamp stays on the powerhead.
 */

import { MAXIMUM } from "../book/catalogue.js";
import { fitsEngine, readFit } from "../book/engine-kinds.js";
import { readQuantity } from "../quantity/quantity.js";
import { DEGREE_OF_CRANK } from "../quantity/unit.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./log/record.js").JobRecord} JobRecord */

/** How an engine was told from its twins. */
export const ToldBy = Object.freeze({ STAMP: "stamp", NOTHING: "nothing" });

/** The twins of a family. @param {Document} page @returns {readonly Document[]} */
export const twinsOf = (page) => page["twins"]?.others ?? [];

/** What stands on a plate, as far as it is known. @param {{serial: string, year: string}} engine */
const plateWords = ({ serial, year }) =>
  [serial && `serial ${serial}`, year && `year ${year}`].filter(Boolean).join(", ");

/**
 * Why the plate's serial number and year are not this family's; empty if they fit, or if it has no twins.
 * @param {Document} page
 * @param {Pick<JobRecord, "serial" | "year">} engine
 */
export function plateMisfit(page, { serial, year }) {
  const twins = twinsOf(page);
  const fits = (/** @type {Document} */ one) => fitsEngine(one["fits"].map(readFit), serial, year);
  if (!twins.length || fits(page)) return "";
  const other = twins.find(fits);
  const whose = other
    ? `that is the ${page["name"]} of ${other["made"] || other["id"]}`
    : "no engine of this name has that";
  return `The plate does not fit: ${plateWords({ serial, year })}; ${whose}.`;
}

/**
 * Whether a job must still be told which of the twins its engine is; no step opens before.
 * @param {Document} page as published
 * @param {JobRecord} record
 */
export function asksWhich(page, record) {
  if (!twinsOf(page).length) return false;
  return !record.which || (record.which.answer === ToldBy.STAMP && plateMisfit(page, record) !== "");
}

/** Which of the twins the engine is, in words; empty until it is told. @param {JobRecord} record */
export function whichWords({ which }) {
  if (!which) return "";
  const plate = plateWords(which);
  if (which.answer === ToldBy.NOTHING)
    return "not told from its twin: the later maximum taken, no target where they differ";
  return `by the stamp${plate ? `; the plate is another engine's: ${plate}` : ""}`;
}

/** The line of a tag or a sheet on a plate that is another engine's; none without such a plate. @param {JobRecord} record */
export const plateLines = (record) =>
  record.which?.answer === ToldBy.STAMP && (record.which.serial || record.which.year)
    ? [/** @type {[string, string]} */ (["which engine", whichWords(record)])]
    : [];

/**
 * What of a plate is another engine's, by what was answered.
 * @param {Document} page
 * @param {JobRecord} record
 * @param {string} answer
 * @returns {{serial?: string, year?: string}}
 */
export function strangePlate(page, { serial, year }, answer) {
  const said = { ...(serial && { serial }), ...(year && { year }) };
  if (answer === ToldBy.NOTHING) return said;
  if (!plateMisfit(page, { serial, year })) return {};
  if (plateMisfit(page, { serial, year: "" })) return plateMisfit(page, { serial: "", year }) ? said : { serial };
  return plateMisfit(page, { serial: "", year }) ? { year } : said;
}

/**
 * The page document that a job goes by: the family's own, or where nothing tells which engine it is one that is safe for
 * all the twins.
 * @param {Document} page
 * @param {JobRecord} record
 * @returns {Document}
 */
export function pageForJob(page, { which }) {
  const twins = twinsOf(page);
  if (!twins.length || which?.answer !== ToldBy.NOTHING) return page;
  const blocks = withoutUnlike(page, twins);
  return {
    ...page,
    ...blocks,
    fits: [],
    figures: page["figures"].map((/** @type {Document} */ one) => ofAll(one, twins)),
  };
}

/** Engine, flywheel and adjusters without what differs. @param {Document} page @param {readonly Document[]} twins */
function withoutUnlike(page, twins) {
  const unlike = /** @type {[string, string][]} */ (twins.flatMap((twin) => twin["unlike"]));
  return Object.fromEntries(
    [...new Set(unlike.map(([block]) => block))].map((block) => {
      const differs = unlike.flatMap(([one, key]) => (one === block ? [key] : []));
      return [block, Object.fromEntries(Object.entries(page[block] ?? {}).filter(([key]) => !differs.includes(key)))];
    }),
  );
}

/** A figure as it holds for all the twins. @param {Document} figure @param {readonly Document[]} twins @returns {Document} */
function ofAll(figure, twins) {
  const others = twins.map((twin) => twin["figures"][figure["id"]]);
  if (others.every((rows) => rows === undefined)) return figure;
  const { parts: _parts, kinds: _kinds, ...alike } = figure;
  /** @type {Map<string, Document[]>} */
  const groups = new Map();
  for (const row of figure["rows"]) groups.set(groupOf(row), [...(groups.get(groupOf(row)) ?? []), row]);
  const rows = [...groups].map(([group, own]) => {
    const theirs = others.map((held) =>
      (held ?? figure["rows"]).filter((/** @type {Document} */ row) => groupOf(row) === group),
    );
    return rowOfAll(figure["id"], own, theirs);
  });
  return { ...alike, rows };
}

/** Only like is compared with like. @param {Document} row */
const groupOf = ({ state, conditions = "" }) => JSON.stringify([state, conditions]);

/**
 * @param {string} figure
 * @param {readonly Document[]} own
 * @param {readonly (readonly Document[])[]} theirs
 * @returns {Document}
 */
function rowOfAll(figure, own, theirs) {
  const every = [...own, ...theirs.flat()];
  const printed = [...new Set(every.map((row) => row["printed"] ?? "no single number"))];
  const complete =
    theirs.every((rows) => rows.length > 0) && every.every((row) => row["value"] !== undefined || row["printed"]);
  const { in: _in, problem: _problem, ...first } = own[0] ?? {};
  if (complete && printed.length === 1) return own[0]?.["problem"] === undefined ? first : (own[0] ?? {});
  const latest = complete && figure === MAXIMUM ? latestOf(every) : null;
  const { state, at, conditions } = own[0] ?? {};
  const row = { state, ...(at ? { at } : {}), ...(conditions ? { conditions } : {}), statements: [] };
  const either = [...printed, ...(complete ? [] : ["no such figure"])].join(" or ");
  const words = `the twins have ${either}, and nothing tells which engine this is`;
  if (!latest) return { ...row, problem: "TwinsDiffer", words, candidates: [] };
  return { ...row, printed: latest["printed"], value: latest["value"], remarks: [`The later is taken: ${words}`] };
}

/**
 * The row of the latest maximum; null where one is not in degrees or has no early end.
 * @param {readonly Document[]} rows
 */
function latestOf(rows) {
  /** @type {{row: Document, high: import("../quantity/fraction.js").Fraction} | null} */
  let latest = null;
  for (const row of rows) {
    const read = row["value"] ? readQuantity(row["value"]) : null;
    if (read?.unit !== DEGREE_OF_CRANK || !read.high) return null;
    if (!latest || latest.high.above(read.high)) latest = { row, high: read.high };
  }
  return latest?.row ?? null;
}
