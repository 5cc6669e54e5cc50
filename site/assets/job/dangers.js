/**
 * The figures that have a dangerous end: whether each was read after locking, and not on that end; and the overrides by
 * which a mechanic leaves one there. A step is not done, and a gate not open, before.
 */

import { MAXIMUM } from "../book/catalogue.js";
import { eachFigure } from "../book/job.js";
import { knownStates } from "../book/set-state.js";
import { StopscrewError } from "../errors.js";
import { Condition, HazardTier, Noted, State } from "../vocabulary.js";
import { isReadBeforePointer, overrideWords, standingOverrides } from "./log/record.js";
import { isReadByPointer } from "./log/report-value.js";
import { plugsGate, stepsUndone } from "./log/undone.js";
import { trueWords } from "./reading/as-left.js";
import { DANGEROUS } from "./reading/dangerous-end.js";
import { cylindersToRead, cylindersUnread } from "./reading/each-cylinder.js";
import { asksNut } from "./reading/nut.js";
import { octaneFault } from "./reading/octane.js";
import { verdictOn } from "./reading/verdict.js";
import { stepFigures } from "./step-figure.js";
import { ToldBy, whichWords } from "./twins.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../book/job.js").Job} Job */
/** @typedef {import("../book/job.js").JobStep} JobStep */
/** @typedef {import("../book/job.js").FigureStep} FigureStep */
/** @typedef {import("./log/record.js").JobRecord} JobRecord */
/** @typedef {import("./log/record.js").JobReading} JobReading */
/** @typedef {import("./step-figure.js").StepFigure} StepFigure */
/** The engine of a job and its documents. @typedef {{job: Job, record: JobRecord, page: Document, shared: Document}} AtWork */
/**
 * A figure that is not in order: `onEnd` if it was read on its dangerous end, `missing` if it was not read after locking;
 * `words` in full.
 * @typedef {{figure: string, onEnd: boolean, missing: boolean, words: string}} Danger
 */
/** A figure that keeps a gate shut, and the step at which it is read. @typedef {Danger & {step: string}} Hold */

/** @type {string[]} */
const TIERS = Object.values(HazardTier);
const CRANK_ANGLE = "crank-angle";
const FULL_THROTTLE = "full-throttle-speed";
const WORDS = ["mark", "code"];
const AGAIN = "to be read again, since something moved after it was read";
const HERE = "to be read once more, as the engine is now";
const IN_QUESTION = { onEnd: false, missing: false };

/** Whether the engine runs under full load at a step: at full throttle, or to read its maximum. @param {JobStep} step */
const isUnderLoad = ({ figures, state }) =>
  figures.includes(FULL_THROTTLE) || (figures.includes(MAXIMUM) && state === State.RUNNING);

/** Whether a figure has a number to hold a reading against, or only lacks the engine's. @param {StepFigure} shown */
const isAsked = ({ stated, value }) =>
  stated.depends.length > 0 || (value !== null && !WORDS.some((unit) => unit in value));

/** What tells readings apart; petrol that was filled later takes the place of the petrol before. @param {JobReading} one */
const conditionsKey = ({ conditions }) =>
  Object.entries(conditions)
    .filter(([name]) => name !== Condition.OCTANE)
    .sort();

/**
 * The readings as left of a figure, the last of each state, cylinder and conditions.
 * @param {JobRecord} record
 * @param {string} figure
 */
function lastLeft(record, figure) {
  /** @type {Map<string, JobReading>} */
  const last = new Map();
  for (const one of record.left.get(figure) ?? [])
    last.set(JSON.stringify([one.state, one.cylinder, conditionsKey(one)]), one);
  return [...last.values()];
}

/**
 * What is wrong with a figure as left; null if nothing, or if the book has no number for it. A figure that is read on land
 * need not be read running as well; if it was, that counts too.
 * @param {Omit<AtWork, "job">} work
 * @param {string} figure
 * @param {boolean} runs whether the engine runs by now; before, a running figure cannot be read
 * @param {string} [state] only what is read in this state
 * @returns {Danger | null}
 */
export function dangerOf(work, figure, runs, state = "") {
  const { record, page, shared } = work;
  const kind = shared["figures"][figure];
  const label = String(kind.label).toLowerCase();
  const end = DANGEROUS.get(kind["safest_end"]) ?? "";
  const shown = stepFigures(page, shared, record, figure);
  const still = shown.filter((one) => one.state !== State.RUNNING && isAsked(one));
  const inTime = still.length || !runs ? still : shown.filter(isAsked);
  const asked = state ? inTime.filter((one) => one.state === state) : inTime;
  const isStillAsked = (/** @type {JobReading} */ { state }) => asked.some((one) => one.state === state);
  const judged = lastLeft(record, figure)
    .filter((reading) => !state || reading.state === state)
    .map((reading) => ({ reading, ...judgedReading(work, shown, reading) }));
  const danger = (/** @type {string} */ words, more = {}) => ({
    ...IN_QUESTION,
    figure,
    words: `${label}: ${words}`,
    ...more,
  });
  const wrong = end ? judged.find(({ off }) => off === end) : undefined;
  if (wrong) return danger(wrong.words, { onEnd: true });
  if (asked.length && !judged.some(({ reading }) => isStillAsked(reading)))
    return danger("not read after locking", { missing: true });
  const unread = cylindersUnread(page, figure, judged.map(({ reading }) => reading).filter(isStillAsked));
  if (asked.length && unread.length)
    return danger(`not every cylinder read: ${unread.join(", ")} missing`, { missing: true });
  const unsure = end ? judged.find(({ reading, unsure }) => unsure && isStillAsked(reading)) : undefined;
  return unsure ? danger(unsure.words) : null;
}

/**
 * What is wrong with the petrol that was filled; null if nothing, or if no page wants an octane.
 * @param {Omit<AtWork, "job">} work
 * @param {string} figure
 * @returns {Danger | null}
 */
function octaneDanger({ record, page, shared }, figure) {
  const shown = stepFigures(page, shared, record, figure);
  const words = octaneFault(shown, record.left.get(figure)?.at(-1)?.conditions ?? {});
  return words ? { ...IN_QUESTION, figure, words } : null;
}

/**
 * A reading judged; `unsure` if nobody can say on which side it truly is.
 * @param {Omit<AtWork, "job">} work
 * @param {readonly StepFigure[]} shown
 * @param {JobReading} reading
 */
function judgedReading(work, shown, reading) {
  const { off, words } = verdictOn(reading, shown, work);
  const truly = trueWords(reading.value, reading.pointer);
  const readAs = truly.read && `(read as ${truly.read})`;
  const read = [truly.printed, reading.state.replaceAll("-", " "), readAs].filter(Boolean).join(" ");
  const unread = reading.pointer === null && isReadByPointer(reading.value);
  if (off && unread)
    return { off, unsure: true, words: `${read}, by a pointer that was not checked at true top dead centre` };
  return { off, unsure: !off, words: `${read}, ${words.replace(/^noted; /, "")}` };
}

/** Whether a step notes its figure as left. @param {JobStep} step */
const isLeft = ({ records }) => records.includes(Noted.AS_LEFT);

/** Whether a step is one whose reading as left is asked for. @param {Document} shared @param {FigureStep} step */
function isSet(shared, { figure, records }) {
  const kind = shared["figures"][figure];
  if (!kind || !records.includes(Noted.AS_LEFT)) return false;
  return DANGEROUS.has(kind["safest_end"]) || kind["dimension"] === CRANK_ANGLE;
}

/**
 * Whether a reading as left was taken since another step disturbed this one, or what followed undid it.
 * @param {Job} job
 * @param {FigureStep} step
 * @param {JobRecord} record
 */
function isReadSince(job, { id, figure, state }, record) {
  const { done, doneTimes, left, stood } = record;
  const disturbing = new Set(job.steps.filter((step) => step.makes_stale.includes(id)).map((step) => step.id));
  const place = done.findLastIndex((step, at) => disturbing.has(step) && !stood.has(at));
  const since = doneTimes[place] ?? "";
  const undone = stepsUndone(job, record).get(id)?.since ?? "";
  return (left.get(figure) ?? []).some(
    (one) => one.time > since && one.time > undone && (!state || one.state === state),
  );
}

/**
 * Whether a figure set at an earlier step is to be read once more at this one, in the same state, and was not.
 * @param {AtWork} work
 * @param {FigureStep} step
 */
function isUnreadHere({ job, record, page, shared }, { id, figure, state }) {
  const [first] = job.steps.filter((step) => step.figures.includes(figure) && step.state === state && isLeft(step));
  if (!state || !first || first.id === id) return false;
  const asked = stepFigures(page, shared, record, figure).some((one) => isAsked(one) && one.state === state);
  return asked && !(record.left.get(figure) ?? []).some(({ step }) => step === id);
}

/**
 * Why a step cannot be done yet for what was read at it; empty if it can.
 * @param {AtWork} work
 * @param {JobStep} step
 * @param {boolean} stale
 */
export function readingUndone(work, step, stale) {
  if (isReadBeforePointer(step, work.record)) return "Read it again first";
  const runs = work.job.steps.indexOf(step) > plugsGate(work.job);
  for (const one of eachFigure(step)) {
    const why = figureUndone(work, one, runs, stale);
    if (why) return why;
  }
  return "";
}

/**
 * The same for one figure of a step, by its name where there are several.
 * @param {AtWork} work
 * @param {FigureStep} step
 * @param {boolean} runs
 * @param {boolean} stale
 */
function figureUndone(work, step, runs, stale) {
  const { job, record, page, shared } = work;
  const isNamed = step.figures.length > 1;
  const it = isNamed ? String(shared["figures"][step.figure].label).toLowerCase() : "it";
  const locked = asksNut(page, shared["figures"][step.figure], step) ? "with the nut tight" : "as left";
  if (!isSet(shared, step) || standingOverrides(record).some(({ figure }) => figure === step.figure)) return "";
  const danger = dangerOf(work, step.figure, runs, step.state);
  const isBegun = cylindersToRead(work.page, step.figure).length > 0 && record.left.has(step.figure);
  if (danger?.missing)
    return isBegun ? `Read ${isNamed ? `${it} at ` : ""}every cylinder first` : `Read ${it} ${locked} first`;
  if (danger) return danger.onEnd ? `Set ${it} again first: see what it reads` : `Read ${it} again first`;
  if (isUnreadHere(work, step)) return `Read ${it} here ${locked} first`;
  const dangerous = DANGEROUS.has(shared["figures"][step.figure]["safest_end"]) && record.left.has(step.figure);
  return stale && dangerous && !isReadSince(job, step, record) ? `Read ${it} again ${locked} first` : "";
}

/**
 * The figures with a dangerous end that keep a step shut: before the plugs those that can be read by then, before full
 * throttle all others too; the worst hazard first. An override lets its figure pass.
 * @param {AtWork} work
 * @param {JobStep} step
 * @param {readonly string[]} stale the steps to check again
 * @returns {Hold[]}
 */
export function holds(work, step, stale) {
  const { job, record, shared } = work;
  const place = job.steps.indexOf(step);
  const runs = isUnderLoad(step);
  if (!runs && place !== plugsGate(job)) return [];
  const passed = new Set(standingOverrides(record).map(({ figure }) => figure));
  const before = job.steps.slice(0, place).flatMap(eachFigure);
  const held = before.flatMap((one) => {
    const { id, figure, records, state } = one;
    const kind = shared["figures"][figure];
    if (!kind || !records.includes(Noted.AS_LEFT) || !DANGEROUS.has(kind["safest_end"]) || passed.has(figure))
      return [];
    const danger = orRefused(() => dangerOf(work, figure, runs, state), figure);
    if (danger) return [{ step: id, ...danger }];
    const octane = runs ? orRefused(() => octaneDanger(work, figure), figure) : null;
    if (octane) return [{ step: id, ...octane }];
    const again = (stale.includes(id) && record.left.has(figure) && AGAIN) || (isUnreadHere(work, one) && HERE);
    return again ? [{ ...IN_QUESTION, step: id, figure, words: `${String(kind.label).toLowerCase()}: ${again}` }] : [];
  });
  const tier = (/** @type {Hold} */ { figure }) => TIERS.indexOf(shared["figures"][figure]["hazard"]);
  return held.sort((one, other) => tier(one) - tier(other));
}

/**
 * A figure that the book refuses is not in order either.
 * @param {() => Danger | null} work
 * @param {string} figure
 * @returns {Danger | null}
 */
function orRefused(work, figure) {
  try {
    return work();
  } catch (error) {
    if (error instanceof StopscrewError) return { ...IN_QUESTION, figure, words: error.message };
    throw error;
  }
}

/**
 * What stands first on every record of a job: the overrides, and each figure that was read on its dangerous end.
 * @param {Omit<AtWork, "job">} work
 * @returns {(readonly [string, string])[]} `override` or `not in order`, and the words
 */
export function firstLines(work) {
  const { record, shared } = work;
  const overrides = standingOverrides(record);
  const passed = new Set(overrides.map(({ figure }) => figure));
  const wrong = [...record.left.keys()]
    .filter((figure) => DANGEROUS.has(shared["figures"][figure]?.["safest_end"]) && !passed.has(figure))
    .flatMap((figure) => orRefused(() => dangerOf(work, figure, true), figure) ?? [])
    .filter(({ onEnd }) => onEnd);
  return [
    ...overrides.map((one) => /** @type {const} */ (["override", overrideWords(one)])),
    ...(record.which?.answer === ToldBy.NOTHING ? [/** @type {const} */ (["which engine", whichWords(record)])] : []),
    ...wrong.map(({ words }) => /** @type {const} */ (["not in order", words])),
  ];
}

/**
 * The lines of a tag on what was not read of a maximum that was left: a cylinder, or the figure when running where that is
 * printed too.
 * @param {Pick<AtWork, "record" | "page">} work
 * @returns {(readonly [string, string])[]}
 */
export function unreadLines({ record, page }) {
  const left = record.left.get(MAXIMUM) ?? [];
  const cylinders = cylindersUnread(page, MAXIMUM, left);
  const running = knownStates(page, MAXIMUM).has(State.RUNNING) && !left.some(({ state }) => state === State.RUNNING);
  if (!left.length) return [];
  return [
    ...(cylinders.length ? [/** @type {const} */ (["maximum in cylinder", `${cylinders.join(", ")} not read`])] : []),
    ...(running ? [/** @type {const} */ (["maximum running", "not read"])] : []),
  ];
}
