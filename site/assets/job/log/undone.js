/**
 * What going back has undone, from the order of a job's entries alone: the ticks that hold no longer, how the ignition
 * was left, and the steps to do once more before the engine turns or runs.
 */

import { IgnitionLeft, Turned } from "../../vocabulary.js";
import { asksOfPointer, pointerOpen } from "./pointer-history.js";
import { readingsOf } from "./readings-of.js";

/** @typedef {import("./record.js").JobRecord} JobRecord */
/** @typedef {import("../../book/job.js").Job} Job */
/** @typedef {import("../../book/job.js").JobStep} JobStep */

const PLUGS_IN = "plug-torque";

/** The last of some times; empty without. @param {readonly string[]} times */
const latest = (times) => times.toSorted().at(-1) ?? "";

/** When a step was last done; empty if it never was. @param {JobRecord} record @param {string} step */
const lastDone = ({ done, doneTimes }, step) => doneTimes[done.lastIndexOf(step)] ?? "";

/** When a step was last opened again; empty if it never was. @param {JobRecord} record @param {string} step */
export const lastOpened = ({ opened }, step) => opened.get(step)?.time ?? "";

/** Whether a step was opened again and not done since. @param {JobRecord} record @param {string} step */
export const isReopened = (record, step) => lastOpened(record, step) > lastDone(record, step);

/** When a step was last worked at: opened again, read or done. @param {JobRecord} record @param {JobStep} step */
function lastWorked(record, { id, figures }) {
  const read = figures.flatMap((figure) => readingsOf(record, figure)).filter((one) => one.step === id);
  return latest([lastOpened(record, id), lastDone(record, id), ...read.map(({ time }) => time)]);
}

/**
 * When what a step puts into the engine was last in it: dead centre is read with the stop in, whatever its step.
 * @param {JobRecord} record
 * @param {JobStep} step
 */
const lastIn = (record, step) => latest([lastWorked(record, step), record.centred.since]);

/** The place of the last gate before the plugs go back. @param {Job} job */
export function plugsGate({ steps }) {
  const back = steps.findIndex(({ figures }) => figures.includes(PLUGS_IN));
  return steps.findLastIndex(({ gate }, place) => gate.length > 0 && (back < 0 || place < back));
}

/** When the plugs were put in; empty if they were not. @param {Job} job @param {JobRecord} record */
const plugsInSince = ({ steps }, record) =>
  latest(steps.filter(({ figures }) => figures.includes(PLUGS_IN)).map(({ id }) => lastDone(record, id)));

/**
 * When ticks of a gate were last undone: by what was put in again before it, by the ignition made dead again before it;
 * by a step opened again with the plugs in; at the gate before the plugs by any work with the flywheel turning.
 * @param {Job} job
 * @param {JobStep} gate
 * @param {JobRecord} record
 */
function undoneSince(job, gate, record) {
  const place = job.steps.indexOf(gate);
  const before = job.steps.slice(0, place);
  const plugs = plugsInSince(job, record);
  const put = before.filter(({ puts_in }) => puts_in.some((thing) => gate.takes_out.includes(thing)));
  const dead = before.filter(({ ignition }) => ignition === IgnitionLeft.DEAD);
  const turned = place === plugsGate(job) ? before.filter(({ turned }) => turned) : [];
  const opened = job.steps
    .slice(0, plugsGate(job))
    .filter(({ turned }) => turned)
    .map(({ id }) => lastOpened(record, id));
  return latest([
    ...put.map((step) => lastIn(record, step)),
    ...dead.map(({ id }) => lastDone(record, id)),
    ...turned.map((step) => lastWorked(record, step)),
    ...opened.filter((time) => plugs && time > plugs),
  ]);
}

/**
 * The lines of a step's gate that are not ticked, or no longer.
 * @param {Job} job
 * @param {JobStep} gate
 * @param {JobRecord} record
 */
export function untickedLines(job, gate, record) {
  if (!gate.gate.length) return [];
  const ticked = record.ticks.get(gate.id);
  const since = undoneSince(job, gate, record);
  return gate.gate.filter((line) => (ticked?.get(line) ?? "") <= since);
}

/**
 * How the ignition was left; empty if no step said so yet. The gate before the plugs has a line that puts it back: it is
 * live from the first tick on, even if the gate is closed again.
 * @param {Job} job
 * @param {JobRecord} record
 */
export function ignitionLeft(job, record) {
  const { steps } = job;
  const place = record.done.findLastIndex((id) => steps.some((step) => step.id === id && step.ignition));
  const ticked = latest([...(record.ticks.get(steps[plugsGate(job)]?.id ?? "")?.values() ?? [])]);
  if (ticked > (record.doneTimes[place] ?? "")) return IgnitionLeft.LIVE;
  return steps.find(({ id }) => id === record.done[place])?.ignition ?? "";
}

/**
 * What may still be in the engine, and the gate that takes it out; null if nothing.
 * @param {Job} job
 * @param {JobRecord} record
 * @returns {{thing: string, gate: JobStep} | null}
 */
export function stillIn(job, record) {
  for (const [place, step] of job.steps.entries()) {
    for (const thing of lastIn(record, step) ? step.puts_in : []) {
      const gates = job.steps.slice(place + 1).filter(({ takes_out }) => takes_out.includes(thing));
      const [first] = gates;
      if (first && gates.every((gate) => untickedLines(job, gate, record).length)) return { thing, gate: first };
    }
  }
  return null;
}

/**
 * Whether the plugs are in: they were put in, and the first gate, where they are out, was not ticked since.
 * @param {Job} job
 * @param {JobRecord} record
 */
export function arePlugsIn(job, record) {
  const since = plugsInSince(job, record);
  const out = job.steps.find(({ gate }) => gate.length > 0);
  const ticked = out?.gate.every((line) => (record.ticks.get(out.id)?.get(line) ?? "") > since) ?? false;
  return Boolean(since) && !ticked;
}

/**
 * The steps to do once more since something was undone: why, and since when.
 * @param {Job} job
 * @param {JobRecord} record
 * @returns {Map<string, {why: string, since: string}>}
 */
export function stepsUndone(job, record) {
  const left = ignitionLeft(job, record);
  const reopened = job.steps.filter(({ id }) => isReopened(record, id));
  const byHand = reopened.some(({ turned }) => turned === Turned.BY_HAND);
  const plugs = plugsInSince(job, record);
  const closing = plugs && !arePlugsIn(job, record) ? closingSteps(job) : [];
  /** @type {Map<string, {why: string, since: string}>} */
  const undone = new Map();
  for (const step of job.steps) {
    const { id, ignition } = step;
    const done = lastDone(record, id);
    const say = (/** @type {string} */ why, since = done) => undone.set(id, { why: `${why}: do it again`, since });
    if (reopened.includes(step)) say("opened once more", lastOpened(record, id));
    else if (!done) continue;
    else if (ignition === IgnitionLeft.DEAD && left === IgnitionLeft.LIVE && byHand)
      say("the flywheel is turned by hand next");
    else if (ignition === IgnitionLeft.LIVE && left === IgnitionLeft.DEAD) say("the ignition was made dead since");
    else if (closing.includes(step) && done <= plugs) say("the plugs came out since", plugs);
    else if (asksOfPointer(job, step) && pointerOpen(record.pointer)) say("the pointer is not settled");
  }
  return undone;
}

/** The steps that close the engine up again, from the check of what was moved to the plugs. @param {Job} job */
function closingSteps({ steps }) {
  const from = steps.findIndex(({ leads_back }) => leads_back);
  const to = steps.findIndex(({ figures }) => figures.includes(PLUGS_IN));
  return steps.slice(from < 0 ? to : from, to + 1).filter(({ gate }) => !gate.length);
}
