/**
 * The coach of an adjusting screw: from the readings so far, which way and how far to turn; on the screen and aloud.
 */

import { readsNow, work } from "../../bench/aids/next-turn.js";
import { judge } from "../../book/judge.js";
import { element } from "../../dom.js";
import { ReadingsContradict, StopscrewError } from "../../errors.js";
import { Fraction, ZERO } from "../../quantity/fraction.js";
import { angleInWords } from "../../quantity/spoken.js";
import { choice, field, key, lines } from "../controls.js";
import { workingView } from "../screens/figure-view.js";
import { setupFor } from "../step-figure.js";
import { lookOf } from "./dangerous-end.js";
import { earliestCylinder } from "./each-cylinder.js";
import { againstEarlier, askedCauses, isFault, readingsThatCount } from "./false-late.js";
import { causesView } from "./false-late-form.js";
import { lockedLast } from "./last-reading.js";
import { noScrew } from "./no-screw.js";
import { readTurns, spokenTurns, turnsText } from "./spoken-reading.js";

/** @typedef {import("../step-figure.js").StepFigure} StepFigure */
/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {{text: string, way: string}} TypedTurns turns since the last reading, and `in` or `out` */

/** A coach whose last reading is no longer the last of its figure. */
const SILENT = { answer: [], cautions: [], remarks: [], steps: [] };
const FRACTIONS = ["0", "1/8", "1/4", "3/8", "1/2", "3/4", "1", "1 1/2", "2"];

/**
 * What the coach says: the answer of the bench aid, or in `refused` why there is none; `advised` are the turns that it
 * names, null if none; `there` is true if the screw is on target; `asks` if the causes of a false late reading are asked.
 * @typedef {{answer: string[], remarks: string[], cautions: string[], steps: import("../../working.js").Step[],
 *   refused: string, advised: Fraction | null, there: boolean, asks: boolean}} Advice
 */
/** @typedef {import("./false-late.js").TurnReading} TurnReading */
/** @typedef {readonly (readonly [Fraction, Fraction])[]} ScrewReadings */

/** @type {Advice} */
const NONE = {
  answer: [],
  remarks: [],
  cautions: [],
  steps: [],
  refused: "",
  advised: null,
  there: false,
  asks: false,
};
const READ_ANEW = "read it anew: what was read before that was put right does not count";

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

/** @param {readonly TurnReading[]} turns @returns {ScrewReadings} */
const readingsOf = (turns) => turns.map((one) => /** @type {const} */ ([readTurns(one.turns), Fraction.of(one.reads)]));

/**
 * The answer of the bench aid.
 * @param {StepFigure} shown the state that is being set
 * @param {ScrewReadings} readings
 * @param {import("../step-figure.js").JobSetup} given the settings of the job
 * @returns {Advice}
 */
function worked({ figure, settable }, readings, { margin, deadCentre, correction }) {
  const { part = "", turning_in: works = "", locknut = "" } = settable?.adjusters?.[figure] ?? {};
  const held = {
    figure: settable ?? undefined,
    correction,
    engine: settable?.engine,
    flywheel: settable?.flywheel,
    adjusters: settable?.adjusters,
  };
  try {
    const answered = work({
      ...UNTYPED,
      kinds: { [figure]: settable?.kind },
      kind: figure,
      margin,
      dead_centre: deadCentre,
      part,
      turning_in: works,
      locknut,
      held,
      readings,
    });
    const result = answered.steps.at(-1)?.result ?? "";
    return { ...NONE, ...answered, advised: spokenTurns(result), there: result === "no turn" };
  } catch (error) {
    if (error instanceof StopscrewError) return { ...NONE, refused: error.message };
    throw error;
  }
}

/**
 * What the coach says of a maximum: as of any screw, but nothing earlier before a false late reading is ruled out.
 * @param {StepFigure} shown
 * @param {readonly TurnReading[]} turns those that count
 * @param {import("../step-figure.js").JobSetup} given
 * @param {readonly import("./false-late.js").AskedCause[]} causes
 * @returns {Advice}
 */
function ofMaximum(shown, turns, given, causes) {
  const { settable, target } = shown;
  const readings = readingsOf(turns);
  if (!settable || !readings.length) return { ...NONE, answer: [READ_ANEW], asks: true };
  const advice = worked(shown, readings, given);
  if (advice.there || !isLate(readings, target?.show.nominal ?? ZERO)) return advice;
  const fault = readings.every(([, reads]) => {
    const { off, degrees } = judge(settable, reads, given).verdict;
    return off === "late" && isFault(degrees, shown.state);
  });
  const against = againstEarlier(causes, turns, fault);
  return against.length ? { ...NONE, answer: against, asks: true } : { ...advice, asks: true };
}

/**
 * Whether it is now late of the target; so are readings of which nobody knows which is right.
 * @param {ScrewReadings} readings
 * @param {Fraction} target
 */
function isLate(readings, target) {
  try {
    return readsNow(readings, { late: true }).below(target);
  } catch (error) {
    if (error instanceof ReadingsContradict) return readings.at(-1)?.[1].below(target) ?? false;
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
  const stands = turnedBy(turned);
  const words = !stands ? turned.text : stands.sign() ? `${turned.text} ${turned.way}` : "not at all";
  return element(
    "details",
    { class: "turned", "data-fold": id, open: !stands },
    element("summary", {}, `Turned since the last reading: ${words}`),
    field(
      id,
      "Turned since the last reading",
      turned.text,
      (text) => {
        turned.text = text;
      },
      { maxlength: "12" },
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
        redraw();
      },
    ),
  );
}

/**
 * What the coach says now.
 * @param {Workspace} workspace
 * @param {StepFigure} shown
 * @returns {Advice | null} null if there is no target or no reading yet
 */
export function coachFor(workspace, shown) {
  const { page, shared, record } = workspace;
  const turns = record.turns.get(shown.figure) ?? [];
  if (!shown.settable || !shown.target || !turns.length) return null;
  const given = setupFor(page, shared, record, shown.figure);
  if (!isMaximum(shown)) return worked(shown, readingsOf(turns), given);
  const fixed = noScrew(workspace.book, shown.figure);
  if (fixed) return { ...NONE, answer: [fixed] };
  return ofMaximum(shown, readingsThatCount(record, turns), given, causesOf(workspace, shown));
}

/** @param {StepFigure} shown */
const isMaximum = ({ safest }) => lookOf("early", safest) === "alarm";

/** @param {Workspace} workspace @param {StepFigure} shown */
const causesOf = (workspace, { figure, state }) =>
  askedCauses(workspace, state, workspace.record.turns.get(figure) ?? []);

/** The advised turns, as the default for those made. @param {Advice | null} coach @returns {TypedTurns} */
export function asAdvised(coach) {
  const advised = coach?.advised ?? ZERO;
  return { text: turnsText(advised.size()), way: advised.sign() < 0 ? "out" : "in" };
}

/**
 * What is asked or to be known before the screw is turned: what makes a reading falsely late, and whose spark it is.
 * @param {Workspace} workspace
 * @param {StepFigure} shown
 * @param {Advice} coach
 * @returns {(HTMLElement | null)[]}
 */
export function beforeTurning(workspace, shown, coach) {
  const locked = lockedLast(workspace.record, shown.figure, shown.state);
  const cylinder = earliestCylinder(workspace.record, shown.figure);
  return [
    coach.asks && !locked ? causesView(workspace, causesOf(workspace, shown)) : null,
    cylinder ? element("p", {}, `Turned by cylinder ${cylinder}, whose spark is the earliest.`) : null,
  ];
}

/**
 * What the coach's advice is based on: its cautions, the readings so far, the working; and the keys to take them back.
 * @param {Workspace} workspace
 * @param {StepFigure} shown
 * @param {Advice} coach
 */
export function coachView(workspace, shown, coach) {
  const turns = workspace.record.turns.get(shown.figure) ?? [];
  const locked = lockedLast(workspace.record, shown.figure, shown.state);
  const { answer, cautions, remarks, steps } = locked ? SILENT : coach;
  const adjuster = shown.settable?.adjusters?.[shown.figure];
  const rows = turns.map((one) =>
    element("li", {}, `${standsWords(one.turns)}: ${angleInWords(Fraction.of(one.reads))}`),
  );
  const last = turns.at(-1);
  return element(
    "section",
    { class: "screw", "aria-label": "How the turn is worked out" },
    element("h3", {}, adjuster ? `The ${adjuster["part"]}` : "The screw"),
    lines(answer),
    lines(cautions, "careful"),
    element("ul", {}, ...rows),
    ...workingView(steps),
    lines(remarks),
    element(
      "div",
      { class: "keys" },
      last
        ? key("Take the last one back", () => workspace.append("take-back", { entry: last.entry }), {
            id: "coach-back",
          })
        : null,
      anewKey(workspace, shown.figure, "Start again", "coach-forget"),
      key("Say it", () => workspace.aloud(coachSpeech(locked ? NONE : coach)), {
        id: "coach-say",
        hidden: !workspace.canSpeak || Boolean(locked),
      }),
    ),
  );
}

/**
 * The key that begins the readings of a screw anew: those so far say nothing of it from then on.
 * @param {Workspace} workspace
 * @param {string} figure
 * @param {string} said
 * @param {string} id
 */
export const anewKey = (workspace, figure, said, id) =>
  key(said, () => workspace.append("turn", { figure, forget: true }), { id });

/** The coach's words as they are read aloud. @param {Advice} coach */
export const coachSpeech = (coach) => coach.refused || coach.answer.join(". ");

/** @param {string} turns */
const standsWords = (turns) =>
  turns === "0" ? "at the start" : `${turns.replace("-", "")} ${turns.startsWith("-") ? "out" : "in"} from the start`;
