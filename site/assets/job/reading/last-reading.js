/** The last reading of a figure: whatever a screen says of how the figure stands is reckoned from it alone. */

import { MAXIMUM } from "../../book/catalogue.js";
import { Fraction } from "../../quantity/fraction.js";
import { plain } from "../../quantity/spoken.js";
import { readingsOf } from "../log/readings-of.js";
import { signedAngle } from "../step-figure.js";

/** @typedef {import("../log/record.js").JobRecord} JobRecord */
/** @typedef {import("../log/record.js").JobReading} JobReading */

/**
 * One reading among all of a figure, while turning the screw too: `reads` in signed degrees, null if it is no angle of
 * the light; `noted` as found or as left, null for one while turning.
 * @typedef {{readonly time: string, readonly reads: Fraction | null, readonly noted: JobReading | null}} TimedReading
 */

/**
 * Every reading of a figure in the order of time. The coach begins with the reading as found, which counts once.
 * @param {JobRecord} record
 * @param {string} figure
 * @returns {TimedReading[]}
 */
function inTime(record, figure) {
  const noted = readingsOf(record, figure).map((one) => ({
    time: one.time,
    reads: signedAngle(one.value),
    noted: one,
  }));
  const turned = (record.turns.get(figure) ?? [])
    .map(({ time, turns, reads }) => ({ time, turns, reads: Fraction.of(reads), noted: null }))
    .filter(({ turns, reads }) => turns !== "0" || !noted.some((one) => one.reads?.equals(reads)));
  return [...noted, ...turned].sort((one, other) => (one.time < other.time ? -1 : 1));
}

/** The last reading of a figure; undefined before the first. @param {JobRecord} record @param {string} figure */
export const lastReading = (record, figure) => inTime(record, figure).at(-1);

/**
 * The last reading of a figure, if it was taken as left in this state: with the lock nut tight.
 * @param {JobRecord} record
 * @param {string} figure
 * @param {string} state
 * @returns {JobReading | null}
 */
export function lockedLast(record, figure, state) {
  const last = lastReading(record, figure)?.noted;
  return last?.when === "left" && last.state === state ? last : null;
}

/**
 * What the lock nut did to the setting, and what to do about it: from the last reading, if it was locked, and the one
 * before it, if that was with the nut slack; empty if nothing, or if the last reading is out on the other side: undoing
 * what the nut did would then take it further out.
 * @param {JobRecord} record
 * @param {string} figure
 * @param {string} state
 * @param {string} off how the last reading stands: `early`, `late`, or another verdict
 */
export function draggedWords(record, figure, state, off) {
  const [before, last] = inTime(record, figure).slice(-2);
  if (!lockedLast(record, figure, state) || !before?.reads || before.noted?.when === "left") return "";
  const drag = last?.reads?.minus(before.reads);
  if (!drag?.sign() || off === (drag.sign() > 0 ? "late" : "early")) return "";
  const [went, against] = drag.sign() > 0 ? ["earlier", "later"] : ["later", "earlier"];
  if (figure === MAXIMUM && drag.sign() < 0)
    return `locking moved it ${plain(drag)}° later, on the safe side: leave it, or slacken it and go on while turning`;
  return `locking moved it ${plain(drag)}° ${went}: slacken it, set that much ${against}, lock it and read again`;
}
