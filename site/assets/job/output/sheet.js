/** What stands on the sheet of a job: every step with its ticks, figures, readings and notes, as plain words. */

import { StopscrewError } from "../../errors.js";
import { CautionSeverity } from "../../vocabulary.js";
import { asRead, staleOf } from "../log/record.js";
import { correctionWords, pointerWords, trueWords, whenWords } from "../reading/as-left.js";
import { verdictOf } from "../reading/verdict.js";
import { figuresOf, givenFor } from "../step-figure.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../log/record.js").JobRecord} JobRecord */
/** @typedef {import("../log/record.js").ReadingOf} Reading */
/** @typedef {import("../../book/job.js").Job} Job */
/** @typedef {import("../../book/job.js").JobStep} JobStep */
/** @typedef {import("../step-figure.js").Shown} Shown */

/**
 * A figure as it stood: `cites` are sources by number, each with its page.
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
 *   invented: boolean, first: string, about: (readonly [string, string])[], open: number, steps: SheetStep[],
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
  const stale = new Set(staleOf(job, record));
  const done = new Set(record.done);
  const places = placed(record, job);
  const steps = job.steps.map((step, place) => ({
    number: place + 1,
    stands: standing(step.id, done, stale),
    do: step.do,
    cautions: worstFirst(step.cautions.flatMap((id) => shared["cautions"][id] ?? [])).map(
      ({ severity, title }) => `${severity}: ${title}`,
    ),
    ticks: step.gate.map((line) => /** @type {const} */ ([line, record.ticks.get(step.id)?.has(line) ?? false])),
    figures: step.figure ? figuresIn(record, page, shared, step.figure, sources) : [],
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

/** What belongs to the engine on that day. @param {JobRecord} record */
function aboutOf(record) {
  /** @type {[string, string][]} */
  const about = [["pointer", pointerWords(record.deadCentre)]];
  if (record.margin) about.push(["margin chosen", `${record.margin}° to the late side`]);
  if (record.correction) about.push(["this engine's correction", correctionWords(record.correction)]);
  return about;
}

/**
 * Each reading at its step, or at the first that asks for its figure; under no name those that have none.
 * @param {JobRecord} record
 * @param {Job} job
 */
function placed(record, job) {
  /** @type {Map<string, Reading[]>} */
  const places = new Map();
  for (const reading of [...record.found.values(), ...record.left.values()].flat()) {
    const own =
      job.steps.find((step) => step.id === reading.step) ?? job.steps.find((step) => step.figure === reading.figure);
    places.set(own?.id ?? "", [...(places.get(own?.id ?? "") ?? []), reading]);
  }
  return places;
}

/**
 * What the book holds on a figure; nothing that it refuses is lost, it is told.
 * @param {JobRecord} record
 * @param {Document} page
 * @param {Document} shared
 * @param {string} figure
 * @returns {Shown[] | string}
 */
function held(record, page, shared, figure) {
  try {
    return figuresOf(page, shared, record, figure);
  } catch (error) {
    if (error instanceof StopscrewError) return error.message;
    throw error;
  }
}

/**
 * @param {JobRecord} record
 * @param {Document} page
 * @param {Document} shared
 * @param {string} figure
 * @param {Sources} sources
 * @returns {SheetFigure[]}
 */
function figuresIn(record, page, shared, figure, sources) {
  const shown = held(record, page, shared, figure);
  const label = String(shared["figures"][figure]?.label ?? figure);
  if (typeof shown === "string") return [{ label, printed: "", set: "", cites: [], problem: shown }];
  if (!shown.length) return [{ label, printed: "", set: "", cites: [], problem: "nobody has said anything of it" }];
  return shown.map(({ told, asked, aimed, refused }) => ({
    label: [told.label, told.when].filter(Boolean).join(", "),
    printed: asked?.printed || told.printed,
    set: aimed ? String(aimed.show) : "",
    cites: told.statements.map((/** @type {Document} */ one) => sources.cite(one)),
    problem: [told.words, refused].filter(Boolean).join("; "),
  }));
}

/**
 * @param {JobRecord} record
 * @param {Document} page
 * @param {Document} shared
 * @param {Reading} reading
 * @returns {SheetReading}
 */
function readingOf(record, page, shared, reading) {
  const { figure, value, state, cylinder, conditions } = reading;
  const shown = held(record, page, shared, figure);
  const at = { ...(cylinder ? { cylinder } : {}), ...conditions };
  const { off, sign, words } =
    typeof shown === "string"
      ? { off: "", sign: "–", words: "noted; not judged" }
      : verdictOf(shown, { value, state, at }, givenFor(page, shared, asRead(record, reading), figure));
  const { printed, read } = trueWords(value, reading.pointer);
  const said = [
    read || printed,
    whenWords(reading),
    cylinder && `cylinder ${cylinder}`,
    read && `(truly ${printed})`,
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

/** The sources that were used, numbered as they come. */
class Sources {
  /** @type {Map<string, number>} */
  #numbers = new Map();

  /** A statement by its source's number and page. @param {Document} statement as the family's page shows it */
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
