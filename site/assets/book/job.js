/**
 * The order of work of a family: the routine of its linkage, with the steps and ticks that apply to its engine; the same
 * as `kb.book.setting.job`. What a family's file does not say is not guessed: a step that may apply is kept, and says for
 * which engines it is.
 */

import { RoutineNotFound, StepNotFound } from "../errors.js";
import { Fitted, Presence } from "../vocabulary.js";
import { knownStates, setState } from "./set-state.js";

/**
 * A step of the job. `records` are as-found and as-left, `makes_stale` the ids of earlier steps that this one disturbs,
 * `gate` the lines to tick before going on, `module` and `ignition` how the step leaves them, `turned` how the flywheel
 * is turned; what `puts_in` leaves in the engine is out once a gate is ticked that `takes_out` the same; `state` is the
 * one that its figure is read in here. `more` is what else is worth knowing of what to do; a step that `leads_back` is not
 * done before all that was disturbed is read again. Texts and lists may be empty.
 * @typedef {{readonly id: string, readonly do: string, readonly more: string, readonly why: string,
 *   readonly figures: readonly string[], readonly leads_back: boolean,
 *   readonly cautions: readonly string[], readonly records: readonly string[], readonly makes_stale: readonly string[],
 *   readonly gate: readonly string[], readonly module: string, readonly turned: string, readonly ignition: string,
 *   readonly puts_in: readonly string[], readonly takes_out: readonly string[], readonly state: string}} JobStep
 */
/** A step with one of the figures that are read at it. @typedef {JobStep & {readonly figure: string}} FigureStep */
/**
 * @typedef {{readonly family: string, readonly routine: string, readonly name: string, readonly about: string,
 *   readonly steps: readonly JobStep[]}} Job
 */
/** @typedef {Readonly<Record<string, any>>} Page a family's page document, or its part on what is fitted */
/**
 * @typedef {[boolean | null, string]} Judged whether it holds, null if the file does not say; the condition in words
 */

/** @type {Readonly<Record<string, (wanted: any, page: Page) => Judged>>} */
const CONDITIONS = {
  ignition(wanted, page) {
    const fitted = page["ignition"]?.type;
    const words = wanted.map((/** @type {string} */ kind) => kind.replaceAll("-", " ")).join(" or ");
    return [fitted ? wanted.includes(fitted) : null, `the ignition is ${words}`];
  },
  modules(wanted, page) {
    const words = wanted === Fitted.FITTED ? "a module changes the advance" : "no module changes the advance";
    if (!filled(page["ignition"])) return [null, words];
    return [filled(page["ignition"].modules) === (wanted === Fitted.FITTED), words];
  },
  carburettors(wanted, page) {
    const least = Number(wanted.at_least);
    const one = page["engine"]?.cylinders === "1" ? "1" : null; // a single cylinder has one
    const fitted = page["engine"]?.carburettors ?? one;
    const words = least > 1 ? `it has ${least} carburettors or more` : "it has a carburettor";
    return [fitted ? Number(fitted) >= least : null, words];
  },
  numbered_marks(wanted, page) {
    const words = `the flywheel or its scale has ${wanted === Presence.PRESENT ? "" : "no "}numbered marks`;
    if (!filled(page["flywheel"])) return [null, words];
    return [filled(page["flywheel"].numbered_marks) === (wanted === Presence.PRESENT), words];
  },
  set: (wanted, page) => [inOne(wanted, (figure, states) => states.includes(setState(page, figure))), ""],
  known: (wanted, page) => [
    inOne(wanted, (figure, states) => states.some((state) => knownStates(page, figure).has(state))),
    "",
  ],
};

/**
 * Whether it holds for one of the figures with their states.
 * @param {Readonly<Record<string, readonly string[]>>} wanted
 * @param {(figure: string, states: readonly string[]) => boolean} holds
 */
const inOne = (wanted, holds) => Object.entries(wanted).some(([figure, states]) => holds(figure, states));

/** Whether it is a mapping or list that is not empty. @param {any} said */
const filled = (said) => Boolean(said) && (typeof said !== "object" || Object.keys(said).length > 0);

/**
 * The beginning of words that apply under conditions: empty if all hold, "If ...: " for those that the file leaves open;
 * null if one does not hold.
 * @param {Readonly<Record<string, any>> | undefined} when
 * @param {Page} page
 */
export function ahead(when, page) {
  const open = [];
  for (const [key, wanted] of Object.entries(when ?? {})) {
    const judge = CONDITIONS[key];
    if (!judge) throw new RoutineNotFound(`a step applies under ${key}, which this page does not know; load it anew`);
    const [holds, words] = judge(wanted, page);
    if (holds === false) return null;
    if (holds === null) open.push(words);
  }
  return open.length ? `If ${open.join(" and ")}: ` : "";
}

/**
 * The order of work for a family.
 * @param {Page} page its page document
 * @param {Readonly<Record<string, any>>} routines all routines by id, from `job/routines.json`
 * @returns {Job}
 * @throws {RoutineNotFound} the family has no linkage, or the book no routine for it
 */
export function jobOf(page, routines) {
  const { id: family, linkage } = page;
  const key = page["routine"];
  const routine = key && Object.hasOwn(routines, key) ? routines[key] : null;
  if (!linkage) {
    throw new RoutineNotFound(
      `${family} does not say how spark and throttle are linked, so there is no order of work for it; ` +
        `write linkage: and one of these in families/${family}.yaml`,
      linkagesOf(routines),
    );
  }
  if (!routine) {
    throw new RoutineNotFound(
      `${family} has linkage: ${linkage}, and no routine is for that; ` +
        `add routines/${linkage}.yaml with linkage: ${linkage}, or mend the linkage in families/${family}.yaml`,
      Object.keys(routines).sort(),
    );
  }
  /** @type {[any, string][]} */
  const kept = [];
  for (const step of routine.steps) {
    const words = ahead(step.when, page);
    if (words !== null) kept.push([step, words]);
  }
  const names = new Set(kept.map(([step]) => step.id));
  const steps = kept.map(([step, words]) => ({
    id: step.id,
    do: words + step.do,
    more: step.more ?? "",
    why: step.why ?? "",
    figures: figuresOf(step, page),
    cautions: step.cautions ?? [],
    records: step.records ?? [],
    makes_stale: (step.makes_stale ?? []).filter((/** @type {string} */ name) => names.has(name)),
    gate: ticksOf(step.gate ?? [], page),
    module: CONDITIONS["modules"]?.(Fitted.FITTED, page)[0] === false ? "" : (step.module ?? ""),
    turned: step.turned ?? "",
    ignition: step.ignition ?? "",
    puts_in: step.puts_in ?? [],
    takes_out: step.takes_out ?? [],
    state: step.state ?? "",
    leads_back: Boolean(step.leads_back),
  }));
  return { family, routine: key, name: routine.name, about: routine.about ?? "", steps };
}

/**
 * The figures of a step as a routine has it: its one, or those that are read one after the other on this engine.
 * @param {Readonly<Record<string, any>>} step
 * @param {Page} page
 * @returns {readonly string[]}
 */
const figuresOf = ({ figure, figures = [] }, page) => [
  ...(figure ? [figure] : []),
  ...figures.flatMap((/** @type {any} */ item) => (ahead(item.when, page) === null ? [] : [item.figure])),
];

/** A step once for each figure that is read at it. @param {JobStep} step @returns {FigureStep[]} */
export const eachFigure = (step) => step.figures.map((figure) => ({ ...step, figure }));

/** @param {Readonly<Record<string, any>>} routines */
const linkagesOf = (routines) => [...new Set(Object.values(routines).map((routine) => routine.linkage))].sort();

/** @param {readonly any[]} gate @param {Page} page @returns {string[]} */
const ticksOf = (gate, page) =>
  gate.flatMap((item) => {
    const words = ahead(item.when, page);
    return words === null ? [] : [words + item.tick];
  });

/**
 * The steps that must be checked again after these steps in this order: ids, in the order of the job. A step done again
 * is no longer stale; one never done is not stale but still to do.
 * @param {Job} job
 * @param {readonly string[]} done ids of steps, repeats included
 * @param {ReadonlySet<number>} [stood] places among them of steps only checked, with nothing moved
 * @returns {string[]}
 * @throws {StepNotFound} the job has no such step
 */
export function staleAfter(job, done, stood = new Set()) {
  const steps = new Map(job.steps.map((step) => [step.id, step]));
  const seen = new Set();
  const stale = new Set();
  for (const [place, name] of done.entries()) {
    const step = steps.get(name);
    if (!step) throw new StepNotFound(`the job on ${job.family} has no step ${name}`, [...steps.keys()]);
    stale.delete(name);
    seen.add(name);
    for (const earlier of stood.has(place) ? [] : step.makes_stale) if (seen.has(earlier)) stale.add(earlier);
  }
  return [...steps.keys()].filter((name) => stale.has(name));
}
