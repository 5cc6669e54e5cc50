/** Which cautions stand by which figure: those of the steps of the job that concern it, and the family's own. */

import { ahead } from "../book/job.js";
import { CautionSeverity } from "../vocabulary.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {{severity: string, word: string, title: string, text: string, behind: string}} Caution */

const MAXIMUM = "max-advance";

/** Stands for a figure: what concerns no figure that the page shows is to be read before the work begins. */
export const BEFORE = "";

/**
 * Cautions by figure. A danger that the family names stands by its maximum, whatever else it concerns.
 * @param {Document} page
 * @param {Document} shared
 * @param {readonly string[]} figures those that the page shows, in the order of the job
 * @returns {Map<string, Caution[]>}
 */
export function careful(page, shared, figures) {
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
  return { title, text, behind, severity, word: severity.slice(0, 1).toUpperCase() + severity.slice(1) };
}

/**
 * Say in each row of a page, from its top down, which cautions it names on a line of their own: the grave ones, where they
 * first concern a figure. Further down they stand behind its label; of the slight ones, as of all, the text stands behind
 * the row.
 * @param {readonly {cautions: Caution[], warned: Caution[], again: Caution[]}[]} rows
 */
export function inTurn(rows) {
  const named = new Set();
  for (const row of rows) {
    const grave = row.cautions.filter((one) => one.severity !== CautionSeverity.CARE);
    row.warned = grave.filter((one) => !named.has(one.title));
    row.again = grave.filter((one) => named.has(one.title));
    for (const { title } of grave) named.add(title);
  }
}
