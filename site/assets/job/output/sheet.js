/** The content of the sheet of a job: every step with its ticks, figures, readings and notes, as plain words. */

import { eachFigure } from "../../book/job.js";
import { StopscrewError } from "../../errors.js";
import { CautionSeverity } from "../../vocabulary.js";
import { firstLines } from "../dangers.js";
import { recordAtReading, staleSteps } from "../log/record.js";
import { untickedLines } from "../log/undone.js";
import { correctionWords, isAdrift, pointerStands, trueWords, whenWords } from "../reading/as-left.js";
import { verdictOf } from "../reading/verdict.js";
import { setupFor, stepFigures } from "../step-figure.js";
import { plateLines } from "../twins.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../log/record.js").JobRecord} JobRecord */
/** @typedef {import("../log/record.js").JobReading} JobReading */
/** @typedef {import("../../book/job.js").Job} Job */
/** @typedef {import("../../book/job.js").JobStep} JobStep */
/** @typedef {import("../step-figure.js").StepFigure} StepFigure */

/**
 * A figure of the book: `cites` are sources by number, each with its page.
 * @typedef {{label: string, printed: string, set: string, cites: string[], problem: string}} SheetFigure
 */
/**
 * @typedef {{when: "as found" | "as left", label: string, words: string, off: string, sign: string, verdict: string}} SheetReading
 */
/**
 * @typedef {{number: number, stands: "done" | "check again" | "not done", do: string, cautions: string[],
 *   ticks: (readonly [string, boolean])[], figures: SheetFigure[], readings: SheetReading[], notes: string[]}} SheetStep
 */
/**
 * @typedef {{name: string, engine: string, routine: string, began: string, closed: string, by: string, dataOf: string,
 *   invented: boolean, first: string, worst: string[], about: (readonly [string, string])[], open: number, steps: SheetStep[],
 *   others: SheetReading[], ran: string, notes: string[], cautions: Document[], sources: string[]}} Sheet
 */

/**
 * @param {JobRecord} record
 * @param {Job} job
 * @param {Document} page
 * @param {Document} shared
 * @returns {Sheet}
 */
export function sheetOf(record, job, page, shared) {
  const sources = new Sources();
  const stale = new Set(staleSteps(job, record));
  const done = new Set(record.done);
  const places = placed(record, job);
  const steps = job.steps.map((step, place) => ({
    number: place + 1,
    stands: standing(step.id, done, stale),
    do: [step.do, step.more].filter(Boolean).join(" "),
    cautions: worstFirst(step.cautions.flatMap((id) => shared["cautions"][id] ?? [])).map(
      ({ severity, title }) => `${severity}: ${title}`,
    ),
    ticks: step.gate.map((line) => /** @type {const} */ ([line, !untickedLines(job, step, record).includes(line)])),
    figures: eachFigure(step).flatMap((one) => figuresIn(record, page, shared, one, sources)),
    readings: (places.get(step.id) ?? []).map((reading) => readingOf(record, page, shared, reading)),
    notes: record.notes.filter((note) => note.step === step.id).map((note) => note.text),
  }));
  const known = new Set(job.steps.map((step) => step.id));
  const used = new Set(job.steps.flatMap((step) => step.cautions));
  return {
    name: `${shared["makers"][page["maker"]] ?? record.maker} ${record.name}`,
    engine: [record.serial ? `serial ${record.serial}` : "serial not known", record.year && `of ${record.year}`]
      .filter(Boolean)
      .join(", "),
    routine: job.name,
    began: record.began,
    closed: record.closed,
    by: record.by,
    dataOf: record.dataOf,
    invented: record.invented || page["invented"] === true,
    first: shared["first"],
    worst: firstLines({ record, page, shared }).map(([kind, words]) => `${kind}: ${words}`),
    about: aboutOf(record),
    open: steps.filter((step) => step.stands !== "done").length,
    steps,
    others: (places.get("") ?? []).map((reading) => readingOf(record, page, shared, reading)),
    ran: record.ran,
    notes: record.notes.filter((note) => !known.has(note.step)).map((note) => note.text),
    cautions: worstFirst([...used].flatMap((id) => shared["cautions"][id] ?? [])),
    sources: sources.listed,
  };
}

/** @param {readonly Document[]} cautions @returns {Document[]} */
const worstFirst = (cautions) =>
  Object.values(CautionSeverity).flatMap((worst) => cautions.filter(({ severity }) => severity === worst));

/**
 * @param {string} step
 * @param {ReadonlySet<string>} done
 * @param {ReadonlySet<string>} stale
 * @returns {SheetStep["stands"]}
 */
const standing = (step, done, stale) => (stale.has(step) ? "check again" : done.has(step) ? "done" : "not done");

/** What was measured and chosen for this engine. @param {JobRecord} record */
function aboutOf(record) {
  /** @type {[string, string][]} */
  const about = [["pointer", pointerStands(record)]];
  about.push(...plateLines(record));
  if (record.margin && record.margin !== "0") about.push(["margin chosen", `${record.margin}° to the late side`]);
  if (record.correction) about.push(["this engine's correction", correctionWords(record.correction)]);
  return about;
}

/**
 * The readings of each step, or of the first step with the same figure; under "" those of no step.
 * @param {JobRecord} record
 * @param {Job} job
 */
function placed(record, job) {
  /** @type {Map<string, JobReading[]>} */
  const places = new Map();
  for (const reading of [...record.found.values(), ...record.left.values()].flat()) {
    const own =
      job.steps.find((step) => step.id === reading.step) ??
      job.steps.find((step) => step.figures.includes(reading.figure));
    places.set(own?.id ?? "", [...(places.get(own?.id ?? "") ?? []), reading]);
  }
  return places;
}

/**
 * The figure of the book, or the message of a refusal.
 * @param {JobRecord} record
 * @param {Document} page
 * @param {Document} shared
 * @param {string} figure
 * @param {string} [state]
 * @returns {StepFigure[] | string}
 */
function held(record, page, shared, figure, state = "") {
  try {
    return stepFigures(page, shared, record, figure, state);
  } catch (error) {
    if (error instanceof StopscrewError) return error.message;
    throw error;
  }
}

/**
 * The figure of a step; only in the state that the step reads it in is it set.
 * @param {JobRecord} record
 * @param {Document} page
 * @param {Document} shared
 * @param {import("../../book/job.js").FigureStep} step
 * @param {Sources} sources
 * @returns {SheetFigure[]}
 */
function figuresIn(record, page, shared, { figure, state }, sources) {
  const shown = held(record, page, shared, figure, state);
  const label = String(shared["figures"][figure]?.label ?? figure);
  if (typeof shown === "string") return [{ label, printed: "", set: "", cites: [], problem: shown }];
  if (!shown.length) return [{ label, printed: "", set: "", cites: [], problem: "no figure published" }];
  return shown.map(({ stated, settable, target, refused, state: own }) => ({
    label: [stated.label, stated.when].filter(Boolean).join(", "),
    printed: settable?.printed || stated.printed,
    set: target && (!state || own === state) ? String(target.show) : "",
    cites: stated.statements.map((/** @type {Document} */ one) => sources.cite(one)),
    problem: [stated.words, refused].filter(Boolean).join("; "),
  }));
}

/**
 * @param {JobRecord} record
 * @param {Document} page
 * @param {Document} shared
 * @param {JobReading} reading
 * @returns {SheetReading}
 */
function readingOf(record, page, shared, reading) {
  const { figure, value, state, cylinder, conditions } = reading;
  const shown = held(record, page, shared, figure);
  const at = { ...(cylinder ? { cylinder } : {}), ...conditions };
  const { off, sign, words } =
    typeof shown === "string"
      ? { off: "", sign: "–", words: "noted; not judged" }
      : verdictOf(shown, { value, state, at }, setupFor(page, shared, recordAtReading(record, reading), figure));
  const { printed, read } = trueWords(value, reading.pointer);
  const said = [
    read || printed,
    whenWords(reading),
    cylinder && `cylinder ${cylinder}`,
    read && `(truly ${printed})`,
    isAdrift(reading) && "(by a pointer that was moved)",
  ].filter(Boolean);
  const label = String(shared["figures"][figure]?.label ?? figure.replaceAll("-", " "));
  return {
    when: reading.when === "found" ? "as found" : "as left",
    label,
    words: said.join(" "),
    off,
    sign,
    verdict: words,
  };
}

/** The sources cited, numbered in order. */
class Sources {
  /** @type {Map<string, number>} */
  #numbers = new Map();

  /** A citation: the source's number and the page. @param {Document} statement as the family's page shows it */
  cite({ title, kind, page, role }) {
    const words = kind ? `${title} (${kind})` : title;
    const number = this.#numbers.get(words) ?? this.#numbers.size + 1;
    this.#numbers.set(words, number);
    return `[${number}]${page ? ` page ${page}` : ""}${role ? ` (${role})` : ""}`;
  }

  /** @returns {string[]} */
  get listed() {
    return [...this.#numbers].map(([words, number]) => `[${number}] ${words}`);
  }
}
