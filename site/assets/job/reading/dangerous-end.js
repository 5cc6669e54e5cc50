/** Which verdict is on the dangerous end of a figure, by the end that its catalogue entry calls safest. */

import { SafestEnd } from "../../vocabulary.js";

/** @type {ReadonlyMap<string, string>} */
export const DANGEROUS = new Map([
  [SafestEnd.LATER, "early"],
  [SafestEnd.EARLIER, "late"],
  [SafestEnd.SMALLER, "above"],
  [SafestEnd.LARGER, "below"],
]);

/**
 * How a verdict looks: `inside`; `alarm` on the dangerous end and `safe` on the other; `outside` on either side of a
 * figure of which neither end is safer; `none` if it was not judged.
 * @param {string} off
 * @param {string} safest
 */
export function lookOf(off, safest) {
  if (!off) return "none";
  if (off === "inside") return off;
  const dangerous = DANGEROUS.get(safest);
  return !dangerous ? "outside" : off === dangerous ? "alarm" : "safe";
}
