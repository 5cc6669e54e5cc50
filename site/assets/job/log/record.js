/** The state of a job: a pure fold of its entries, the same whatever their order. */

import { staleAfter } from "../../book/job.js";
import { QuantityError } from "../../errors.js";
import { Pointer, pointerAt, pointerHistory, pointerNow } from "./pointer-history.js";
import { isReadByPointer } from "./report-value.js";
import { stepsUndone } from "./undone.js";
import { workedOutOnce } from "./worked-out.js";

/** @typedef {import("./entries.js").Entry} Entry */
/** @typedef {import("./entries.js").Conditions} Conditions */

/**
 * A reading; `time` is when it was noted, `entry` its id (to replace it or take it back), `pointer` what the pointer
 * showed at true top dead centre, null if nobody looked, `stops` the two contacts this came from, null without; `adrift`
 * if it was moved and the contacts not read again; `lag` the light's, of which the value is freed, empty without one;
 * `loosened` if the nut was slack again after it, so that it no longer says how the figure was left.
 * @typedef {{readonly entry: string, readonly time: string, readonly step: string, readonly figure: string,
 *   readonly when: "found" | "left", readonly value: import("./report-value.js").ReportValue, readonly state: string,
 *   readonly conditions: Conditions, readonly cylinder: string, readonly pointer: string | null,
 *   readonly stops: readonly [string, string] | null, readonly adrift: boolean, readonly lag: string,
 *   readonly loosened?: true}} JobReading
 */

/**
 * A figure left as it is although it is not in order: `danger` what is wrong with it, `text` why it is left so.
 * @typedef {{readonly figure: string, readonly danger: string, readonly text: string, readonly entry: string,
 *   readonly time: string}} Override
 */
/**
 * How a cause of a false late reading was answered last, and when; `mended` when it was put right last, empty if never.
 * @typedef {{readonly ruledOut: boolean, readonly time: string, readonly mended: string}} FalseLateAnswer
 */
/**
 * The state of a job. Texts are empty if unknown. `deadCentre` is what the pointer reads at true top dead centre in
 * signed degrees, null before it is found; `stops` the two contacts it was found by; `pointer` how the pointer stands,
 * `centred` the entry that says so, since when, and the readings of this pointer so far; `correction` this engine's own;
 * `done` the steps in the order they were done, repeats included (for `staleAfter`), `doneTimes` when, and `stood` the
 * places among them of those only checked; `opened` when a step was last opened to be worked at once more; `ticks` the
 * lines that are ticked, and when; `which` how it was told from its twins, with the plate of another engine; `falseLate`
 * the answers by cause; `overrides` the figures left although not in order; `closed` the time, or empty.
 * @typedef {{id: string, family: string, name: string, maker: string, invented: boolean, dataOf: string,
 *   routine: string, serial: string, year: string, state: string, margin: string, by: string,
 *   deadCentre: string | null, stops: readonly [string, string] | null, pointer: string,
 *   centred: {readonly entry: string, readonly since: string, readonly earlier: readonly string[]},
 *   correction: {cranking: string, running: string, rpm: string} | null, done: string[],
 *   doneTimes: string[], stood: Set<number>, overrides: readonly Override[],
 *   falseLate: Map<string, FalseLateAnswer>, which: {answer: string, serial: string, year: string, entry: string} | null,
 *   opened: Map<string, {time: string, entry: string}>, ticks: Map<string, Map<string, string>>,
 *   found: Map<string, JobReading[]>, loosened: Map<string, JobReading[]>, left: Map<string, JobReading[]>,
 *   turns: Map<string, {turns: string, reads: string, cylinder: string, entry: string, time: string}[]>,
 *   notes: {text: string, step: string, entry: string, time: string}[], ran: string, closed: string,
 *   began: string, changed: string}} JobRecord
 */

/**
 * Entries in the order of time, then id; each id once.
 * @param {Iterable<Entry>} entries
 * @returns {Entry[]}
 */
export function inOrder(entries) {
  /** @type {Map<string, Entry>} */
  const once = new Map();
  for (const entry of entries) {
    const known = once.get(entry.id);
    if (!known || JSON.stringify(entry) < JSON.stringify(known)) once.set(entry.id, entry);
  }
  return [...once.values()].sort((one, other) => compared(one.at, other.at) || compared(one.id, other.id));
}

/** @param {string} one @param {string} other */
const compared = (one, other) => (one < other ? -1 : one > other ? 1 : 0);

/**
 * The ids of entries taken back. The latest entry counts: a take-back can be taken back only by a later one, and it
 * undoes only entries before it.
 * @param {readonly Entry[]} ordered
 */
function takenBack(ordered) {
  const places = new Map(ordered.map((entry, place) => [entry.id, place]));
  const taken = new Set();
  for (const [back, entry] of [...ordered].reverse().entries()) {
    if (entry.kind !== "take-back" || taken.has(entry.id)) continue;
    const place = places.get(entry.entry);
    const own = ordered.length - 1 - back;
    if (place !== undefined && place < own && ordered[place]?.kind !== "begin") taken.add(entry.entry);
  }
  return taken;
}

/**
 * The ids of readings replaced by a later one. Replacing a replacement replaces the first one too, even if the one
 * between was taken back.
 * @param {readonly Entry[]} ordered
 * @param {ReadonlySet<string>} taken
 */
function replaced(ordered, taken) {
  const places = new Map(ordered.map((entry, place) => [entry.id, place]));
  const gone = new Set();
  for (const [place, entry] of ordered.entries()) {
    let at = place;
    let next = entry.kind === "reading" && !taken.has(entry.id) ? entry : null;
    while (next?.replaces) {
      const before = places.get(next.replaces);
      const earlier = before !== undefined && before < at ? ordered[before] : null;
      next = earlier?.kind === "reading" ? earlier : null;
      if (next) {
        gone.add(next.id);
        at = before ?? 0;
      }
    }
  }
  return gone;
}

/**
 * @template T
 * @param {Map<string, T[]>} lists
 * @param {string} key
 * @param {T} more
 */
function put(lists, key, more) {
  const list = lists.get(key);
  if (list) list.push(more);
  else lists.set(key, [more]);
}

/**
 * The state of a job from its entries, whatever their order and however often each comes.
 * @param {Iterable<Entry>} entries of one job
 * @returns {JobRecord}
 * @throws {QuantityError} its first entry is missing
 */
export function fold(entries) {
  const ordered = inOrder(entries);
  const begin = ordered.find((entry) => entry.kind === "begin");
  if (begin?.kind !== "begin")
    throw new QuantityError("the first entry of this job is missing, so nobody knows which engine it is of");
  const { family, name, maker, invented, routine, serial, year, state, margin } = begin;
  /** @type {JobRecord} */
  const record = {
    id: begin.job,
    family,
    name,
    maker,
    invented,
    dataOf: begin.data_of,
    routine,
    serial,
    year,
    state,
    margin,
    by: "",
    deadCentre: null,
    stops: null,
    pointer: Pointer.UNREAD,
    centred: { entry: "", since: "", earlier: [] },
    correction: null,
    done: [],
    doneTimes: [],
    stood: new Set(),
    which: null,
    overrides: [],
    opened: new Map(),
    falseLate: new Map(),
    ticks: new Map(),
    found: new Map(),
    left: new Map(),
    loosened: new Map(),
    turns: new Map(),
    notes: [],
    ran: "",
    closed: "",
    began: begin.at,
    changed: ordered.at(-1)?.at ?? begin.at,
  };
  const taken = takenBack(ordered);
  const gone = replaced(ordered, taken);
  const standing = ordered.filter(({ id }) => !taken.has(id) && !gone.has(id));
  const history = pointerHistory(standing);
  const { stands, reads, stops, ...centred } = pointerNow(history);
  Object.assign(record, { deadCentre: reads, stops, pointer: stands, centred });
  for (const [place, one] of standing.entries()) add(record, one, pointerAt(history, place));
  return record;
}

/** @param {JobRecord} record @param {Entry} entry @param {ReturnType<typeof pointerAt>} pointer */
function add(record, entry, pointer) {
  if (entry.kind === "engine") {
    const {
      serial = record.serial,
      year = record.year,
      margin = record.margin,
      state = record.state,
      by = record.by,
    } = entry;
    Object.assign(record, { serial, year, margin, state, by });
  } else if (entry.kind === "done") {
    if (entry.stood) record.stood.add(record.done.length);
    record.done.push(entry.step);
    record.doneTimes.push(entry.at);
  } else if (entry.kind === "opened") record.opened.set(entry.step, { time: entry.at, entry: entry.id });
  else if (entry.kind === "tick") tick(record.ticks, entry);
  else if (entry.kind === "reading")
    put(entry.when === "found" ? record.found : record.left, entry.figure, reading(entry, pointer));
  else if (entry.kind === "turn") {
    const { figure, turns = "", reads = "", cylinder = "" } = entry;
    const before = record.turns.get(figure)?.at(-1);
    const isOther = before !== undefined && before.cylinder !== cylinder; // its contacts differ: it is begun anew
    if (entry.forget || isOther) record.turns.delete(figure);
    if (entry.forget) return;
    loosen(record, figure);
    put(record.turns, figure, { turns: isOther ? "0" : turns, reads, cylinder, entry: entry.id, time: entry.at });
  } else if (entry.kind === "pointer") {
    if (entry.answer === "moved") record.turns.clear(); // read off the pointer as it was
  } else if (entry.kind === "which") {
    const { answer, serial = "", year = "" } = entry;
    record.which = { answer, serial, year, entry: entry.id };
  } else if (entry.kind === "override") {
    const { figure, danger, text, id, at } = entry;
    record.overrides = [...record.overrides, { figure, danger, text, entry: id, time: at }];
  } else if (entry.kind === "false-late") {
    const before = record.falseLate.get(entry.cause);
    const mended = entry.ruled_out && before && !before.ruledOut ? entry.at : (before?.mended ?? "");
    record.falseLate.set(entry.cause, { ruledOut: entry.ruled_out, time: entry.at, mended });
  } else if (entry.kind === "correction") {
    record.correction = { cranking: entry.cranking, running: entry.running, rpm: entry.rpm };
  } else if (entry.kind === "note") {
    record.notes.push({ text: entry.text, step: entry.step ?? "", entry: entry.id, time: entry.at });
  } else if (entry.kind === "ran") record.ran = entry.text;
  else if (entry.kind === "close") record.closed = entry.at;
}

/** What was read with the nut tight says nothing any more once it is slack again. @param {JobRecord} record @param {string} figure */
function loosen({ left, loosened }, figure) {
  for (const one of left.get(figure) ?? []) put(loosened, figure, { ...one, loosened: true });
  left.delete(figure);
}

/** @param {Map<string, Map<string, string>>} ticks @param {import("./entries.js").TickEntry} entry */
function tick(ticks, entry) {
  const ticked = ticks.get(entry.step) ?? new Map();
  if (entry.on) ticked.set(entry.tick, entry.at);
  else ticked.delete(entry.tick);
  if (ticked.size) ticks.set(entry.step, ticked);
  else ticks.delete(entry.step);
}

/** @param {import("./entries.js").ReadingEntry} entry @param {ReturnType<typeof pointerAt>} pointer @returns {JobReading} */
function reading(entry, pointer) {
  const { step, figure, when, value, state, conditions = {}, cylinder = "", lag = "" } = entry;
  return { entry: entry.id, time: entry.at, step, figure, when, value, state, conditions, cylinder, lag, ...pointer };
}

/**
 * A record with the pointer as it was for one of its readings, to judge that reading by.
 * @param {JobRecord} record
 * @param {JobReading} reading
 * @returns {JobRecord}
 */
export const recordAtReading = (record, { pointer, adrift }) => ({
  ...record,
  deadCentre: pointer,
  pointer: adrift ? Pointer.MOVED : Pointer.STAYS,
});

/**
 * The overrides that hold, the last of each figure: until it is read again, or its pointer is moved or read anew.
 * @param {JobRecord} record
 * @returns {Override[]}
 */
export function standingOverrides({ centred, left, overrides }) {
  const last = new Map(overrides.map((one) => [one.figure, one]));
  return [...last.values()].filter(
    ({ figure, time }) => time > centred.since && (left.get(figure) ?? []).every((reading) => reading.time < time),
  );
}

/** An override in words. @param {Override} override */
export const overrideWords = ({ danger, text }) => `${danger}; left so: ${text}`;

/**
 * Whether a step was read off a pointer that was moved or read anew since: only a new reading tells where it stands.
 * @param {import("../../book/job.js").JobStep} step
 * @param {JobRecord} record
 */
export const isReadBeforePointer = ({ id, figures }, { centred, done, found, left }) =>
  figures.some((figure) => {
    const set = left.get(figure) ?? [];
    const read = [...(found.get(figure) ?? []), ...set].filter(({ value }) => isReadByPointer(value));
    if (!set.length && !done.includes(id)) return false;
    return read.length > 0 && read.every(({ time }) => time < centred.since);
  });

/**
 * The steps of a job that must be checked again, in its order: those that another step disturbed, those read off a
 * pointer that was moved or read anew since, and those that going back undid.
 * @param {import("../../book/job.js").Job} job
 * @param {JobRecord} record
 */
export const staleSteps = (job, record) => staleAtWork({ job, record });

const staleAtWork = workedOutOnce(
  (/** @type {{job: import("../../book/job.js").Job, record: JobRecord}} */ { job, record }) => {
    const again = new Set([...disturbedSteps(job, record), ...stepsUndone(job, record).keys()]);
    return job.steps.filter((step) => again.has(step.id) || isReadBeforePointer(step, record)).map(({ id }) => id);
  },
);

/**
 * The steps that were done and that the order of work no longer has: the job was begun with an older one.
 * @param {import("../../book/job.js").Job} job
 * @param {JobRecord} record
 */
export const goneSteps = (job, record) =>
  [...new Set(record.done)].filter((id) => job.steps.every((step) => step.id !== id));

/**
 * The steps that another one disturbed. Steps that newer data no longer have are ignored.
 * @param {import("../../book/job.js").Job} job
 * @param {JobRecord} record
 */
function disturbedSteps(job, record) {
  const known = new Set(job.steps.map((step) => step.id));
  const places = [...record.done.keys()].filter((place) => known.has(record.done[place] ?? ""));
  const stood = new Set(places.flatMap((place, now) => (record.stood.has(place) ? [now] : [])));
  return staleAfter(
    job,
    places.map((place) => record.done[place] ?? ""),
    stood,
  );
}
