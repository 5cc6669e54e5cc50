/** How the last reading of a step's figure stands, and what to turn: whatever stands here is reckoned from it alone. */

import { element } from "../../dom.js";
import { capital, plain } from "../../quantity/spoken.js";
import { SIDES, State } from "../../vocabulary.js";
import { refusal } from "../controls.js";
import { setupFor, valueWords } from "../step-figure.js";
import { FAULT } from "./false-late.js";
import { draggedWords, lastReading, lockedLast } from "./last-reading.js";
import { anewKey } from "./screw-coach.js";
import { verdictOf, verdictOn } from "./verdict.js";

/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {import("../step-figure.js").StepFigure} StepFigure */
/** @typedef {import("./last-reading.js").TimedReading} TimedReading */
/** @typedef {import("./screw-coach.js").Advice} Advice */

/** Said with the digits, so that nobody takes a reading for another. @type {Readonly<Record<string, string>>} */
const HOW = { found: " as found", left: " as left", turning: " while turning" };

/** Of the coach's lines those that say how the turn is made. */
const HOW_FAR = /^(backlash|half the way|that far)/;

/** Before a hand goes near the screw. @type {ReadonlyMap<string, string>} */
const BEFORE_A_HAND = new Map([
  [State.CRANKING, "Let the starter stop. "],
  [State.RUNNING, "Stop the engine. "],
]);

/** Signed degrees as a reading's value. @param {import("../../quantity/fraction.js").Fraction} reads */
function angleValue(reads) {
  const [before = "", after = ""] = SIDES;
  return reads.sign() ? { [reads.sign() > 0 ? before : after]: plain(reads.size()) } : { tdc: "0" };
}

/**
 * @param {Workspace} workspace
 * @param {string} figure
 * @param {readonly StepFigure[]} shown
 * @param {StepFigure | null} coachable
 * @param {Advice | null} coach
 */
export function lastView(workspace, figure, shown, coachable, coach) {
  const last = lastReading(workspace.record, figure);
  const judged = last && judgedLast(workspace, figure, shown, coachable, last);
  if (!judged) return null;
  const { value, when, verdict } = judged;
  const { words, more, refused } = adviceOn(workspace, coachable, coach, last, verdict);
  const first = /\bturns? (in|out)\b/.test(words) ? (BEFORE_A_HAND.get(coachable?.state ?? "") ?? "") : "";
  return element(
    "section",
    { class: `last ${verdict.look}`, "aria-label": "The last reading" },
    element(
      "p",
      { class: "judged" },
      element("span", { class: "sign", "aria-hidden": "true" }, verdict.sign),
      ` ${valueWords(value)}${HOW[when] ?? ""}: ${verdict.words}`,
    ),
    words || refused
      ? element(
          "div",
          { class: "coach", role: "group", "aria-label": "The screw" },
          refused ? refusal(refused) : null,
          words ? element("p", { class: "answer" }, `${first}${capital(words)}`) : null,
          ...more.map((line) => element("p", {}, line)),
          (refused || words === FAULT) && workspace.record.turns.get(figure)?.length
            ? anewKey(
                workspace,
                figure,
                refused ? "Begin these readings anew" : "It is put right: read anew",
                "coach-anew",
              )
            : null,
        )
      : null,
  );
}

/**
 * @param {Workspace} workspace
 * @param {string} figure
 * @param {readonly StepFigure[]} shown
 * @param {StepFigure | null} coachable
 * @param {TimedReading} last
 */
function judgedLast(workspace, figure, shown, coachable, { noted, reads }) {
  if (noted) return { value: noted.value, when: noted.when, verdict: verdictOn(noted, shown, workspace) };
  if (!reads || !coachable) return null;
  const value = angleValue(reads);
  const { page, shared, record } = workspace;
  const given = setupFor(page, shared, record, figure);
  return { value, when: "turning", verdict: verdictOf(shown, { value, state: coachable.state }, given) };
}

/**
 * What to turn, by the coach, or once it is locked by what locking did; with why there is no advice.
 * @param {Workspace} workspace
 * @param {StepFigure | null} coachable
 * @param {Advice | null} coach
 * @param {TimedReading} last
 * @param {import("./verdict.js").ReadingVerdict} verdict
 * @returns {{words: string, more: string[], refused: string}}
 */
function adviceOn(workspace, coachable, coach, { noted }, { off, more: [way = ""] }) {
  const told = { words: "", more: [], refused: "" };
  const isElsewhere = noted && coachable && noted.state !== coachable.state;
  const wanted = off && off !== "inside" ? way : "";
  if (!coachable || isElsewhere) return { ...told, words: wanted };
  if (lockedLast(workspace.record, coachable.figure, coachable.state)) {
    const dragged = draggedWords(workspace.record, coachable.figure, coachable.state, off);
    return { ...told, words: off === "inside" ? "" : dragged || wanted };
  }
  if (!coach) return { ...told, words: wanted };
  const [words = "", ...lines] = coach.refused ? [] : coach.answer;
  const more = coach.advised ? lines.filter((line) => HOW_FAR.test(line)) : lines;
  return { words, more, refused: coach.refused };
}
