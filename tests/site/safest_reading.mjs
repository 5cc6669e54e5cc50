// A reading that no gate refuses: shared by the scripts that walk jobs to their end.

import { isAngle } from "../../site/assets/job/log/report-value.js";
import { readQuantity } from "../../site/assets/quantity/quantity.js";
import { plain } from "../../site/assets/quantity/spoken.js";

/** The printed value at the end that does no harm, as it would be read. */
export function safest({ value }, kind) {
  const { low, high, unit } = readQuantity(value);
  const least = ["later", "smaller"].includes(kind.safest_end);
  const end = least ? (low ?? high) : (high ?? low);
  const number = plain(end, 6);
  if (!isAngle(value)) return { [unit.key]: number };
  const deep = { piston_mm: { mm: number }, piston_in: { in: number } }[unit.key] ?? number;
  return { [end.sign() < 0 ? "atdc" : "btdc"]: deep };
}
