/** The one guard that all of the arithmetic shares. */

import { NotFinite } from "../errors.js";

/**
 * Do nothing if every value is a finite number.
 * @param {...number} values
 * @throws {NotFinite} one is infinite or no number
 */
export function requireFinite(...values) {
  for (const value of values) {
    if (!Number.isFinite(value)) throw new NotFinite(`${value} is not a finite number`);
  }
}
