/** How far on the late side of its figure a maximum was left: what was reached, whatever was chosen. */

import { MAXIMUM } from "../../book/catalogue.js";
import { setting } from "../../book/window.js";
import { StopscrewError } from "../../errors.js";
import { ZERO } from "../../quantity/fraction.js";
import { plain } from "../../quantity/spoken.js";
import { signedAngle, stepFigures } from "../step-figure.js";
import { trueValue } from "./as-left.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../log/record.js").JobRecord} JobRecord */

/**
 * The margin that the last reading as left has, such as `1° late`; empty if none was chosen, or none was reached.
 * @param {JobRecord} record
 * @param {Document} page
 * @param {Document} shared
 */
export function marginKept(record, page, shared) {
  if (!record.margin || record.margin === "0") return "";
  try {
    const [first] = stepFigures(page, shared, record, MAXIMUM).filter(({ settable }) => settable);
    const left = (record.left.get(MAXIMUM) ?? []).filter(({ state, adrift }) => state === first?.state && !adrift);
    const last = new Map(
      left.map(({ cylinder, value, pointer }) => [cylinder, signedAngle(trueValue(value, pointer))]),
    );
    const [read] = [...last.values()].sort((one, other) => (one && other?.above(one) ? 1 : -1)); // the earliest counts
    if (!first?.settable || !read) return "";
    const { high, lone, target } = setting(first.settable, ZERO);
    const kept = (lone ? target : high)?.minus(read) ?? ZERO;
    return kept.above(ZERO) ? `${plain(kept)}° late` : "";
  } catch (error) {
    if (error instanceof StopscrewError) return "";
    throw error;
  }
}
