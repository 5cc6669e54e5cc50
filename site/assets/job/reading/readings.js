/** Readings of a step: as found, while the screw is turned, and as left; each with its verdict, none ever lost. */

import { work as spread } from "../../bench/aids/compression.js";
import { element } from "../../dom.js";
import { readQuantity } from "../../quantity/quantity.js";
import { Condition, Noted, SIDES } from "../../vocabulary.js";
import { choice, field, key, lines, refusal } from "../controls.js";
import { asRead } from "../log/record.js";
import { atWords, givenFor, takesDepth, valueWords } from "../step-figure.js";
import { trueWords } from "./as-left.js";
import { askedConditions, legendOf } from "./conditions.js";
import { measured } from "./measured-correction.js";
import { numberPad, takesSides } from "./number-pad.js";
import { asAdvised, coachFor, coachShown, turnedFields } from "./screw-coach.js";
import { listenKey } from "./speech.js";
import { hear, store } from "./take-reading.js";
import { verdictOf } from "./verdict.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../workspace.js").Desk} Desk */
/** @typedef {import("../step-figure.js").Shown} Shown */
/** @typedef {import("../log/record.js").ReadingOf} ReadingOf */
/** @typedef {import("../../book/job.js").JobStep} JobStep */

/**
 * What is being typed at a step; it outlives each drawing of the screen.
 * @typedef {{when: string, state: string, typed: import("./number-pad.js").Typed, conditions: Record<string, string>,
 *   replaces: string, refused: string, turned: import("./screw-coach.js").Turned}} Draft
 */

const WHENS = new Map([
  ["found", "as found"],
  ["turning", "while turning"],
  ["left", "as left"],
]);

/** A reading's conditions, the cylinder among them. @param {ReadingOf} reading @returns {Document} */
export const atOf = ({ conditions, cylinder }) => ({ ...(cylinder ? { cylinder } : {}), ...conditions });

/**
 * When and under what it was read; and the true angle, where the pointer does not stand right.
 * @param {ReadingOf} reading
 * @param {Desk} desk
 */
export function whereWords(reading, { record }) {
  const { printed, read } = trueWords(reading.value, record.deadCentre);
  return [reading.state.replaceAll("-", " "), atWords(atOf(reading)), read && `truly ${printed}`]
    .filter(Boolean)
    .join(", ");
}

/** @param {ReadingOf} reading @param {readonly Shown[]} shown @param {Desk} desk */
export const judged = (reading, shown, desk) =>
  verdictOf(
    shown,
    { value: reading.value, state: reading.state, at: atOf(reading) },
    givenFor(desk.page, desk.shared, asRead(desk.record, reading), reading.figure),
  );

/**
 * The part of a step's screen that takes and shows readings.
 * @param {Desk} desk
 * @param {JobStep} step
 * @param {readonly Shown[]} shown
 */
export function readingsOf(desk, step, shown) {
  const kind = desk.shared["figures"][step.figure];
  const units = unitsOf(kind);
  const coachable =
    takesSides(units) && step.records.includes(Noted.AS_LEFT) ? (shown.find((one) => one.aimed) ?? null) : null;
  const draft = desk.draft(step.id, () => firstDraft(desk, step, kind, shown, units, coachable));
  const { found, left } = desk.record;
  const noted = [...(found.get(step.figure) ?? []), ...(left.get(step.figure) ?? [])];
  const latest = noted
    .map((one) => one.time)
    .sort()
    .at(-1);
  const told = noted.map((one) => readingRow(desk, one, shown, draft, one.time === latest));
  return element(
    "section",
    { class: "readings", "aria-label": "Readings" },
    element("h2", {}, "Readings"),
    told.length ? element("ul", { class: "noted" }, ...told) : element("p", {}, "None noted yet."),
    spreadOf(desk, step.figure),
    measured(desk, step.figure),
    coachable && coachShown(desk, coachable),
    form(desk, step, kind, shown, units, coachable, draft),
  );
}

/**
 * The units that can be typed here: windows over dead centre are of pages, not of readings.
 * @param {Document} kind
 * @returns {string[]}
 */
const unitsOf = (kind) =>
  kind["units"].filter((/** @type {string} */ unit) => !unit.startsWith("cranking_") && unit !== "by_rpm");

/**
 * @param {Desk} desk
 * @param {JobStep} step
 * @param {Document} kind
 * @param {readonly Shown[]} shown
 * @param {readonly string[]} units
 * @param {Shown | null} coachable
 * @returns {Draft}
 */
function firstDraft(desk, step, kind, shown, units, coachable) {
  const states = /** @type {string[]} */ (kind["states"]);
  const held = shown.map((one) => one.state).filter((state) => states.includes(state));
  const state =
    states.includes(desk.record.state) && (!held.length || held.includes(desk.record.state))
      ? desk.record.state
      : (held[0] ?? states[0] ?? "");
  const printed = shown.find((one) => one.value)?.value ?? {};
  const worded = shown.some((one) => !one.value && !one.told.problem && !one.told.depends.length);
  const unit = takesSides(units)
    ? "deg"
    : (units.find((one) => one in printed) ??
      (worded && units.find((one) => one === "mark" || one === "code")) ??
      units[0] ??
      "");
  const found = desk.record.found.get(step.figure)?.length;
  const when =
    step.records.includes(Noted.AS_FOUND) && !found ? "found" : step.records.includes(Noted.AS_LEFT) ? "left" : "found";
  return {
    when: found && takesSides(units) && step.records.includes(Noted.AS_LEFT) ? "turning" : when,
    state,
    typed: { text: "", unit: unit || "", side: sideOf(shown, state) },
    conditions: {},
    replaces: "",
    refused: "",
    turned: coachable ? asAdvised(coachFor(desk, coachable)) : { text: "0", way: "in" },
  };
}

/** The side of the printed figure, where it has but one. @param {readonly Shown[]} shown @param {string} state */
function sideOf(shown, state) {
  const value = shown.find((one) => one.state === state)?.value ?? {};
  return "btdc" in value ? "btdc" : "atdc" in value ? "atdc" : "";
}

/**
 * What was read, with its verdict; behind it what follows, and the ways to mend it.
 * @param {Desk} desk
 * @param {ReadingOf} reading
 * @param {readonly Shown[]} shown
 * @param {Draft} draft
 * @param {boolean} last
 */
function readingRow(desk, reading, shown, draft, last) {
  const verdict = judged(reading, shown, desk);
  const where = whereWords(reading, desk);
  const again = () => {
    const [unit = ""] = Object.keys(reading.value);
    Object.assign(draft, {
      when: reading.when,
      state: reading.state || draft.state,
      replaces: reading.entry,
      refused: "",
      conditions: { ...atOf(reading) },
    });
    draft.typed = {
      text: "",
      unit: SIDES.includes(unit) ? draft.typed.unit : unit,
      side: draft.typed.side,
    };
    desk.redraw("reading");
  };
  const [first, second, ...rest] = verdict.more;
  const urgent =
    last && verdict.off && verdict.off !== "inside" ? [first, second].filter((line) => line !== undefined) : [];
  return element(
    "li",
    { class: `verdict ${verdict.off || "none"}` },
    element(
      "details",
      {},
      element(
        "summary",
        {},
        element(
          "span",
          {},
          `${WHENS.get(reading.when)}: `,
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
        key("Take back", () => desk.append("take-back", { entry: reading.entry }), {
          id: `back-${reading.entry}`,
          "aria-label": `Take back ${valueWords(reading.value)}`,
        }),
      ),
    ),
    lines(urgent),
  );
}

/**
 * What is aimed at, again beside the keys, and never without what is printed.
 * @param {readonly Shown[]} shown
 * @param {string} state
 */
function aimLine(shown, state) {
  const like = shown.find((one) => one.state === state && one.aimed && one.asked);
  if (!like?.aimed || !like.asked) return null;
  const { told, asked, aimed } = like;
  return element(
    "p",
    { class: "aim" },
    `Set ${aimed.show} `,
    element("small", {}, `${told.from || `printed ${asked.printed}`}, ${told.source}`),
  );
}

/**
 * Of cylinders that are each read, the first that was not yet.
 * @param {Desk} desk @param {string} figure @param {string} when @param {import("./conditions.js").Asked} asked
 */
function unread({ record }, figure, when, { name, needed, options }) {
  if (name !== Condition.CYLINDER || !needed) return undefined;
  const read = new Set((record[when === "left" ? "left" : "found"].get(figure) ?? []).map((one) => one.cylinder));
  return options.find(([number]) => !read.has(number))?.[0];
}

/**
 * How far the cylinders are apart, once two or more were read in one unit.
 * @param {Desk} desk
 * @param {string} figure
 */
function spreadOf(desk, figure) {
  if (figure !== "compression") return null;
  const held = (desk.record.found.get(figure) ?? []).filter((one) => one.cylinder);
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

/**
 * @param {Desk} desk
 * @param {JobStep} step
 * @param {Document} kind
 * @param {readonly Shown[]} shown
 * @param {readonly string[]} units
 * @param {Shown | null} coachable
 * @param {Draft} draft
 */
function form(desk, step, kind, shown, units, coachable, draft) {
  const redraw = () => desk.redraw();
  const coachHere = Boolean(coachable && coachable.state === draft.state);
  const whens = [
    ...(step.records.includes(Noted.AS_FOUND) ? ["found"] : []),
    ...(coachHere ? ["turning"] : []),
    ...(step.records.includes(Noted.AS_LEFT) ? ["left"] : []),
  ];
  if (!whens.includes(draft.when)) draft.when = whens.at(-1) ?? "found";
  const asked = askedConditions(desk.page, kind, step.figure, shown, draft.state);
  for (const one of asked) draft.conditions[one.name] ??= unread(desk, step.figure, draft.when, one) ?? one.usual;
  const locknut = coachable?.asked?.adjusters?.[step.figure]?.["locknut"] !== "false";
  const name =
    draft.when === "found"
      ? "Note as found"
      : draft.when === "turning"
        ? "Give it to the coach"
        : coachHere && locknut
          ? "Locked, reads this: as left"
          : "Note as left";
  const turning = draft.when === "turning" && (desk.record.turns.get(step.figure)?.length ?? 0) > 0;
  const ear = takesSides(units) ? listenKey("Say the reading", (heard) => hear(desk, draft, heard, turning)) : null;
  const made = element(
    "form",
    { class: "take", novalidate: true },
    draft.replaces &&
      element(
        "p",
        {},
        "This takes the place of the reading chosen above. ",
        key(
          "Leave it as it was",
          () => {
            draft.replaces = "";
            redraw();
          },
          { id: "not-replace" },
        ),
      ),
    whens.length > 1 &&
      choice(
        "when",
        "This reading is",
        whens.map((when) => [
          when,
          when === "left" && coachHere && locknut ? "locked: as left" : (WHENS.get(when) ?? when),
        ]),
        draft.when,
        (when) => {
          Object.assign(draft, { when, refused: "" });
          redraw();
        },
      ),
    kind["states"].length > 1 &&
      choice(
        "state",
        "Read",
        kind["states"].map((/** @type {string} */ state) => [state, state.replaceAll("-", " ")]),
        draft.state,
        (state) => {
          Object.assign(draft, { state, conditions: {}, refused: "" });
          redraw();
        },
      ),
    ...asked.map((one) =>
      one.options.length
        ? choice(one.name, legendOf(one.name), one.options, draft.conditions[one.name] ?? "", (value) => {
            draft.conditions[one.name] = value;
          })
        : field(
            one.name,
            legendOf(one.name),
            draft.conditions[one.name] ?? "",
            (value) => {
              draft.conditions[one.name] = value;
            },
            { inputmode: "numeric", class: "reading-box" },
          ),
    ),
    turning && turnedFields("turned", draft.turned, redraw),
    aimLine(shown, draft.state),
    numberPad("reading", "It reads", units, draft.typed, takesDepth(desk.page, shown), redraw),
    ear,
    refusal(draft.refused),
    element("button", { type: "submit", class: "main-key", id: "store" }, name),
  );
  made.addEventListener("submit", (event) => {
    event.preventDefault();
    void store(desk, step, shown, units, coachable, draft, asked);
  });
  return made;
}
