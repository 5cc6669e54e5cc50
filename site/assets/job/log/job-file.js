/** A job as a file: exported on one phone, imported on another. */

import { QuantityError } from "../../errors.js";
import { readEntry } from "./entries.js";
import { inOrder } from "./record.js";
import { excerpt, isMapping } from "./report-value.js";

/** @typedef {import("./entries.js").Entry} Entry */

const VERSION = 2; // 2: whether the pointer was moved or stays
const MARK = "stopscrew_job";
const LARGEST = 2_000_000;
const FIRST_AFTER = "2100"; // no phone's clock shows this year

/**
 * The text of a file with these entries, one per line.
 * @param {Iterable<Entry>} entries
 * @returns {string}
 */
export function exportText(entries) {
  return `{"${MARK}": ${VERSION}, "entries": [\n${inOrder(entries)
    .map((entry) => JSON.stringify(entry))
    .join(",\n")}\n]}\n`;
}

/** The name of the file that a job is exported as. @param {import("./record.js").JobRecord} record */
export const exportFileName = ({ id, family, serial }) =>
  `job-${family.replace("/", "-")}-${serial.replace(/[^A-Za-z0-9]+/g, "-") || id.slice(0, 8)}.json`;

/**
 * The entries of such a file, each checked and each once; all of them or none.
 * @param {string} text
 * @returns {Entry[]}
 * @throws {QuantityError} what is wrong, and where
 */
export function importText(text) {
  if (text.length > LARGEST || new TextEncoder().encode(text).length > LARGEST) {
    throw new QuantityError("this file is larger than 2 MB, and no job is; choose a file that was exported here");
  }
  const file = parsed(text);
  if (!isMapping(file) || !Object.hasOwn(file, MARK)) {
    throw new QuantityError(
      `this is not a job: a file that was exported here begins with {"${MARK}": ${VERSION}, …, and this one with ${excerpt(file)}`,
    );
  }
  const version = file[MARK];
  const { entries } = file;
  if (typeof version !== "number" || !Number.isInteger(version) || version < 1) {
    throw new QuantityError(`${MARK} is the version, a whole number from 1, not ${excerpt(version)}`);
  }
  if (version > VERSION) {
    throw new QuantityError(
      `this job was exported by a newer Stopscrew (version ${version}; this one reads ${VERSION}). ` +
        "Open the site once with a signal, so that it renews itself, then import again",
    );
  }
  const other = Object.keys(file).find((name) => name !== MARK && name !== "entries");
  if (other !== undefined) throw new QuantityError(`a job has no ${excerpt(other)}; it has ${MARK} and entries`);
  if (!Array.isArray(entries) || !entries.length)
    throw new QuantityError(`entries is a list of what was done, not ${excerpt(entries)}`);
  return joined(entries.map(readNumbered));
}

/** @param {string} text @returns {unknown} */
function parsed(text) {
  try {
    return JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    const ours = text.includes(`"${MARK}"`);
    const why = String(/** @type {Error} */ (error).message).slice(0, 120);
    throw new QuantityError(
      ours
        ? `this job was cut short or changed on its way (${why}); export it again`
        : `this is not a job but another kind of file (${why}); choose one that was exported here`,
    );
  }
}

/** @param {unknown} raw @param {number} place */
function readNumbered(raw, place) {
  try {
    const entry = readEntry(raw);
    if (entry.at < FIRST_AFTER) return entry;
    throw new QuantityError(`it is said to be made on ${entry.at.slice(0, 10)}; mend the time in the file`);
  } catch (error) {
    if (!(error instanceof QuantityError)) throw error;
    throw new QuantityError(`entry ${place + 1}: ${error.message}`);
  }
}

/** Entries each once; the first entry of each job must be among them. @param {readonly Entry[]} entries */
function joined(entries) {
  /** @type {Map<string, [string, number]>} */
  const known = new Map();
  for (const [place, entry] of entries.entries()) {
    const text = sorted(entry);
    const [before, at] = known.get(entry.id) ?? [text, place];
    if (before !== text)
      throw new QuantityError(
        `entry ${place + 1} has the id of entry ${at + 1} and says something else; export the job again`,
      );
    known.set(entry.id, [before, at]);
  }
  const begun = new Set(entries.flatMap((entry) => (entry.kind === "begin" ? [entry.job] : [])));
  const orphan = entries.findIndex((entry) => !begun.has(entry.job));
  if (orphan >= 0) {
    throw new QuantityError(
      `entry ${orphan + 1} is of the job ${entries[orphan]?.job}, whose first entry is not in this file; export that job again`,
    );
  }
  return inOrder(entries);
}

/** An entry as text, the same whatever the order of its keys. @param {unknown} raw @returns {string} */
function sorted(raw) {
  return JSON.stringify(raw, (_, value) =>
    isMapping(value) ? Object.fromEntries(Object.entries(value).sort()) : value,
  );
}
