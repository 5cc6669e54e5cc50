/**
 * Whether the lock nut is slack or tight while a figure of the light is read. Nobody chooses it beforehand, and it says
 * which reading it is: the first is as found; after that one with the nut slack is a reading while turning, and only one
 * with the nut tight is as left.
 */

import { StopscrewError } from "../../errors.js";
import { Noted } from "../../vocabulary.js";
import { takesSides } from "./number-pad.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../log/record.js").JobRecord} JobRecord */
/** @typedef {import("../../book/job.js").FigureStep} FigureStep */

export const SLACK = "slack";
const TIGHT = "tight";
export const NUTS = /** @type {const} */ ([
  [SLACK, "nut slack"],
  [TIGHT, "nut tight"],
]);

/**
 * Whether each reading of a step says how the nut was: it is an angle that is set here, and what sets it may lock.
 * @param {Document} page of the family
 * @param {Document | undefined} kind of the step's figure
 * @param {FigureStep} step
 */
export function asksNut(page, kind, { figure, records }) {
  if (!kind || !takesSides(kind["units"]) || !records.includes(Noted.AS_LEFT)) return false;
  const adjuster = page["adjusters"]?.[figure];
  return adjuster?.locknut !== "false" && !adjuster?.holes;
}

/**
 * Which reading it is by the nut, `found`, `turning` or `left`; empty while nobody said how the nut is. As found is what was
 * read before anything was turned or locked: one reading, or with the nut tight one of each cylinder.
 * @param {JobRecord} record
 * @param {FigureStep} step
 * @param {string} nut
 * @param {string} cylinder empty where one reading is enough
 */
export function whenByNut(record, { figure, records }, nut, cylinder) {
  if (!nut) return "";
  const found = record.found.get(figure) ?? [];
  const isTouched =
    (record.left.get(figure)?.length ?? 0) > 0 ||
    (record.turns.get(figure) ?? []).some(({ turns }) => turns !== "0") ||
    (nut === TIGHT ? found.some((one) => one.cylinder === cylinder) : found.length > 0);
  if (records.includes(Noted.AS_FOUND) && !isTouched) return "found";
  return nut === TIGHT ? "left" : "turning";
}

/**
 * @param {string} nut
 * @param {string} digits that were typed
 * @throws {StopscrewError} nobody said how the nut is
 */
export function requireNut(nut, digits) {
  if (!nut) throw new StopscrewError(`tap nut slack or nut tight for ${digits}`);
}

/** Why a reading with the nut slack is not kept where nothing is turned. */
export const NOT_SLACK = "with the nut slack nothing counts as left: lock it, and read again";

/** How the nut is in spoken words, and the rest of them. @param {string} heard @returns {{nut: string, rest: string}} */
export function spokenNut(heard) {
  const found = /\b(?:nut (?:is )?)?(slack|loose|tight|locked)\b/i.exec(heard);
  if (!found) return { nut: "", rest: heard };
  const nut = ["slack", "loose"].includes(String(found[1]).toLowerCase()) ? SLACK : TIGHT;
  return {
    nut,
    rest: heard
      .replace(found[0], " ")
      .replace(/[\s,]+/g, " ")
      .trim(),
  };
}
