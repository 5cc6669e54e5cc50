/**
 * How much to keep in hand at the maximum, asked where a job begins: what each choice means on this engine's light; or
 * why nothing can be kept.
 */

import { aim } from "../../book/aim.js";
import { MAXIMUM } from "../../book/catalogue.js";
import { setState } from "../../book/set-state.js";
import { marginLimit, setting } from "../../book/window.js";
import { element } from "../../dom.js";
import { StopscrewError } from "../../errors.js";
import { figureOf, figureRowsOf } from "../../family/figure-of-row.js";
import { Fraction, HALF, ONE, ZERO } from "../../quantity/fraction.js";
import { plain } from "../../quantity/spoken.js";
import { PLACE_WORDS } from "../../vocabulary.js";
import { choice } from "../controls.js";
import { isAngle } from "../log/report-value.js";
import { noScrew } from "../reading/no-screw.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./engine-form.js").EngineDetails} EngineDetails */

/** What most keep in hand; about as much as a reading is uncertain. */
const USUAL = ONE;

/** The margins that a maximum may have, the smallest first. @param {Document} shared @returns {Fraction[]} */
function marginsOf(shared) {
  const limit = marginLimit(shared["figures"][MAXIMUM] ?? {});
  const margins = [ZERO];
  for (let margin = HALF; !margin.above(limit); margin = margin.plus(HALF)) margins.push(margin);
  return margins;
}

/** The margin that is chosen beforehand when a job begins. @param {Document} shared */
export const usualMargin = (shared) => plain(marginsOf(shared).findLast((one) => !one.above(USUAL)) ?? ZERO);

/**
 * Whether the question is asked, and the words beside it: what the margin chosen means, or why none can be.
 * @param {Document} page
 * @param {Document} shared
 * @param {EngineDetails} typed
 */
export function marginTold(page, shared, typed) {
  const why = whyNone(page, shared, typed);
  return { asked: !why, words: why || marginWords(page, shared, typed) };
}

/**
 * The question, or why it is not asked; it follows what is typed.
 * @param {EngineDetails} typed its margin is changed in place
 * @param {Document} page
 * @param {Document} shared
 * @param {readonly string[]} states in which the maximum can be set
 */
export function marginQuestion(typed, page, shared, states) {
  const margins = states.length ? marginsOf(shared) : [];
  const place = element("div", { id: "margin-question" });
  const beside = element("p", { id: "margin-words", role: "status" });
  let isAsked = false;
  const draw = () => {
    if (margins.length < 2) return;
    const { asked, words } = marginTold(page, shared, typed);
    if (asked !== isAsked || !place.childElementCount) place.replaceChildren(...(asked ? [choices()] : []), beside);
    beside.textContent = words;
    isAsked = asked;
  };
  const choices = () =>
    choice(
      "margin",
      "How much to keep in hand at the maximum",
      margins.map((margin) => /** @type {[string, string]} */ ([plain(margin), lateWords(margin)])),
      typed.margin || plain(ZERO),
      (margin) => {
        typed.margin = margin;
        draw();
      },
    );
  draw();
  return { place, draw, chosen: () => (isAsked ? typed.margin || plain(ZERO) : plain(ZERO)) };
}

/** @param {Fraction} margin */
const lateWords = (margin) => (margin.sign() ? `${plain(margin)}° late` : "none");

/**
 * The maximum of the engine as typed so far; null if the book has no one number for it.
 * @param {Document} page
 * @param {Document} shared
 * @param {EngineDetails} typed
 */
function maximumOf(page, shared, { serial }) {
  const rows = (/** @type {string} */ one) => figureRowsOf(page, MAXIMUM, one.trim());
  const found = orNull(() => rows(serial)) ?? orNull(() => rows("")) ?? []; // one that does not fit is refused later
  const held = found.filter(({ row, depends }) => row["problem"] === undefined && !depends.length && row["value"]);
  const state = setState(page, MAXIMUM);
  const one = held.find(({ row }) => row["state"] === state) ?? held[0];
  return one && isAngle(one.row["value"]) ? figureOf(page, shared["figures"], one) : null;
}

/**
 * @template T
 * @param {() => T} work
 * @returns {T | null} null if the book refuses
 */
function orNull(work) {
  try {
    return work();
  } catch (error) {
    if (error instanceof StopscrewError) return null;
    throw error;
  }
}

/** Why nothing can be kept in hand; empty if it can. @param {Document} page @param {Document} shared @param {EngineDetails} typed */
function whyNone(page, shared, typed) {
  const fixed = noScrew(page, MAXIMUM);
  if (fixed) return `At the maximum nothing can be kept in hand: ${fixed}.`;
  const figure = maximumOf(page, shared, typed);
  const found = figure && orNull(() => setting(figure, HALF));
  if (!figure || !found || found.margin.sign()) return "";
  return (
    `At the maximum nothing is kept in hand: the book's window, ${figure.printed}, leaves no room for a margin. ` +
    "It is set to the late end."
  );
}

/** What the margin chosen means on the light. @param {Document} page @param {Document} shared @param {EngineDetails} typed */
function marginWords(page, shared, typed) {
  const margin = Fraction.of(typed.margin || "0");
  const figure = maximumOf(page, shared, typed);
  const target = figure && orNull(() => aim(figure, { margin }));
  const how = PLACE_WORDS.get(figure?.state ?? "") ?? "";
  const printed = figure ? `the book's ${figure.printed}` : "the book's figure";
  const shows = target ? `: the light should then show ${target.show} (${how}; with a pointer that is right)` : "";
  if (!margin.sign()) return `As late as ${printed} and no later${shows}. Any reading before that is too early.`;
  return `${plain(margin)}° later than ${printed}${shows}. That costs little power, and leaves room for what a reading errs.`;
}
