/** The cautions of each figure: those of the job's steps that concern it, and the family's own. */

import { MAXIMUM } from "../book/catalogue.js";
import { ahead } from "../book/job.js";
import { capital } from "../quantity/spoken.js";
import { CautionSeverity } from "../vocabulary.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {{severity: string, word: string, title: string, text: string, behind: string}} Caution */

/** In place of a figure: cautions that concern no figure on the page, to be read before the work. */
export const BEFORE = "";

/**
 * Cautions by figure. Dangers that the family names are shown with its maximum, whatever else they concern.
 * @param {Document} page
 * @param {Document} shared
 * @param {readonly string[]} figures the figures on the page, in the order of the job
 * @returns {Map<string, Caution[]>}
 */
export function cautionsByFigure(page, shared, figures) {
  /** @type {Map<string, Set<string>>} */
  const found = new Map();
  /** @type {string[]} */
  const waiting = [];
  const add = (/** @type {string} */ figure, /** @type {readonly string[]} */ cautions) =>
    found.set(figure, new Set([...(found.get(figure) ?? []), ...cautions]));
  const isKnown = (/** @type {string} */ one) => Object.hasOwn(shared["cautions"], one);
  for (const [figure, cautions, when] of shared["careful"][page["routine"]] ?? []) {
    if (ahead(when, page) === null) continue;
    const told = cautions.filter(isKnown);
    if (figures.includes(figure)) add(figure, told);
    else waiting.push(...told);
  }
  const named = page["cautions"].filter(isKnown);
  if (figures.includes(MAXIMUM)) {
    add(
      MAXIMUM,
      named.filter((/** @type {string} */ one) => shared["cautions"][one].severity === CautionSeverity.DANGER),
    );
  }
  const placed = new Set([...found.values()].flatMap((cautions) => [...cautions]));
  add(
    BEFORE,
    [...named, ...waiting].filter((one) => !placed.has(one)),
  );
  return new Map(
    [...found].map(([figure, cautions]) => [figure, [...cautions].map((one) => cautionOf(shared["cautions"][one]))]),
  );
}

/** @param {Document} caution @returns {Caution} */
function cautionOf({ severity = "", title = "", text = "", behind = "" }) {
  return { title, text, behind, severity, word: capital(severity) };
}

/**
 * Decide for each row of a page, from the top down, which cautions it names on a line of their own: the grave ones, where
 * they first concern a figure. Further down they are named behind the label. The full texts are folded behind the row.
 * @param {readonly {cautions: Caution[], warned: Caution[], again: Caution[]}[]} rows
 */
export function markWarnings(rows) {
  const named = new Set();
  for (const row of rows) {
    const grave = row.cautions.filter((one) => one.severity !== CautionSeverity.CARE);
    row.warned = grave.filter((one) => !named.has(one.title));
    row.again = grave.filter((one) => named.has(one.title));
    for (const { title } of grave) named.add(title);
  }
}
