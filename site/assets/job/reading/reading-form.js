/** The form that takes a reading at a step: which reading it is, its conditions, the number keys. */

import { element } from "../../dom.js";
import { recall } from "../../phone-storage.js";
import { Condition, Noted, State } from "../../vocabulary.js";
import { choice, field, key, refusal } from "../controls.js";
import { takesDepth } from "../step-figure.js";
import { conditionFields, legendOf } from "./conditions.js";
import { earliestCylinder } from "./each-cylinder.js";
import { numberPad, takesSides } from "./number-pad.js";
import { asksNut, NUTS, SLACK, whenByNut } from "./nut.js";
import { asAdvised, coachFor, turnedFields } from "./screw-coach.js";
import { listenKey } from "./speech.js";
import { asksLag, hear, LAG, store } from "./take-reading.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {import("../step-figure.js").StepFigure} StepFigure */
/** @typedef {import("../../book/job.js").FigureStep} FigureStep */

/**
 * What is being typed at a step; it survives a redraw. `nut` is how the lock nut is, empty until somebody says so; where
 * that is asked, `when` follows from it.
 * @typedef {{when: string, nut: string, state: string, typed: import("./number-pad.js").TypedReading,
 *   conditions: Record<string, string>, replaces: string, refused: string, lag: string,
 *   turned: import("./screw-coach.js").TypedTurns}} ReadingDraft
 */

/** Which reading it is, in words. */
export const WHENS = new Map([
  ["found", "as found"],
  ["turning", "while turning"],
  ["left", "as left"],
]);

/** What the key that keeps a reading says, so that everyone sees what it will count as. */
const KEEPS = new Map([
  ["found", "Keep as found"],
  ["turning", "Keep, and work out the next turn"],
  ["left", "Keep as left"],
]);

/**
 * The units that can be typed; only pages have windows over dead centre and corrections, not readings.
 * @param {Document} kind
 * @returns {string[]}
 */
export const unitsOf = (kind) =>
  kind["units"].filter((/** @type {string} */ unit) => !unit.startsWith("cranking_") && unit !== "by_rpm");

/**
 * @param {Workspace} workspace
 * @param {FigureStep} step
 * @param {Document} kind
 * @param {readonly StepFigure[]} shown
 * @param {readonly string[]} units
 * @param {StepFigure | null} coachable
 * @returns {ReadingDraft}
 */
export function firstDraft(workspace, step, kind, shown, units, coachable) {
  const states = /** @type {string[]} */ (kind["states"]);
  const held = shown.map((one) => one.state).filter((state) => states.includes(state));
  const state = step.state || (held[0] ?? states[0] ?? "");
  const printed = shown.find((one) => one.value)?.value ?? {};
  const worded = shown.some((one) => !one.value && !one.stated.problem && !one.stated.depends.length);
  const unit = takesSides(units)
    ? depthUnit(step, shown)
    : (units.find((one) => one in printed) ??
      (worded && units.find((one) => one === "mark" || one === "code")) ??
      units[0] ??
      "");
  const found = workspace.record.found.get(step.figure)?.length;
  const when =
    step.records.includes(Noted.AS_FOUND) && !found ? "found" : step.records.includes(Noted.AS_LEFT) ? "left" : "found";
  return {
    when: found && takesSides(units) && step.records.includes(Noted.AS_LEFT) ? "turning" : when,
    nut: "",
    state,
    typed: { text: "", unit: unit || "", side: "" },
    conditions: {},
    replaces: "",
    refused: "",
    lag: recall(LAG),
    turned: coachable ? asAdvised(coachFor(workspace, coachable)) : { text: "0", way: "in" },
  };
}

/**
 * The unit in which a crank position is typed first: degrees, or at a step that reads the piston's height its unit.
 * @param {FigureStep} step
 * @param {readonly StepFigure[]} shown
 */
function depthUnit({ state }, shown) {
  const here = shown.find((one) => one.value && one.state === state);
  const [place] = Object.values(here?.value ?? {});
  const [unit = "deg"] = state === State.STATIC && place && !Array.isArray(place) ? Object.keys(place) : [];
  return unit === "mm" || unit === "in" ? unit : "deg";
}

/**
 * The first cylinder not read yet, for figures that are read on each.
 * @param {Workspace} workspace @param {FigureStep} step @param {string} when @param {import("./conditions.js").ConditionField} asked
 */
function unread({ record }, step, when, { name, needed, options }) {
  if (name !== Condition.CYLINDER || !needed) return undefined;
  const isLeft = when === "left" || !step.records.includes(Noted.AS_FOUND);
  const read = new Set((record[isLeft ? "left" : "found"].get(step.figure) ?? []).map((one) => one.cylinder));
  return options.find(([number]) => !read.has(number))?.[0];
}

/**
 * @param {Workspace} workspace
 * @param {FigureStep} step
 * @param {Document} kind
 * @param {readonly StepFigure[]} shown
 * @param {readonly string[]} units
 * @param {StepFigure | null} coachable
 * @param {ReadingDraft} draft
 */
export function readingForm(workspace, step, kind, shown, units, coachable, draft) {
  const redraw = () => workspace.redraw();
  const coachHere = Boolean(coachable && coachable.state === draft.state);
  const byNut = asksNut(workspace.page, kind, step);
  const whens = [
    ...(step.records.includes(Noted.AS_FOUND) ? ["found"] : []),
    ...(coachHere ? ["turning"] : []),
    ...(step.records.includes(Noted.AS_LEFT) ? ["left"] : []),
  ];
  if (!byNut && !whens.includes(draft.when)) draft.when = whens.at(-1) ?? "found";
  const asked = conditionFields(workspace.page, kind, step.figure, shown, draft.state);
  const cylinder = draft.conditions[Condition.CYLINDER] ?? "";
  if (byNut && !draft.replaces) draft.when = whenByNut(workspace.record, step, draft.nut, cylinder);
  for (const one of asked) draft.conditions[one.name] ??= unread(workspace, step, draft.when, one) ?? one.usual;
  const turned = (workspace.record.turns.get(step.figure)?.length ?? 0) > 0;
  const turning = draft.when === "turning" && turned;
  const ear = takesSides(units)
    ? listenKey("Say the reading", (heard) =>
        hear(workspace, draft, heard, coachHere && turned && draft.when !== "left"),
      )
    : null;
  const pad = numberPad("reading", "It reads", units, draft.typed, takesDepth(workspace.page, shown), redraw);
  const isSeldom = (/** @type {import("./conditions.js").ConditionField} */ one) =>
    one.options.length > 0 && !one.needed && takesSides(units);
  const conditions = (/** @type {boolean} */ seldom) =>
    asked.filter((one) => isSeldom(one) === seldom).map((one) => conditionField(one, draft));
  const isLagAsked = takesSides(units) && asksLag(asked, draft.state);
  const others = [
    ...conditions(true),
    isLagAsked ? element("p", {}, LAG_WORDS) : null,
    takesSides(units) ? pad.unit : null,
    ear,
  ].filter((one) => one !== null);
  const made = element(
    "form",
    { class: "take", novalidate: true, "aria-label": "Take a reading" },
    draft.replaces && replacing(draft, redraw),
    whens.length > 1 &&
      !byNut &&
      choice(
        "when",
        "This reading is",
        whens.map((when) => [when, WHENS.get(when) ?? when]),
        draft.when,
        (when) => {
          Object.assign(draft, { when, refused: "" });
          redraw();
        },
        "bare",
      ),
    kind["states"].length > 1 &&
      !step.state &&
      choice(
        "state",
        "Read",
        kind["states"].map((/** @type {string} */ state) => [state, state.replaceAll("-", " ")]),
        draft.state,
        (state) => {
          Object.assign(draft, { state, conditions: {}, refused: "" });
          redraw();
        },
        "bare",
      ),
    briefly([...conditions(false), isLagAsked ? lagField(draft) : null, takesSides(units) ? null : pad.unit]),
    turning && turnedFields("turned", draft.turned, redraw),
    pad.row,
    byNut &&
      choice(
        "nut",
        "The lock nut",
        NUTS,
        draft.nut,
        (nut) => {
          Object.assign(draft, { nut, refused: "" });
          const by = nut === SLACK && earliestCylinder(workspace.record, step.figure);
          if (by) draft.conditions[Condition.CYLINDER] = by;
          redraw();
        },
        "bare",
      ),
    pad.digits,
    refusal(draft.refused),
    element(
      "div",
      { class: "two" },
      element("button", { type: "submit", class: "main-key", id: "store" }, KEEPS.get(draft.when) ?? "Keep"),
    ),
    others.length
      ? element(
          "details",
          { class: "other-ways", "data-fold": "other-ways" },
          element("summary", {}, ["Another way to read", ...seldomWords(asked.filter(isSeldom), draft)].join(" · ")),
          ...others,
        )
      : null,
  );
  made.addEventListener("submit", (event) => {
    event.preventDefault();
    void workspace.inTurn(() => store(workspace, step, shown, units, coachable, draft, asked));
  });
  return made;
}

/** @param {import("./conditions.js").ConditionField} one @param {ReadingDraft} draft */
function conditionField(one, draft) {
  const keep = (/** @type {string} */ value) => {
    draft.conditions[one.name] = value;
  };
  const value = draft.conditions[one.name] ?? "";
  const legend = legendOf(one.name);
  const said = `${legend.toLowerCase()} `; // beside it, "engine cold" is "cold"
  const options = one.options.map(
    ([option, words]) => /** @type {const} */ ([option, words.startsWith(said) ? words.slice(said.length) : words]),
  );
  return one.options.length
    ? choice(one.name, legend, options, value, keep, "aside")
    : field(one.name, legend, value, keep, { inputmode: "numeric" });
}

/**
 * What is chosen of the conditions that are folded away.
 * @param {import("./conditions.js").ConditionField[]} asked
 * @param {ReadingDraft} draft
 */
const seldomWords = (asked, draft) =>
  asked.flatMap(({ name, options }) => {
    const chosen = draft.conditions[name];
    return chosen ? [options.find(([value]) => value === chosen)?.[1] ?? chosen] : [];
  });

/** What is asked with a reading: short fields side by side. @param {readonly (HTMLElement | null)[]} fields */
const briefly = (fields) => (fields.some((one) => one) ? element("div", { class: "asked" }, ...fields) : null);

const LAG_WORDS =
  "The light's own lag stands in µs where its maker states it: 40 µs shows a spark 1.2° late at 5000 rpm, and is taken out.";

/** @param {ReadingDraft} draft */
const lagField = (draft) =>
  field(
    "lag",
    "The light's own lag, µs",
    draft.lag,
    (value) => {
      draft.lag = value;
    },
    { inputmode: "decimal" },
  );

/** @param {ReadingDraft} draft @param {() => void} redraw */
const replacing = (draft, redraw) =>
  element(
    "p",
    {},
    "This replaces the reading chosen below. ",
    key(
      "Leave it as it was",
      () => {
        draft.replaces = "";
        redraw();
      },
      { id: "not-replace" },
    ),
  );
