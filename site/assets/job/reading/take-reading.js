/**
 * Turns what was typed or spoken at a step into an entry: a reading as found or as left, or one while turning the
 * screw; or says why not.
 */

import { StopscrewError } from "../../errors.js";
import { remember } from "../../phone-storage.js";
import { Fraction } from "../../quantity/fraction.js";
import { COUNTED, Condition, Noted, State } from "../../vocabulary.js";
import { pointerOpen } from "../log/pointer-history.js";
import { setupFor, signedAngle } from "../step-figure.js";
import { legendOf, SCALE } from "./conditions.js";
import { draggedWords } from "./last-reading.js";
import { lagDegrees, withoutLag } from "./light-lag.js";
import { keepMeasured, signedText } from "./measured-correction.js";
import { typedValue } from "./number-pad.js";
import { asksNut, NOT_SLACK, requireNut, SLACK, spokenNut, whenByNut } from "./nut.js";
import { asAdvised, coachFor, coachSpeech, stands, turnedBy } from "./screw-coach.js";
import { spokenReading, spokenTurns, turnsText } from "./spoken-reading.js";
import { spokenVerdict, verdictOf } from "./verdict.js";

/** Under which the phone keeps the lag of its mechanic's light. */
export const LAG = "stopscrew-light-lag";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {import("../step-figure.js").StepFigure} StepFigure */
/** @typedef {import("./reading-form.js").ReadingDraft} ReadingDraft */
/** @typedef {import("../../book/job.js").FigureStep} FigureStep */

/** @param {Workspace} workspace @param {ReadingDraft} draft @param {string} heard @param {boolean} turning */
export function hear(workspace, draft, heard, turning) {
  const { nut, rest } = spokenNut(heard);
  const reading = spokenReading(rest);
  const turned = turning ? spokenTurns(rest) : null;
  if (nut) draft.nut = nut;
  if (reading) draft.typed = { ...draft.typed, text: reading.text, side: reading.side || draft.typed.side };
  else if (turned) draft.turned = { text: turnsText(turned.size()), way: turned.sign() < 0 ? "out" : "in" };
  draft.refused =
    reading || turned || (nut && !rest)
      ? ""
      : `heard “${heard.slice(0, 60)}”: say the degrees and before or after, such as “twenty two before”, ` +
        "or the turns and in or out";
  workspace.redraw("store");
}

/**
 * Note what was typed; what is wrong with it is said, and stays to be mended.
 * @param {Workspace} workspace
 * @param {FigureStep} step
 * @param {readonly StepFigure[]} shown
 * @param {readonly string[]} units
 * @param {StepFigure | null} coachable
 * @param {ReadingDraft} draft
 * @param {import("./conditions.js").ConditionField[]} asked
 */
export async function store(workspace, step, shown, units, coachable, draft, asked) {
  const { figure } = step;
  const { text, side } = draft.typed;
  const { nut } = draft;
  try {
    const read = typedValue(draft.typed, units);
    settleWhen(workspace, step, draft);
    const late = lagOf(read, draft, asked);
    const shownAt = signedAngle(read);
    const value = late && shownAt ? withoutLag(shownAt, late) : read;
    const signed = signedAngle(value);
    const turns = workspace.record.turns.get(figure) ?? [];
    const open = signed ? pointerOpen(workspace.record.pointer) : "";
    if (open) throw new StopscrewError(`it cannot be reckoned: ${open}`);
    const isTurning = draft.when === "turning";
    if (isTurning && draft.nut && !(signed && coachable && coachable.state === draft.state))
      throw new StopscrewError(NOT_SLACK);
    if (isTurning && signed && coachable) {
      const turned = turns.length ? turnedBy(draft.turned) : turnedBy({ text: "0", way: "in" });
      if (!turned)
        throw new StopscrewError(
          `'${draft.turned.text}' is not a number of turns: type for example 1/2 or 1 1/4, and choose in or out`,
        );
      empty(draft); // what is typed meanwhile is the next reading
      await workspace.append("turn", {
        figure,
        turns: turnsText(stands(turns).plus(turned)),
        reads: signedText(signed),
        ...atCylinder(draft, asked),
      });
      const coach = coachFor(workspace, coachable);
      Object.assign(draft, { refused: "", turned: asAdvised(coach), when: coach?.there ? "left" : "turning" });
      workspace.say(coach ? coachSpeech(coach) : "", true);
    } else await storeReading(workspace, step, shown, draft, asked, value, signed, coachable);
    workspace.redraw("reading");
  } catch (error) {
    if (!(error instanceof StopscrewError)) throw error;
    draft.refused = error.message;
    draft.typed.text ||= text;
    draft.typed.side ||= side;
    draft.nut ||= nut;
    workspace.redraw("reading");
  }
}

/** The boxes of a reading that is noted are empty, and nothing is chosen for the next. @param {ReadingDraft} draft */
function empty(draft) {
  Object.assign(draft.typed, { text: "", side: "" });
  draft.nut = "";
}

/**
 * Which reading it is, where the lock nut says so. One that takes the place of another stays what that was; with the nut
 * slack it cannot be one as left.
 * @param {Workspace} workspace
 * @param {FigureStep} step
 * @param {ReadingDraft} draft
 * @throws {StopscrewError} nobody said how the nut is
 */
function settleWhen({ page, shared, record }, step, draft) {
  if (!asksNut(page, shared["figures"][step.figure], step)) return;
  requireNut(draft.nut, draft.typed.text.trim());
  const byNut = whenByNut(record, step, draft.nut, draft.conditions[Condition.CYLINDER] ?? "");
  if (!draft.replaces) draft.when = byNut;
  else if (draft.when === "left" && byNut === "turning") throw new StopscrewError(NOT_SLACK);
}

/**
 * The cylinder at which it was read, where each has its own.
 * @param {ReadingDraft} draft
 * @param {import("./conditions.js").ConditionField[]} asked
 */
function atCylinder({ conditions }, asked) {
  const cylinder = asked.some(({ name }) => name === Condition.CYLINDER) ? conditions[Condition.CYLINDER] : "";
  return cylinder ? { cylinder } : {};
}

/**
 * The part that is read next: as left the first that was not read since the nut was slack, else the following one.
 * @param {Workspace} workspace
 * @param {string} figure
 * @param {string} when
 * @param {import("./conditions.js").ConditionField} counted
 * @param {string} read
 */
function nextOf({ record }, figure, when, { name, options }, read) {
  const locked = new Set((record.left.get(figure) ?? []).map(({ cylinder }) => cylinder));
  const isNext = (/** @type {string} */ number) =>
    when === "left" && name === Condition.CYLINDER ? !locked.has(number) : Number(number) === Number(read) + 1;
  return read && options.find(([number]) => number && isNext(number))?.[0];
}

/**
 * Whether the light's own lag is asked for: running, at a speed.
 * @param {readonly import("./conditions.js").ConditionField[]} asked
 * @param {string} state
 */
export const asksLag = (asked, state) => state === State.RUNNING && asked.some(({ name }) => name === Condition.RPM);

/**
 * By how much the light showed what was typed late, in degrees; null if its lag was not asked for or is not known.
 * @param {Document} read
 * @param {ReadingDraft} draft
 * @param {readonly import("./conditions.js").ConditionField[]} asked
 */
function lagOf(read, { lag, state, conditions }, asked) {
  if (!lag.trim() || !signedAngle(read) || !asksLag(asked, state)) return null;
  return lagDegrees(lag, conditions[Condition.RPM] ?? "");
}

/**
 * @param {Workspace} workspace
 * @param {FigureStep} step
 * @param {readonly StepFigure[]} shown
 * @param {ReadingDraft} draft
 * @param {import("./conditions.js").ConditionField[]} asked
 * @param {Document} value
 * @param {Fraction | null} signed
 * @param {StepFigure | null} coachable
 */
async function storeReading(workspace, step, shown, draft, asked, value, signed, coachable) {
  const { figure } = step;
  const said = Object.fromEntries(
    asked.map((one) => [one.name, (draft.conditions[one.name] ?? "").trim()]).filter(([, one]) => one),
  );
  const lacking = asked.find((one) => one.needed && !said[one.name]);
  if (lacking)
    throw new StopscrewError(
      `choose the ${legendOf(lacking.name).toLowerCase()} too: without it the reading cannot be compared`,
    );
  const { cylinder = "", [SCALE]: scale = "", ...plain } = said;
  const where = atCylinder(draft, asked);
  const octane = plain[Condition.OCTANE];
  const conditions = octane ? { ...plain, [Condition.OCTANE]: { [scale]: octane } } : plain;
  const when = draft.when === "left" ? "left" : "found";
  const isSlack = draft.nut === SLACK;
  empty(draft);
  await workspace.append("reading", {
    step: step.id,
    figure,
    when,
    value,
    state: draft.state,
    ...(Object.keys(conditions).length ? { conditions } : {}),
    ...where,
    ...(draft.replaces ? { replaces: draft.replaces } : {}),
    ...(asksLag(asked, draft.state) && draft.lag.trim() && signed ? { lag: draft.lag.trim() } : {}),
  });
  if (asksLag(asked, draft.state)) remember(LAG, draft.lag.trim());
  if (when === "left") await keepMeasured(workspace);
  // The coach begins where the screw was found, at the cylinder whose spark is the earliest.
  const begun = workspace.record.turns.get(figure) ?? [];
  const isEarliest = begun.every(({ turns, reads }) => turns === "0" && signed?.above(Fraction.of(reads)));
  if (when === "found" && signed && coachable?.state === draft.state && isEarliest && (cylinder || !begun.length))
    await workspace.append("turn", { figure, turns: "0", reads: signedText(signed), ...where });
  const coach = coachable?.state === draft.state ? coachFor(workspace, coachable) : null;
  const verdict = verdictOf(
    shown,
    { value, state: draft.state, at: { ...where, ...conditions } },
    setupFor(workspace.page, workspace.shared, workspace.record, figure),
  );
  const dragged = coach ? draggedWords(workspace.record, figure, draft.state, verdict.off) : "";
  const advises = coach?.asks || coach?.advised?.sign();
  const more = when === "found" && coach && advises ? coach.answer : [dragged, ...verdict.more].filter(Boolean);
  workspace.say(spokenVerdict(value, verdict, more), true);
  Object.assign(draft, { replaces: "", refused: "" });
  const counted = asked.find((one) => COUNTED.has(one.name));
  const next = isSlack ? undefined : counted && nextOf(workspace, figure, when, counted, said[counted.name] ?? "");
  if (counted && next) draft.conditions[counted.name] = next;
  else if (when === "found" && step.records.includes(Noted.AS_LEFT)) {
    draft.when = coachable?.state === draft.state ? "turning" : "left";
    draft.turned = asAdvised(coach);
    if (coach?.there) draft.when = "left";
  }
}
