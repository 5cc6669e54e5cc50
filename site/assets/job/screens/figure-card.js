/** The figure to set at a step on a card: as the light should show it, in which state, and as printed beside it. */

import { element } from "../../dom.js";
import { plain } from "../../quantity/spoken.js";
import { targetWords } from "../step-figure.js";

/** @typedef {import("../step-figure.js").StepFigure} StepFigure */

const OF_TRAVEL = " of piston travel";
const SHORT = 3; // longer ones leave no room for the state in the same line
export const BROAD = 6; // longer numbers do not fit a phone's line in the largest digits

/**
 * A number apart from what follows it: `24°`, `BTDC`; `3.20 mm`, `of piston travel BTDC`.
 * @param {string} words
 * @returns {[string, string]}
 */
export function split(words) {
  const travel = words.indexOf(OF_TRAVEL);
  if (travel > 0) return [words.slice(0, travel), words.slice(travel + 1)];
  const place = words.lastIndexOf(" ");
  return place < 0 ? [words, ""] : [words.slice(0, place), words.slice(place + 1)];
}

/** @param {StepFigure} shown one with a target */
export function figureCard(shown) {
  const { stated, settable, state, target } = shown;
  const [number, side] = split(targetWords(shown));
  const margin = target?.margin.sign() ? `, keep ${plain(target.margin)}°` : "";
  return element(
    "div",
    { class: "card" },
    element(
      "h2",
      { class: "heard" },
      `Set ${stated.label.slice(0, 1).toLowerCase()}${stated.label.slice(1)} ${stated.when}`,
    ),
    element(
      "p",
      { class: number.length > BROAD ? "target broad" : number.length > SHORT ? "target long" : "target" },
      element("strong", {}, number),
      ` ${side}`,
    ),
    element(
      "div",
      { class: "beside" },
      element("p", { class: "in-state" }, stated.when || state),
      element(
        "p",
        { class: "printed" },
        element("strong", {}, settable?.printed ?? stated.printed),
        `${stated.from ? " worked out" : " printed"}${margin}`,
      ),
    ),
  );
}
