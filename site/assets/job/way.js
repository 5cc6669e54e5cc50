/** The way through a job: what bars a step, how it is opened once more, and the step that follows. */

import { IgnitionLeft, Turned } from "../vocabulary.js";
import { furthestStep, stepName } from "./gates.js";
import { staleSteps } from "./log/record.js";
import { arePlugsIn, ignitionLeft, isReopened, plugsGate, stillIn, untickedLines } from "./log/undone.js";

/** @typedef {import("./dangers.js").AtWork} AtWork */
/** @typedef {import("./log/record.js").JobRecord} JobRecord */
/** @typedef {import("../book/job.js").Job} Job */
/** @typedef {import("../book/job.js").JobStep} JobStep */
/**
 * What bars a step: `why` in words, the step `at` that comes first, the figures `held`; where it `opens`, it may be
 * opened once more, which undoes what `why` says.
 * @typedef {{why: string, at: string, held: import("./dangers.js").Hold[], opens: boolean}} Bar
 */

const NOTHING_HELD = { held: [], opens: false };

/**
 * What bars a step, so that its screen is not shown; null if nothing.
 * @param {AtWork} work
 * @param {JobStep} step
 * @returns {Bar | null}
 */
export function barOf(work, step) {
  const { job, record } = work;
  const place = job.steps.indexOf(step);
  const { last, why, step: at, held } = furthestStep(work);
  if (place > last) return { why, at, held, opens: false };
  if (step.turned && place < plugsGate(job) && arePlugsIn(job, record))
    return opening("The plugs are in. They come out again, and every gate is ticked anew, before this step opens");
  if (step.turned === Turned.BY_HAND) return byHandBar(job, step, record);
  if (step.turned === Turned.BY_STARTER) return byStarterBar(work);
  return null;
}

/** @param {string} why @returns {Bar} */
const opening = (why) => ({ ...NOTHING_HELD, why, at: "", opens: true });

/** @param {Job} job @param {JobStep} step @param {JobRecord} record */
function byHandBar(job, step, record) {
  const left = ignitionLeft(job, record);
  const dead = job.steps.filter(({ ignition }) => ignition === IgnitionLeft.DEAD).map(({ id }) => id);
  if (dead.length && left !== IgnitionLeft.DEAD) {
    const first = record.done.findLast((id) => dead.includes(id)) ?? dead[0] ?? "";
    if (left === IgnitionLeft.LIVE && !isReopened(record, step.id))
      return opening(
        "The ignition is live. For this step it is made dead first, since the flywheel is turned by hand; " +
          "afterwards the gate before cranking is ticked anew and the ignition made live again",
      );
    return { ...NOTHING_HELD, why: "the flywheel is turned by hand here, so make the ignition dead first", at: first };
  }
  const place = job.steps.indexOf(step);
  const undoes = job.steps
    .slice(place + 1)
    .filter(({ takes_out }) => step.puts_in.some((thing) => takes_out.includes(thing)))
    .filter((gate) => untickedLines(job, gate, record).length < gate.gate.length);
  return undoes.length
    ? opening(
        `The ${step.puts_in.map(stepName).join(" and the ")} goes in again here, so ${undoes
          .map(({ id }) => `“${stepName(id)}”`)
          .join(" and ")} must be ticked anew before the engine is cranked`,
      )
    : null;
}

/** @param {AtWork} work */
function byStarterBar(work) {
  const { job, record } = work;
  const inside = stillIn(job, record);
  if (inside) {
    const { thing, gate } = inside;
    const why = `the ${stepName(thing)} may still be in the engine: tick every line of “${stepName(gate.id)}” first`;
    return { ...NOTHING_HELD, why, at: firstOpen(work, gate.id) };
  }
  if (ignitionLeft(job, record) !== IgnitionLeft.DEAD) return null;
  const [live] = liveSteps(job);
  if (!live) return null; // all of it is set standing still; the ignition stays dead to the end
  const { last, step: shut } = furthestStep(work);
  const at = firstOpen(work, job.steps.findIndex(({ id }) => id === live) > last ? shut : live);
  return { ...NOTHING_HELD, why: "the ignition is dead: it is made live again before the engine is cranked", at };
}

/** The first step that is not done on the way to another, else that one. @param {AtWork} work @param {string} to */
function firstOpen({ job, record }, to) {
  const before = job.steps.slice(
    0,
    job.steps.findIndex(({ id }) => id === to),
  );
  return before.find(({ id }) => !record.done.includes(id))?.id ?? to;
}

/** @param {Job} job */
const liveSteps = ({ steps }) => steps.filter(({ ignition }) => ignition === IgnitionLeft.LIVE).map(({ id }) => id);

/**
 * The step that follows: after doing a step first, the next in order; after coming back to one, the next that must be
 * checked again, else the first one not done. Where another one bars it, that one.
 * @param {AtWork} work
 * @param {JobStep} step
 * @param {boolean} first
 */
export function nextOf(work, step, first) {
  const { job, record } = work;
  if (first) return unbarred(work, step, job.steps[job.steps.indexOf(step) + 1]?.id ?? "end");
  const [stale] = staleSteps(job, record).filter((id) => id !== step.id);
  const open = job.steps.find(
    (one) => one.id !== step.id && (!record.done.includes(one.id) || untickedLines(job, one, record).length),
  );
  return unbarred(work, step, stale ?? open?.id ?? "end");
}

/** A step, or the one that bars it. @param {AtWork} work @param {JobStep} from @param {string} wanted */
function unbarred(work, from, wanted) {
  const step = work.job.steps.find(({ id }) => id === wanted);
  const bar = step ? barOf(work, step) : null;
  return !bar?.at || bar.held.length || bar.at === from.id ? wanted : bar.at;
}
