/**
 * The coach of an adjusting screw: from the readings so far, which way and how far to turn; told on the screen and
 * aloud.
 */

import { work } from "../../bench/aids/next-turn.js";
import { element } from "../../dom.js";
import { StopscrewError } from "../../errors.js";
import { Fraction, NOUGHT } from "../../quantity/fraction.js";
import { angleInWords } from "../../quantity/spoken.js";
import { choice, field, key, lines, refusal } from "../controls.js";
import { workingShown } from "../screens/figure-view.js";
import { givenFor } from "../step-figure.js";
import { readTurns, spokenTurns, turnsText } from "./spoken-reading.js";

/** @typedef {import("../step-figure.js").Shown} Shown */
/** @typedef {import("../workspace.js").Desk} Desk */
/** @typedef {{text: string, way: string}} Turned how far since the last reading, and `in` or `out` */

const FRACTIONS = ["0", "1/8", "1/4", "3/8", "1/2", "3/4", "1", "1 1/2", "2"];

/**
 * What the coach says now: the answer of the bench aid, or in `refused` why there is none; `advised` are the turns that it
 * names, nothing where it names none; `there` where the screw should be left alone.
 * @typedef {{answer: string[], remarks: string[], cautions: string[], steps: import("../../bench/aids/wording.js").Step[],
 *   refused: string, advised: Fraction | null, there: boolean}} Coached
 */

/** What a bench form would have typed; here the family's own figure stands for it. */
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
 * @param {Shown} shown the state that is being set
 * @param {readonly {turns: string, reads: string}[]} turns
 * @param {import("../step-figure.js").Given} given what the job reckons with
 * @returns {Coached | null} nothing where there is no target to come to, or no reading yet
 */
export function coached({ figure, asked, aimed }, turns, { margin, deadCentre, correction }) {
  if (!asked || !aimed || !turns.length) return null;
  const { part = "", turning_in: works = "", locknut = "" } = asked.adjusters?.[figure] ?? {};
  const readings = turns.map((one) => /** @type {const} */ ([readTurns(one.turns), Fraction.of(one.reads)]));
  const held = {
    figure: asked,
    correction,
    engine: asked.engine,
    flywheel: asked.flywheel,
    adjusters: asked.adjusters,
  };
  const none = { answer: [], remarks: [], cautions: [], steps: [], refused: "", advised: null, there: false };
  try {
    const worked = work({
      ...UNTYPED,
      kinds: { [figure]: asked.kind },
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
 * Where the screw stands now, counted in from the first reading.
 * @param {readonly {turns: string}[]} turns
 */
export const stands = (turns) => readTurns(turns.at(-1)?.turns ?? "0");

/**
 * How far the screw was turned, as typed and chosen.
 * @param {Turned} turned
 * @returns {Fraction | null} nothing where it can not be read
 */
export function turnedBy({ text, way }) {
  const plain = text.trim().replace(",", ".");
  return plain === "0" || plain === "" ? NOUGHT : spokenTurns(`${plain} ${way}`);
}

/**
 * The fields for how far the screw was turned since the last reading; at first as the coach advised.
 * @param {string} id
 * @param {Turned} turned changed in place
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

/** What the coach says at this moment. @param {Desk} desk @param {Shown} shown */
export const coachFor = ({ page, shared, record }, shown) =>
  coached(shown, record.turns.get(shown.figure) ?? [], givenFor(page, shared, record, shown.figure));

/** What was advised, put ready as what was done. @param {Coached | null} coach @returns {Turned} */
export function asAdvised(coach) {
  const advised = coach?.advised ?? NOUGHT;
  return { text: turnsText(advised.size()), way: advised.sign() < 0 ? "out" : "in" };
}

/**
 * What the coach says, and the readings that it says it from.
 * @param {Desk} desk
 * @param {Shown} shown
 * @returns {HTMLElement | null}
 */
export function coachShown(desk, shown) {
  const turns = desk.record.turns.get(shown.figure) ?? [];
  const coach = coachFor(desk, shown);
  if (!coach) return null;
  const [first = "", ...more] = coach.answer;
  const adjuster = shown.asked?.adjusters?.[shown.figure];
  const rows = turns.map((one) =>
    element("li", {}, `${standsWords(one.turns)}: ${angleInWords(Fraction.of(one.reads))}`),
  );
  const last = turns.at(-1);
  return element(
    "section",
    { class: "coach", "aria-label": "The screw" },
    element("h3", {}, adjuster ? `The ${adjuster["part"]}` : "The screw"),
    coach.refused ? refusal(coach.refused) : element("p", { class: "answer" }, first),
    lines(more),
    lines(coach.cautions, "careful"),
    element(
      "details",
      {},
      element("summary", {}, "Readings so far, and how it was worked out"),
      element("ul", {}, ...rows),
      ...workingShown(coach.steps),
      lines(coach.remarks),
    ),
    element(
      "div",
      { class: "keys" },
      last
        ? key("Take the last one back", () => desk.append("take-back", { entry: last.entry }), { id: "coach-back" })
        : null,
      key("Begin again", () => desk.append("turn", { figure: shown.figure, forget: true }), { id: "coach-forget" }),
      key("Say it", () => desk.aloud(coachSpoken(coach)), { id: "coach-say", hidden: !desk.canSpeak }),
    ),
  );
}

/** The coach's words as they are read aloud. @param {Coached} coach */
export const coachSpoken = (coach) => coach.refused || coach.answer.join(". ");

/** @param {string} turns */
const standsWords = (turns) =>
  turns === "0" ? "at the start" : `${turns.replace("-", "")} ${turns.startsWith("-") ? "out" : "in"} from the start`;
