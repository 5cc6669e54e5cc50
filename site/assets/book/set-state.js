/**
 * The state in which each figure of a family is set: on land wherever the book has a figure for that, else running; the
 * same as `kb.book.setting.set_state`.
 */

import { SETTING_STATES, State } from "../vocabulary.js";
import { MAXIMUM } from "./catalogue.js";

/** @typedef {Readonly<Record<string, any>>} Page a family's page document, or its part on what is fitted */

/** Why there is no one value, although sources speak of the figure in that state. */
const SPOKEN_OF = ["FigureDisputed", "FigureWithdrawn"];

/**
 * The states in which the book has a figure of a family, printed or worked out, for any of its engines.
 * @param {Page} page
 * @param {string} figure
 * @returns {ReadonlySet<string>}
 */
export function knownStates(page, figure) {
  const held = (page["figures"] ?? []).find((/** @type {Page} */ one) => one["id"] === figure);
  const rows = /** @type {Page[]} */ (held?.["rows"] ?? []);
  return new Set(rows.filter(({ problem = SPOKEN_OF[0] }) => SPOKEN_OF.includes(problem)).map(({ state }) => state));
}

/**
 * The state in which a figure is set. One that is not stated is read as the maximum is; one of a family without any is
 * read while cranking, where nothing is set by guesswork.
 * @param {Page} page
 * @param {string} figure
 * @returns {string}
 */
export function setState(page, figure) {
  const known = [figure, MAXIMUM].map((one) => knownStates(page, one));
  const held = known.flatMap((states) => SETTING_STATES.filter((state) => states.has(state)));
  return held[0] ?? State.CRANKING;
}
