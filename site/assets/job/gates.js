/** Gates: lines to be ticked before the next step opens; and a pointer so far out that the job stops. */

import { requireNearCentre } from "../book/pointer.js";
import { element } from "../dom.js";
import { DeadCentreTooFar } from "../errors.js";
import { Fraction } from "../quantity/fraction.js";
import { acted } from "./controls.js";
import { holds } from "./dangers.js";
import { Pointer } from "./log/pointer-history.js";
import { staleSteps } from "./log/record.js";

/** @typedef {import("./log/record.js").JobRecord} JobRecord */
/** @typedef {import("../book/job.js").Job} Job */
/** @typedef {import("../book/job.js").JobStep} JobStep */

export const DEAD_CENTRE = "dead-centre";
export const POINTER = "pointer";

/**
 * The lines of a step's gate that are not ticked yet.
 * @param {JobStep} step
 * @param {JobRecord} record
 */
export function untickedLines(step, record) {
  const ticked = record.ticks.get(step.id);
  return step.gate.filter((line) => !ticked?.has(line));
}

/**
 * The furthest step that may be opened, by its place in the job, and why not further; `why` is empty if all may. `held`
 * are the figures that keep a gate shut: the gate's own step opens, that of full throttle does not.
 * @param {import("./dangers.js").AtWork} work
 * @returns {{last: number, step: string, why: string, held: import("./dangers.js").Hold[]}}
 */
export function furthestStep(work) {
  const { job, record } = work;
  const stale = staleSteps(job, record);
  for (const [place, step] of job.steps.entries()) {
    const open = untickedLines(step, record);
    if (open.length) {
      const why = `tick every line of “${stepName(step.id)}” first; ${open.length} of ${step.gate.length} still to tick`;
      return { last: place, step: step.id, why, held: [] };
    }
    const stopped = step.id === DEAD_CENTRE ? pointerStop(record) : "";
    if (stopped) return { last: place, step: step.id, why: stopped, held: [] };
    const held = holds(work, step, stale);
    const why = held.map(({ words }) => words).join("; ");
    if (held.length) return { last: step.gate.length ? place : place - 1, step: held[0]?.step ?? "", why, held };
  }
  return { last: job.steps.length - 1, step: "", why: "", held: [] };
}

/** Why the pointer stops the job; empty if it does not. @param {JobRecord} record */
export function pointerStop(record) {
  try {
    if (record.deadCentre !== null) requireNearCentre(Fraction.of(record.deadCentre));
    return "";
  } catch (error) {
    if (error instanceof DeadCentreTooFar) return error.message;
    throw error;
  }
}

/** Whether a step asks if the pointer was moved or stays. @param {Job} job @param {JobStep} step */
export const asksOfPointer = ({ steps }, { id }) =>
  id === POINTER || (id === DEAD_CENTRE && !steps.some((one) => one.id === POINTER));

/**
 * Why a step of the pointer cannot be done yet; empty if it can, or if it is another step.
 * @param {Job} job
 * @param {JobStep} step
 * @param {JobRecord} record
 */
export function pointerUndone(job, step, { pointer }) {
  if (step.id !== DEAD_CENTRE && step.id !== POINTER) return "";
  if (pointer === Pointer.UNREAD) return "Note the dead-centre reading first";
  if (pointer === Pointer.MOVED) return "Read both contacts again first";
  return pointer === Pointer.ASKED && asksOfPointer(job, step) ? "Answer first: moved, or it stays" : "";
}

/** A step's id as words: `before cranking`. @param {string} id */
export const stepName = (id) => id.replaceAll("-", " ");

/**
 * The lines of a gate as boxes to tick.
 * @param {JobStep} step
 * @param {JobRecord} record
 * @param {(line: string, on: boolean) => unknown} tick
 */
export function gateView(step, record, tick) {
  const ticked = record.ticks.get(step.id) ?? new Set();
  const rows = step.gate.map((line, place) => {
    const box = element("input", { type: "checkbox", id: `tick-${place}`, checked: ticked.has(line) });
    box.addEventListener("change", () => void acted(() => tick(line, box instanceof HTMLInputElement && box.checked)));
    return element("li", {}, element("label", { class: "tick" }, box, element("span", {}, line)));
  });
  const open = untickedLines(step, record).length;
  const state = open
    ? `${open} of ${step.gate.length} still to tick; the next step stays locked until then`
    : "all ticked";
  return element(
    "section",
    { class: "gate", "aria-label": "Tick each line" },
    element("ul", {}, ...rows),
    element("p", { class: "gate-state", role: "status" }, state),
  );
}
