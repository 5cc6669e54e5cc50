/**
 * The coach of an adjusting screw: from the readings so far, which way and how far to turn; on the screen and aloud.
 */

import { work } from "../../bench/aids/next-turn.js";
import { element } from "../../dom.js";
import { StopscrewError } from "../../errors.js";
import { Fraction, ZERO } from "../../quantity/fraction.js";
import { angleInWords } from "../../quantity/spoken.js";
import { choice, field, key, lines, refusal } from "../controls.js";
import { workingView } from "../screens/figure-view.js";
import { setupFor } from "../step-figure.js";
import { readTurns, spokenTurns, turnsText } from "./spoken-reading.js";

/** @typedef {import("../step-figure.js").StepFigure} StepFigure */
/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {{text: string, way: string}} TypedTurns turns since the last reading, and `in` or `out` */

/** A coach whose last reading is no longer the last of its figure. */
const SILENT = { cautions: [], remarks: [], steps: [], refused: "" };
const FRACTIONS = ["0", "1/8", "1/4", "3/8", "1/2", "3/4", "1", "1 1/2", "2"];

/**
 * What the coach says: the answer of the bench aid, or in `refused` why there is none; `advised` are the turns that it
 * names, null if none; `there` is true if the screw is on target.
 * @typedef {{answer: string[], remarks: string[], cautions: string[], steps: import("../../working.js").Step[],
 *   refused: string, advised: Fraction | null, there: boolean}} Advice
 */

/** The fields of the bench aid's form, empty: the family's figure takes their place. */
const UNTYPED = /** @type {const} */ ({
  target: null,
  printed: null,
  other_end: null,
  bound: "",
  state: "",
  set: "",
  rpm: null,
  corrections: [],
  diameter: null,
  marks_before: [],
  marks_after: [],
  division: "",
  rotation: "",
  marks_on: "",
  stroke: null,
  rod: null,
});

/**
 * @param {StepFigure} shown the state that is being set
 * @param {readonly {turns: string, reads: string}[]} turns
 * @param {import("../step-figure.js").JobSetup} given the settings of the job
 * @returns {Advice | null} null if there is no target or no reading yet
 */
function advice({ figure, settable, target }, turns, { margin, deadCentre, correction }) {
  if (!settable || !target || !turns.length) return null;
  const { part = "", turning_in: works = "", locknut = "" } = settable.adjusters?.[figure] ?? {};
  const readings = turns.map((one) => /** @type {const} */ ([readTurns(one.turns), Fraction.of(one.reads)]));
  const held = {
    figure: settable,
    correction,
    engine: settable.engine,
    flywheel: settable.flywheel,
    adjusters: settable.adjusters,
  };
  const none = { answer: [], remarks: [], cautions: [], steps: [], refused: "", advised: null, there: false };
  try {
    const worked = work({
      ...UNTYPED,
      kinds: { [figure]: settable.kind },
      kind: figure,
      margin,
      dead_centre: deadCentre,
      part,
      turning_in: works,
      locknut,
      held,
      readings,
    });
    const result = worked.steps.at(-1)?.result ?? "";
    return { ...none, ...worked, advised: spokenTurns(result), there: result === "no turn" };
  } catch (error) {
    if (error instanceof StopscrewError) return { ...none, refused: error.message };
    throw error;
  }
}

/**
 * The position of the screw, in turns inward from the first reading.
 * @param {readonly {turns: string}[]} turns
 */
export const stands = (turns) => readTurns(turns.at(-1)?.turns ?? "0");

/**
 * The typed turns of the screw.
 * @param {TypedTurns} turned
 * @returns {Fraction | null} null if they are not understood
 */
export function turnedBy({ text, way }) {
  const plain = text.trim().replace(",", ".");
  return plain === "0" || plain === "" ? ZERO : spokenTurns(`${plain} ${way}`);
}

/**
 * The fields for the turns since the last reading, filled with what the coach advised.
 * @param {string} id
 * @param {TypedTurns} turned changed in place
 * @param {() => void} redraw
 */
export function turnedFields(id, turned, redraw) {
  const keys = FRACTIONS.map((part) =>
    key(
      part,
      () => {
        turned.text = part;
        redraw();
      },
      {
        class: "part",
        "aria-label": `${part} turn`,
        id: `${id}-${part.replace(/\W/g, "-")}`,
        "aria-pressed": String(turned.text === part),
      },
    ),
  );
  return element(
    "div",
    { class: "turned" },
    field(
      id,
      "Turned since the last reading",
      turned.text,
      (text) => {
        turned.text = text;
      },
      { class: "reading-box", maxlength: "12" },
    ),
    element("div", { class: "keys" }, ...keys),
    choice(
      `${id}-way`,
      "Which way",
      [
        ["in", "in"],
        ["out", "out"],
      ],
      turned.way,
      (way) => {
        turned.way = way;
      },
    ),
  );
}

/** What the coach says now. @param {Workspace} workspace @param {StepFigure} shown */
export const coachFor = ({ page, shared, record }, shown) =>
  advice(shown, record.turns.get(shown.figure) ?? [], setupFor(page, shared, record, shown.figure));

/** The advised turns, as the default for those made. @param {Advice | null} coach @returns {TypedTurns} */
export function asAdvised(coach) {
  const advised = coach?.advised ?? ZERO;
  return { text: turnsText(advised.size()), way: advised.sign() < 0 ? "out" : "in" };
}

/**
 * What the coach says, and the readings it is based on.
 * @param {Workspace} workspace
 * @param {StepFigure} shown
 * @param {string} locked what the last reading says instead, if it was locked
 * @returns {HTMLElement | null}
 */
export function coachView(workspace, shown, locked) {
  const turns = workspace.record.turns.get(shown.figure) ?? [];
  const coach = coachFor(workspace, shown);
  if (!coach) return null;
  const { cautions, refused, remarks, steps } = locked ? { ...coach, ...SILENT } : coach;
  const [first = "", ...more] = locked ? [locked] : coach.answer;
  const adjuster = shown.settable?.adjusters?.[shown.figure];
  const rows = turns.map((one) =>
    element("li", {}, `${standsWords(one.turns)}: ${angleInWords(Fraction.of(one.reads))}`),
  );
  const last = turns.at(-1);
  return element(
    "section",
    { class: "coach", "aria-label": "The screw" },
    element("h3", {}, adjuster ? `The ${adjuster["part"]}` : "The screw"),
    refused ? refusal(refused) : element("p", { class: "answer" }, first),
    lines(more),
    lines(cautions, "careful"),
    element(
      "details",
      {},
      element("summary", {}, "Readings so far, and how it was worked out"),
      element("ul", {}, ...rows),
      ...workingView(steps),
      lines(remarks),
    ),
    element(
      "div",
      { class: "keys" },
      last
        ? key("Take the last one back", () => workspace.append("take-back", { entry: last.entry }), {
            id: "coach-back",
          })
        : null,
      key("Start again", () => workspace.append("turn", { figure: shown.figure, forget: true }), {
        id: "coach-forget",
      }),
      key("Say it", () => workspace.aloud(locked || coachSpeech(coach)), {
        id: "coach-say",
        hidden: !workspace.canSpeak,
      }),
    ),
  );
}

/** The coach's words as they are read aloud. @param {Advice} coach */
export const coachSpeech = (coach) => coach.refused || coach.answer.join(". ");

/** @param {string} turns */
const standsWords = (turns) =>
  turns === "0" ? "at the start" : `${turns.replace("-", "")} ${turns.startsWith("-") ? "out" : "in"} from the start`;
