/**
 * The rows of a page document that hold for an engine, as far as it is known; like a look-up, never one of several.
 */

import { fitWords, kindsOf, readFit, requireFit } from "../book/engine-kinds.js";
import { SerialFitsNone } from "../errors.js";
import { HowSure } from "../vocabulary.js";

/** @typedef {Readonly<Record<string, any>>} Document */

/**
 * A row for some of the engines: which, in words; the row; the numbers of their kinds.
 * @typedef {[string, Document, number[]]} EngineRow
 */

/**
 * A figure in one state under some conditions: `row`, or in `depends` the row of each kind of engine; `statements` are
 * those of every row that says the same; `kinds` the numbers of the kinds of engine asked for.
 * @typedef {{figure: string, row: Document, statements: any[][], depends: EngineRow[], kinds: number[]}} FigureRows
 */

/** @type {string[]} */
const STRENGTHS = Object.values(HowSure);

/**
 * The rows of a figure for an engine with this serial number; for any engine without one.
 * @param {Document} page
 * @param {Document} figure
 * @param {string} serial
 * @returns {FigureRows[]}
 * @throws {SerialFitsNone} the serial number is in no range of the family
 */
export function figureRows(page, figure, serial) {
  const kinds = kindsFor(page, figure, serial);
  /** @type {Map<string, [number, Document][]>} */
  const groups = new Map();
  const every = [...(figure["kinds"] ?? [[]]).keys()];
  for (const row of figure["rows"]) {
    const key = `${row.state} ${row.conditions ?? ""}`;
    const held = (row.in ?? every).filter((/** @type {number} */ kind) => kinds.includes(kind));
    if (held.length)
      groups.set(key, [...(groups.get(key) ?? []), ...held.map((/** @type {number} */ kind) => [kind, row])]);
  }
  return [...groups.values()].map((told) => {
    const rows = [...new Set(told.map(([, row]) => row))];
    const [first = {}] = rows;
    const missing = kinds.filter((kind) => !told.some(([one]) => one === kind));
    if (!missing.length && rows.every((row) => answerKey(row) === answerKey(first))) {
      const weakest = rows.reduce((one, other) => (weakness(other) > weakness(one) ? other : one));
      return { figure: figure["id"], row: weakest, statements: allStatements(weakest, rows), depends: [], kinds };
    }
    /** @type {EngineRow[]} */
    const depends = rows.map((row) => {
      const own = told.flatMap(([kind, one]) => (one === row ? [kind] : []));
      return [kindWords(figure, own), row, own];
    });
    if (missing.length)
      depends.push([kindWords(figure, missing), { printed: "no figure published", statements: [] }, missing]);
    return { figure: figure["id"], row: first, statements: allStatements(first, rows), depends, kinds };
  });
}

/** @param {Document} page @param {Document} figure @param {string} serial @returns {number[]} */
function kindsFor(page, figure, serial) {
  const held = figure["kinds"] ?? [[]];
  const fits = page["fits"].map(readFit);
  if (serial) requireFit(page["id"], fits, serial);
  if (!serial || !figure["parts"]) return [...held.keys()];
  const mayBe = kindsOf(fits, figure["parts"].map(readFit), serial);
  const inTurn = held.map((/** @type {number[]} */ kind) => [...kind].sort((one, other) => one - other).join());
  return [...held.keys()].filter((number) => mayBe.includes(inTurn[number]));
}

/**
 * Whether an engine with this serial number, or of unknown number, is certainly of these kinds.
 * @param {Document} page
 * @param {Document} figure
 * @param {string} serial
 * @param {readonly number[]} kinds
 */
export function wasOneOf(page, figure, serial, kinds) {
  if (!figure["kinds"]) return true;
  try {
    return kindsFor(page, figure, serial).every((kind) => kinds.includes(kind));
  } catch (error) {
    if (error instanceof SerialFitsNone) return false;
    throw error;
  }
}

/** @param {Document} row */
const answerKey = (row) => JSON.stringify([row["problem"] ?? "", row["printed"] ?? ""]);

/** @param {Document} row */
function weakness(row) {
  if (row["problem"] !== undefined) return 0;
  return 8 * STRENGTHS.indexOf(row["standing"]) + (row["rests_on"] ? STRENGTHS.indexOf(row["rests_on"]) : 0);
}

/** @param {Document} first @param {Document[]} rows @returns {any[][]} */
function allStatements(first, rows) {
  const found = new Map(first["statements"].map((/** @type {any[]} */ one) => [one[0], one]));
  for (const one of rows.flatMap((row) => row["statements"])) if (!found.has(one[0])) found.set(one[0], one);
  return /** @type {any[][]} */ ([...found.values()]);
}

/**
 * Which engines, in words: the parts that hold these kinds, or all others.
 * @param {Document} figure
 * @param {number[]} kinds
 */
function kindWords(figure, kinds) {
  const parts = [...new Set(kinds.flatMap((kind) => figure["kinds"][kind]))].sort((one, other) => one - other);
  return parts.map((part) => fitWords(readFit(figure["parts"][part]))).join(" and ") || "all others";
}
