/** The readings of a step, each with its verdict; the screw coach and the form for the next reading. */

import { work as spread } from "../../bench/aids/compression.js";
import { element } from "../../dom.js";
import { readQuantity } from "../../quantity/quantity.js";
import { Noted, SIDES } from "../../vocabulary.js";
import { key, lines } from "../controls.js";
import { readingsOf } from "../log/readings-of.js";
import { conditionsInWords, setHere, signedAngle, valueWords } from "../step-figure.js";
import { isAdrift, trueWords } from "./as-left.js";
import { lastReading } from "./last-reading.js";
import { lastView } from "./last-view.js";
import { lagWords } from "./light-lag.js";
import { measuredView } from "./measured-correction.js";
import { isTyped, takesSides } from "./number-pad.js";
import { octaneFault } from "./octane.js";
import { firstDraft, readingForm, unitsOf, WHENS } from "./reading-form.js";
import { beforeTurning, coachFor, coachView } from "./screw-coach.js";
import { atOf, verdictOn } from "./verdict.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {import("../step-figure.js").StepFigure} StepFigure */
/** @typedef {import("../log/record.js").JobReading} JobReading */
/** @typedef {import("../../book/job.js").FigureStep} FigureStep */

/**
 * The state and conditions of a reading; and the true angle, if the pointer is off.
 * @param {JobReading} reading
 */
export function whereWords(reading) {
  const { printed, read } = trueWords(reading.value, reading.pointer);
  const truly = isAdrift(reading) ? "by a pointer that was moved" : read && `truly ${printed}`;
  const lag = lagWords(reading, signedAngle(reading.value));
  return [reading.state.replaceAll("-", " "), conditionsInWords(atOf(reading)), lag, truly].filter(Boolean).join(", ");
}

const LOOSENED = "as left, before the nut was slack again";

/** Under which what is typed for a figure of a step is kept. @param {FigureStep} step */
export const draftOf = ({ id, figure, figures }) => (figures.length > 1 ? `${id} ${figure}` : id);

/**
 * The parts of a step's screen for its readings: how the last one stands, the form for the next, and what was noted so far.
 * @param {Workspace} workspace
 * @param {FigureStep} step
 * @param {readonly StepFigure[]} shown
 */
export function readingParts(workspace, step, shown) {
  const kind = workspace.shared["figures"][step.figure];
  const units = unitsOf(kind);
  const coachable = takesSides(units) && step.records.includes(Noted.AS_LEFT) ? setHere(step, shown) : null;
  const draft = workspace.draft(
    draftOf(step),
    () => firstDraft(workspace, step, kind, shown, units, coachable),
    ({ typed, nut }) => isTyped(typed) || nut !== "",
  );
  const coach = coachable && coachFor(workspace, coachable);
  const noted = readingsOf(workspace.record, step.figure);
  const last = lastReading(workspace.record, step.figure)?.noted;
  const rows = noted.map((one) => readingRow(workspace, one, shown, draft, one === last));
  return {
    last: lastView(workspace, step.figure, shown, coachable, coach),
    form: readingForm(workspace, step, kind, shown, units, coachable, draft),
    noted: notedView(
      [
        ...(coach ? beforeTurning(workspace, coachable, coach) : []),
        last ? octaneView(shown, last) : null,
        spreadOf(workspace, step.figure),
        measuredView(workspace, step.figure),
      ],
      rows,
      coach && coachView(workspace, coachable, coach),
    ),
  };
}

/** What is wrong with the petrol that was filled last; it stays in sight. @param {readonly StepFigure[]} shown @param {JobReading} last */
function octaneView(shown, { conditions }) {
  const words = octaneFault(shown, conditions);
  return words ? element("p", { class: "refused" }, words) : null;
}

/**
 * What was read so far, and the working of the coach, behind one line: how the last reading stands is above the form.
 * @param {readonly (HTMLElement | null)[]} inSight
 * @param {readonly HTMLElement[]} rows
 * @param {HTMLElement | null} coach
 */
function notedView(inSight, rows, coach) {
  const shown = inSight.filter((one) => one !== null);
  if (!shown.length && !rows.length && !coach) return null;
  return element(
    "section",
    { class: "readings", "aria-label": "Readings" },
    ...shown,
    rows.length || coach
      ? element(
          "details",
          { id: "readings", "data-fold": "readings" },
          element("summary", {}, `Readings (${rows.length})`),
          rows.length ? element("ul", { class: "noted" }, ...rows) : null,
          coach,
        )
      : null,
  );
}

/**
 * A reading with its verdict; folded behind it what follows, and keys to correct it.
 * @param {Workspace} workspace
 * @param {JobReading} reading
 * @param {readonly StepFigure[]} shown
 * @param {import("./reading-form.js").ReadingDraft} draft
 * @param {boolean} last
 */
function readingRow(workspace, reading, shown, draft, last) {
  const verdict = verdictOn(reading, shown, workspace);
  const where = whereWords(reading);
  const again = () => {
    const [unit = ""] = Object.keys(reading.value);
    Object.assign(draft, {
      when: reading.when,
      state: reading.state || draft.state,
      replaces: reading.entry,
      nut: "",
      refused: "",
      conditions: { ...atOf(reading) },
    });
    draft.typed = {
      text: "",
      unit: SIDES.includes(unit) ? draft.typed.unit : unit,
      side: "",
    };
    workspace.redraw("reading");
  };
  const [first, second, ...rest] = verdict.more;
  const urgent =
    last && verdict.off && verdict.off !== "inside" ? [first, second].filter((line) => line !== undefined) : [];
  return element(
    "li",
    { class: `verdict ${verdict.look}` },
    element(
      "details",
      {},
      element(
        "summary",
        {},
        element(
          "span",
          {},
          `${reading.loosened ? LOOSENED : WHENS.get(reading.when)}: `,
          element("strong", {}, valueWords(reading.value)),
          ` ${where} `,
          element(
            "span",
            { class: "judged" },
            element("span", { class: "sign", "aria-hidden": "true" }, verdict.sign),
            ` ${verdict.words}`,
          ),
        ),
      ),
      lines(urgent.length ? rest : verdict.more),
      element(
        "div",
        { class: "keys" },
        key("Replace", again, { id: `replace-${reading.entry}`, "aria-label": `Replace ${valueWords(reading.value)}` }),
        key("Take back", () => workspace.append("take-back", { entry: reading.entry }), {
          id: `back-${reading.entry}`,
          "aria-label": `Take back ${valueWords(reading.value)}`,
        }),
      ),
    ),
    lines(urgent),
  );
}

/**
 * The spread of the cylinders, once two or more were read in one unit.
 * @param {Workspace} workspace
 * @param {string} figure
 */
function spreadOf(workspace, figure) {
  if (figure !== "compression") return null;
  const held = (workspace.record.found.get(figure) ?? []).filter((one) => one.cylinder);
  const [unit = ""] = Object.keys(held[0]?.value ?? {});
  const numbers = [...new Map(held.map((one) => [Number(one.cylinder), one])).entries()].sort(
    ([one], [other]) => one - other,
  );
  const values = numbers
    .flatMap(([, one]) => (unit in one.value ? [readQuantity(one.value).nominal] : []))
    .flatMap((value) => (value ? [value] : []));
  if (values.length < 2 || values.length !== numbers.length || numbers.some(([number], place) => number !== place + 1))
    return null;
  const worked = spread({ unit, readings: values });
  return element("div", { class: "spread" }, lines(worked.answer), lines(worked.remarks.slice(1)));
}
