/** The long sheet of a job on paper, each step whole, for the owner's file. */

import { element } from "../../dom.js";
import { localDate } from "../local-date.js";
import { sheetOf } from "./sheet.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./sheet.js").Sheet} Sheet */
/** @typedef {import("./sheet.js").SheetFigure} SheetFigure */
/** @typedef {import("./sheet.js").SheetReading} SheetReading */
/** @typedef {import("./sheet.js").SheetStep} SheetStep */

/** How a step stands, as a sign. */
export const SIGNS = new Map([
  ["done", "✓"],
  ["check again", "↻"],
  ["not done", "☐"],
]);

/**
 * @param {import("../log/record.js").JobRecord} record
 * @param {import("../../book/job.js").Job} job
 * @param {Document} page
 * @param {Document} shared
 * @returns {HTMLElement}
 */
export function drawSheet(record, job, page, shared) {
  const sheet = sheetOf(record, job, page, shared);
  const { cautions, name, notes, others, ran, sources, steps } = sheet;
  return element(
    "article",
    { class: "job-sheet", "aria-label": `The sheet of the job on ${name}` },
    headOf(sheet),
    element("ol", { class: "sheet-steps" }, ...steps.map(stepDrawn)),
    others.length ? partOf("Other readings", ...others.map(readingDrawn)) : null,
    ran ? partOf("How it ran", element("p", {}, ran)) : null,
    notes.length ? partOf("Notes", ...notes.map((note) => element("p", {}, note))) : null,
    sources.length ? partOf("Sources of the figures", ...sources.map((source) => element("p", {}, source))) : null,
    cautions.length ? partOf("Cautions", ...cautions.map(cautionDrawn)) : null,
  );
}

/** The head: what is worst first, which engine, when and by whom. @param {Sheet} sheet */
export function headOf({
  about,
  began,
  by,
  closed,
  dataOf,
  engine,
  first,
  invented,
  name,
  open,
  routine,
  steps,
  worst,
}) {
  const days = [`begun ${localDate(began)}`, closed ? `closed ${localDate(closed)}` : "not closed", by && `by ${by}`]
    .filter(Boolean)
    .join(", ");
  const warned = open
    ? `${open} of ${steps.length} steps are not done or are to be checked again.`
    : "Every step is done.";
  return element(
    "header",
    {},
    invented ? element("p", { class: "sheet-invented" }, "Invented demonstration data. Set nothing by it") : null,
    ...worst.map((line) => element("p", { class: "sheet-worst" }, element("strong", {}, line))),
    element("h2", {}, name),
    element("p", {}, `${engine}; ${days}`),
    element("p", {}, `${routine}. Figures: data of ${dataOf}. ${warned}`),
    element(
      "dl",
      {},
      ...about.map(([label, value]) => element("div", {}, element("dt", {}, label), element("dd", {}, value))),
    ),
    element("p", { class: "sheet-first" }, first),
  );
}

/** @param {string} title @param {...Node} inner */
export const partOf = (title, ...inner) => element("section", {}, element("h3", {}, title), ...inner);

/** @param {SheetStep} step */
function stepDrawn({ number, stands, do: words, cautions, ticks, figures, readings, notes }) {
  return element(
    "li",
    { class: `sheet-step ${stands.replace(" ", "-")}` },
    element(
      "p",
      { class: "stands" },
      element("span", { class: "sign", "aria-hidden": "true" }, SIGNS.get(stands) ?? ""),
      ` ${stands}`,
    ),
    element(
      "div",
      {},
      element("p", { class: "do" }, element("strong", {}, `${number} `), words),
      cautions.length ? element("p", { class: "sheet-cautions" }, cautions.join(" · ")) : null,
      ...ticks.map(([line, on]) =>
        element(
          "p",
          { class: "tick" },
          element("span", { "aria-hidden": "true" }, on ? "☑ " : "☐ "),
          line,
          on ? "" : element("em", {}, " not ticked"),
        ),
      ),
      ...figures.map(figureDrawn),
      ...readings.map(readingDrawn),
      ...notes.map((note) => element("p", { class: "sheet-note" }, `Note: ${note}`)),
    ),
  );
}

/** @param {SheetFigure} figure */
function figureDrawn({ label, printed, set, cites, problem }) {
  return element(
    "p",
    { class: "sheet-figure" },
    `${label}: `,
    printed ? element("strong", {}, printed) : null,
    set && set !== printed
      ? element("span", {}, ", set to ", element("strong", {}, set), " as the pointer shows it")
      : null,
    problem ? (printed ? ` (${problem})` : problem) : null,
    cites.length ? element("small", {}, ` ${cites.join(", ")}`) : null,
  );
}

/** @param {SheetReading} reading */
export function readingDrawn({ when, label, words, off, sign, verdict }) {
  return element(
    "p",
    { class: `sheet-reading ${off || "none"}` },
    `${when}: `,
    element("strong", {}, words),
    ` ${sign} ${verdict}`,
    element("small", {}, ` · ${label.toLowerCase()}`),
  );
}

/** @param {Document} caution */
const cautionDrawn = ({ severity, title, text, behind = "" }) =>
  element(
    "p",
    {},
    element("strong", {}, `${severity}: ${title}. `),
    text,
    behind ? element("small", {}, ` (${behind})`) : null,
  );
