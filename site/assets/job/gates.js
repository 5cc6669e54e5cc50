/** Gates: lines to be ticked before the next step opens; and a pointer so far out that the job stops. */

import { requireNearCentre } from "../book/pointer.js";
import { element } from "../dom.js";
import { DeadCentreTooFar } from "../errors.js";
import { Fraction } from "../quantity/fraction.js";
import { acted } from "./controls.js";
import { holds } from "./dangers.js";
import { asksOfPointer, DEAD_CENTRE, POINTER, Pointer } from "./log/pointer-history.js";
import { staleSteps } from "./log/record.js";
import { plugsGate, untickedLines } from "./log/undone.js";
import { workedOutOnce } from "./log/worked-out.js";

/** @typedef {import("./log/record.js").JobRecord} JobRecord */
/** @typedef {import("../book/job.js").Job} Job */
/** @typedef {import("../book/job.js").JobStep} JobStep */

/**
 * The furthest step that may be opened, by its place in the job, and why not further; `why` is empty if all may. `held`
 * are the figures that keep a gate shut: the gate's own step opens, that of full throttle does not.
 * @param {import("./dangers.js").AtWork} work
 * @returns {{last: number, step: string, why: string, held: import("./dangers.js").Hold[]}}
 */
export const furthestStep = workedOutOnce((/** @type {import("./dangers.js").AtWork} */ work) => {
  const { job, record } = work;
  const stale = staleSteps(job, record);
  for (const [place, step] of job.steps.entries()) {
    const open = untickedLines(job, step, record);
    if (open.length) {
      const why = `tick every line of “${stepName(step.id)}” first; ${open.length} of ${step.gate.length} still to tick`;
      return { last: place, step: step.id, why, held: [] };
    }
    const stopped = step.id === DEAD_CENTRE ? pointerStop(record) : "";
    if (stopped) return { last: place, step: step.id, why: stopped, held: [] };
    const held = holds(work, step, stale);
    const [again] = step.gate.length && !held.length ? firstAgain(job, step, stale) : [];
    if (again) {
      const why = `“${stepName(again)}” is to be read again before the plugs go in`;
      return { last: place, step: again, why, held: [] };
    }
    const why = held.map(({ words }) => words).join("; ");
    if (held.length) return { last: step.gate.length ? place : place - 1, step: held[0]?.step ?? "", why, held };
  }
  return { last: job.steps.length - 1, step: "", why: "", held: [] };
});

/**
 * The steps to read again before a step is done: at the one that leads back all before it, at the gate before the plugs
 * those that are turned for, which nobody can read once the plugs are in.
 * @param {Job} job
 * @param {JobStep} step
 * @param {readonly string[]} stale
 */
export function firstAgain(job, step, stale) {
  const place = job.steps.indexOf(step);
  const before = job.steps.slice(0, place).filter(({ id }) => stale.includes(id));
  if (step.leads_back) return before.map(({ id }) => id);
  return place === plugsGate(job) ? before.filter(({ turned }) => turned).map(({ id }) => id) : [];
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
 * @param {Job} job
 * @param {JobStep} step
 * @param {JobRecord} record
 * @param {(line: string, on: boolean) => unknown} tick
 */
export function gateView(job, step, record, tick) {
  const open = untickedLines(job, step, record);
  const rows = step.gate.map((line, place) => {
    const box = element("input", { type: "checkbox", id: `tick-${place}`, checked: !open.includes(line) });
    box.addEventListener("change", () => void acted(() => tick(line, box instanceof HTMLInputElement && box.checked)));
    return element("li", {}, element("label", { class: "tick" }, box, element("span", {}, line)));
  });
  const state = open.length ? `${open.length} of ${step.gate.length} still to tick` : "all ticked";
  return element(
    "section",
    { class: "gate", "aria-label": "Tick each line" },
    element("ul", {}, ...rows),
    element("p", { class: "gate-state", role: "status" }, state),
  );
}
