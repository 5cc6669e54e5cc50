/**
 * What makes the light show a spark later than it is. It is asked before a maximum is made earlier: a false late reading,
 * believed, sets it too early. Until each cause is ruled out and the reading was taken twice, nothing earlier is advised.
 */

import { Fraction } from "../../quantity/fraction.js";
import { FALSE_LATE_WORDS, FalseLate, IgnitionLeft, Linkage, State } from "../../vocabulary.js";
import { localDate } from "../local-date.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../log/record.js").JobRecord} JobRecord */
/** @typedef {{turns: string, reads: string, time: string}} TurnReading */
/**
 * What is asked and how it was answered; undefined before. `short` names it, `states` what is to be so, `instead` says
 * what to do if it is not.
 * @typedef {{cause: string, short: string, states: string, instead: string, ruledOut: boolean | undefined}} AskedCause
 */

/** Degrees late of the book beyond which something is wrong that no screw mends. */
const FAULT_BEYOND = Fraction.of(5);

export const FAULT =
  "more than 5° late is a fault to find, not a screw to turn: a lever short of its stop, a sheared flywheel key, " +
  "another flywheel, breakers or trigger out of place";

/**
 * Whether so many degrees late of the book are a fault. A maximum that is set running stands late on purpose at first.
 * @param {Fraction} degrees
 * @param {string} state
 */
export const isFault = (degrees, state) => degrees.above(FAULT_BEYOND) && state !== State.RUNNING;

/** At older steps the light is put on by one of its own. */
const LIGHT = "light";

/**
 * When the light was put on last, which is where the ignition is made live; what was answered before it is asked anew.
 * @param {import("../../book/job.js").Job} job
 * @param {JobRecord} record
 */
function putOn({ steps }, { done, doneTimes }) {
  const puts = steps.filter(({ id, ignition }) => ignition === IgnitionLeft.LIVE || id === LIGHT);
  const times = puts.map(({ id }) => doneTimes[done.lastIndexOf(id)] ?? "");
  return times.toSorted().at(-1) ?? "";
}

/** The causes that there are where nothing turns by itself, and where the engine runs. @type {ReadonlyMap<string, string[]>} */
const POSSIBLE = new Map([
  [State.STATIC, [FalseLate.LEVER, FalseLate.MARK]],
  [State.RUNNING, Object.values(FalseLate).filter((cause) => cause !== FalseLate.SPEED)],
]);

/**
 * The causes of a false late reading of this engine in a state. An answer stands for readings of the day on which it was
 * given, until the light is put on again.
 * @param {{job: import("../../book/job.js").Job, record: JobRecord, page: Document}} work
 * @param {string} state
 * @param {readonly TurnReading[]} turns
 * @returns {AskedCause[]}
 */
export function askedCauses({ job, record, page }, state, turns) {
  const lit = putOn(job, record);
  const day = localDate(turns.at(-1)?.time ?? "");
  const possible = POSSIBLE.get(state) ?? Object.values(FalseLate);
  return possible
    .filter((cause) => cause !== FalseLate.LEVER || page["linkage"] !== Linkage.FIXED_SPARK)
    .map((cause) => {
      const answer = record.falseLate.get(cause);
      const stands = answer && answer.time > lit && localDate(answer.time) === day;
      const [short = "", states = "", instead = ""] = FALSE_LATE_WORDS.get(cause) ?? [];
      return { cause, short, states, instead, ruledOut: stands ? answer.ruledOut : undefined };
    });
}

/**
 * The readings that count: those before a cause was put right were false.
 * @template {TurnReading} T
 * @param {JobRecord} record
 * @param {readonly T[]} turns
 * @returns {T[]}
 */
export function readingsThatCount({ falseLate }, turns) {
  const mended = [...falseLate.values()].reduce((latest, one) => (one.mended > latest ? one.mended : latest), "");
  return turns.filter(({ time }) => time > mended);
}

/**
 * Why nothing is made earlier yet, and what to do instead; empty if nothing stands against it.
 * @param {readonly AskedCause[]} causes
 * @param {readonly TurnReading[]} turns those that count
 * @param {boolean} fault whether all of them are too late for a screw to mend
 * @returns {string[]}
 */
export function againstEarlier(causes, turns, fault) {
  const wrong = causes.filter(({ ruledOut }) => ruledOut === false);
  if (wrong.length)
    return [...wrong.map(({ instead }) => instead.replace(/\.$/, "")), "then say so below, and read again"];
  const open = causes.filter(({ ruledOut }) => ruledOut === undefined).length;
  const answers = open
    ? [`first see that it is not a false late reading: ${open} of ${causes.length} to answer below`]
    : [];
  if (fault) return [FAULT, ...answers];
  if (open) return [...answers, "nothing is made earlier before that"];
  const stands = turns.at(-1)?.turns;
  const here = turns.length - 1 - turns.findLastIndex((one) => one.turns !== stands);
  if (here < 2) return ["read it once more where it stands: nothing is made earlier on one reading"];
  return [];
}
