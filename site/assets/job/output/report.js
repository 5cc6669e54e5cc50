/** The report of a job: a document of schema/report.json, its file for specs/reports, and what is still missing. */

import { CORRECTION } from "../../book/catalogue.js";
import { readFit, requireFit } from "../../book/engine-kinds.js";
import { QuantityError, SerialFitsNone } from "../../errors.js";
import { Fraction } from "../../quantity/fraction.js";
import { plain } from "../../quantity/spoken.js";
import { SIDES } from "../../vocabulary.js";
import { overrideWords, standingOverrides } from "../log/record.js";
import { isReadByPointer, LONGEST_TEXT } from "../log/report-value.js";
import { isAdrift, trueValue } from "../reading/as-left.js";
import { ToldBy } from "../twins.js";
import { angleKeys } from "./reported-angle.js";
import { bracketed, whole, words } from "./yaml-text.js";

/** @typedef {import("../log/record.js").JobRecord} JobRecord */
/** @typedef {import("../log/record.js").JobReading} JobReading */
/** @typedef {Readonly<Record<string, any>>} Document */

/**
 * `by` initials; `on` the day, as 2026-03-02; `shared` the shared document (its figures name the allowed units, states
 * and conditions); `page` the family's page document, if at hand: it says which engines it is for.
 * @typedef {{readonly by: string, readonly on: string, readonly shared: Document, readonly page?: Document}} ReportDetails
 */
/**
 * What is missing from a report, in words; without what is `needed` it is not a report.
 * @typedef {{readonly text: string, readonly needed: boolean}} Missing
 */

const WORDY = new Set(["mark", "code", "serial"]);

/**
 * The report of a job: readings as found; as left, the last under the same conditions, and this engine's own
 * correction.
 * @param {JobRecord} record
 * @param {ReportDetails} asked
 * @returns {Document}
 */
export function reportOf(record, asked) {
  return made(record, asked).document;
}

/**
 * What is missing from the report of a job, what is needed first.
 * @param {JobRecord} record
 * @param {ReportDetails} asked
 * @returns {Missing[]}
 */
export function missingFrom(record, asked) {
  return made(record, asked).lacks.sort((one, other) => Number(other.needed) - Number(one.needed));
}

/** @param {JobRecord} record @param {ReportDetails} asked @returns {{document: Document, lacks: Missing[]}} */
function made(record, { by, on, shared, page }) {
  const figures = shared?.["figures"];
  if (!figures)
    throw new QuantityError("a report wants the shared document, shared.json, to know what each figure may be read in");
  /** @type {Missing[]} */
  const lacks = [];
  /** @param {string} text @param {boolean} [needed] */
  const lack = (text, needed = false) => void lacks.push({ text, needed });
  const initials = fitting(by, "Who did it", lack);
  const engine = engineOf(record, page, lack);
  if (record.which?.answer === ToldBy.NOTHING)
    lack("Nothing told which of its twins this engine is, so no report can say what it is of.", true);
  if (!initials) lack("Your initials are missing: who did the job?", true);
  if (!isDay(on)) lack(`The day is missing: write it as 2026-03-02${on ? `, not ${on.slice(0, 20)}` : ""}.`, true);
  const found = reportReadings(record, "found", figures, lack);
  const left = reportReadings(record, "left", figures, lack);
  const override = fitting(standingOverrides(record).map(overrideWords).join("; "), "The override", lack);
  const ran = fitting(record.ran, "How it ran", lack);
  const note = fitting(record.notes.map((one) => one.text.trim()).join("; "), "The notes together", lack);
  if (!Object.keys(found).length) lack("Nothing was noted as found.");
  if (!Object.keys(left).length) lack("Nothing was noted as left: only what was read after locking is.");
  if (!ran) lack("How it ran is missing.");
  const readings = [...record.found.values(), ...record.left.values()].flat();
  if (readings.some(({ value, pointer, adrift }) => pointer === null && !adrift && isReadByPointer(value))) {
    lack("The pointer was not checked at true top dead centre: angles are given as it showed them.");
  }
  const document = {
    ...(record.invented ? { invented: true } : {}),
    ...(override ? { override } : {}),
    by: initials,
    on,
    ...(engine ? { engine } : {}),
    ...(Object.keys(found).length ? { as_found: found } : {}),
    ...(Object.keys(left).length ? { as_left: left } : {}),
    ...(ran ? { ran } : {}),
    ...(note ? { note } : {}),
  };
  return { document, lacks };
}

/** @param {string} on */
function isDay(on) {
  const then = /^[0-9]{4}-[0-9]{2}-[0-9]{2}$/.test(on) ? new Date(`${on}T00:00:00Z`) : null;
  return then !== null && !Number.isNaN(then.getTime()) && then.toISOString().startsWith(on);
}

/**
 * @param {JobRecord} record
 * @param {Document | undefined} page
 * @param {(text: string, needed?: boolean) => void} lack
 */
function engineOf({ family, serial, year }, page, lack) {
  if (!serial && !year) lack("Neither the serial number nor the year of the engine is given.");
  const fits = (page?.["fits"] ?? []).map(readFit);
  try {
    if (serial) requireFit(family, fits, serial);
  } catch (error) {
    if (!(error instanceof SerialFitsNone)) throw error;
    lack(`${error.message}; read the plate again, or start a job on the family it belongs to.`, true);
  }
  /** @param {import("../../book/engine-kinds.js").Fit} fit */
  const holds = ({ years }) =>
    !years || (Number(years.first ?? 0) <= Number(year) && Number(year) <= Number(years.last ?? 9999));
  if (year && fits.length && !fits.some(holds)) {
    lack(`No range of ${family} holds the year ${year}; correct it, or start a job on the family it belongs to.`, true);
  }
  const engine = { ...(serial ? { serial } : {}), ...(year ? { year } : {}) };
  return serial || year ? engine : null;
}

/**
 * Words cut to the length that a report may have.
 * @param {string} said
 * @param {string} what
 * @param {(text: string) => void} lack
 */
function fitting(said, what, lack) {
  const text = whole(said.trim());
  const letters = [...text]; // the schema and the reader count code points
  if (letters.length <= LONGEST_TEXT) return text;
  lack(
    `${what} has ${letters.length} characters and a report takes ${LONGEST_TEXT}: the rest is left out of it, and stays in the job.`,
  );
  return `${letters
    .slice(0, LONGEST_TEXT - 1)
    .join("")
    .trimEnd()}…`;
}

/**
 * The readings of a job by figure, in the order of the job, angles corrected for the pointer; what the catalogue does
 * not allow is left out, and `lack` says so.
 * @param {JobRecord} record
 * @param {"found" | "left"} when
 * @param {Document} figures
 * @param {(text: string) => void} lack
 */
function reportReadings(record, when, figures, lack) {
  const lists = record[when];
  /** @type {Record<string, Document[]>} */
  const told = {};
  for (const [figure, kind] of Object.entries(figures)) {
    /** @type {Map<string, Document>} */
    const last = new Map();
    for (const read of lists.get(figure) ?? []) {
      const reading = { ...read, value: trueValue(read.value, read.pointer), angle: angleKeys(read) };
      const why = isAdrift(read) ? "the pointer was moved, and the contacts not read again" : notAllowed(reading, kind);
      if (why) {
        lack(`A reading of ${figure} as ${when} is left out: ${why}.`);
        continue;
      }
      const { place, written } = statementOf(reading, kind);
      if (when === "left") last.delete(place); // the later one counts, in its place
      if (!last.has(place)) last.set(place, written);
    }
    if (last.size) told[figure] = [...last.values()];
  }
  const unknown = [...lists.keys()].filter((figure) => !Object.hasOwn(figures, figure));
  if (unknown.length) lack(`Readings of ${unknown.join(", ")} are left out: the catalogue has no such figure.`);
  const own = when === "left" && record.correction ? correctionOf(record.correction) : null;
  if (own && Object.hasOwn(figures, CORRECTION)) told[CORRECTION] = [own];
  return told;
}

/** @param {JobReading} reading @param {Document} kind @returns {string} why not; empty if it is allowed */
function notAllowed({ value, state, conditions, cylinder }, kind) {
  const units = Object.keys(value);
  const straddles = units.includes("from");
  const wanted = straddles ? SIDES.slice(0, 2) : units;
  if (!wanted.every((unit) => kind["units"].includes(unit)))
    return `it is not read in ${units.join(", ")} but in ${kind["units"].join(", ")}`;
  if (!state && kind["states"].length > 1) return `its state is missing, one of ${kind["states"].join(", ")}`;
  if (state && !kind["states"].includes(state)) return `it is not read ${state} but ${kind["states"].join(", ")}`;
  const odd = Object.keys({ ...conditions, ...(cylinder ? { cylinder } : {}) }).filter(
    (key) => !(kind["at"] ?? []).includes(key),
  );
  return odd.length ? `it does not depend on ${odd.join(", ")}; say that in a note` : "";
}

/** @param {JobReading & {readonly angle: Document}} reading @param {Document} kind */
function statementOf({ value, state, conditions, cylinder, angle }, kind) {
  const at = { ...conditions, ...(cylinder ? { cylinder } : {}) };
  const more = { ...(state && kind["states"].length > 1 ? { state } : {}), ...(Object.keys(at).length ? { at } : {}) };
  const place = JSON.stringify([more.state, Object.entries(at).sort()]);
  return { place, written: { ...wholeWords(value), ...more, ...angle } };
}

/** @param {Document} value */
const wholeWords = (value) =>
  Object.fromEntries(Object.entries(value).map(([key, said]) => [key, WORDY.has(key) ? whole(said) : said]));

/**
 * The correction: how much earlier or later it reads while cranking.
 * @param {NonNullable<JobRecord["correction"]>} measured
 */
function correctionOf({ cranking, running, rpm }) {
  const difference = Fraction.of(cranking).minus(Fraction.of(running));
  const side = difference.sign() < 0 ? "cranking_later" : "cranking_earlier";
  return { [side]: plain(difference, 9), ...(rpm ? { at: { rpm } } : {}) };
}

/**
 * The path of a report's file.
 * @param {JobRecord} record
 * @param {Document} report
 */
export function reportPath(record, report) {
  const engine = report["engine"]?.serial ?? record.id.slice(0, 8);
  const slug = `${report["by"]} ${engine}`
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");
  return `specs/reports/${record.family}/${report["on"]}-${slug}.yaml`;
}

/**
 * A report as the text of its file.
 * @param {Document} report
 * @returns {string}
 */
export function reportYaml(report) {
  const lines = ["# yaml-language-server: $schema=../../../../schema/report.json"];
  if (report["invented"]) lines.push("invented: true");
  if (report["override"]) lines.push(`override: ${words(report["override"])}`);
  lines.push(`by: ${words(report["by"])}`, `on: ${report["on"]}`);
  if (report["engine"]) lines.push(`engine: ${bracketed(report["engine"], WORDY)}`);
  for (const key of ["as_found", "as_left"]) {
    if (!report[key]) continue;
    lines.push(`${key}:`);
    for (const [figure, readings] of Object.entries(report[key])) {
      lines.push(`  ${figure}:`, ...readings.map((/** @type {Document} */ one) => `    - ${bracketed(one, WORDY)}`));
    }
  }
  for (const key of ["ran", "note"]) if (report[key]) lines.push(`${key}: ${words(report[key])}`);
  return `${lines.join("\n")}\n`;
}
