/** The sheet of a job on one leaf: what was set and read on the one page, the order of work as lines on the other. */

import { element } from "../../dom.js";
import { CautionSeverity } from "../../vocabulary.js";
import { inShort } from "./leaf.js";
import { sheetOf } from "./sheet.js";
import { headOf, partOf, readingDrawn, SIGNS } from "./sheet-view.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./sheet.js").Sheet} Sheet */
/** @typedef {import("./sheet.js").SheetStep} SheetStep */
/** @typedef {import("./sheet.js").SheetFigure} SheetFigure */

/** The most letters above a gate, which says what comes next. */
const ABOVE_GATE = 240;

/**
 * @param {import("../log/record.js").JobRecord} record
 * @param {import("../../book/job.js").Job} job
 * @param {Document} page
 * @param {Document} shared
 * @returns {HTMLElement}
 */
export function drawLeaf(record, job, page, shared) {
  const sheet = sheetOf(record, job, page, shared);
  return element(
    "article",
    { class: "job-sheet job-leaf", "aria-label": `The sheet of the job on ${sheet.name}, on one leaf` },
    element("div", { class: "leaf-page" }, headOf(sheet), ...figuresPart(sheet), ...notedParts(sheet)),
    element(
      "div",
      { class: "leaf-page" },
      element("h3", {}, "The order of work, in short"),
      element("ol", { class: "leaf-steps" }, ...sheet.steps.map(lineDrawn)),
    ),
  );
}

/** The figures and readings of each step that has any, whole. @param {Sheet} sheet */
function figuresPart({ steps, others }) {
  const rows = steps.filter(({ figures, readings }) => readings.length || figures.some((one) => one.printed));
  return [
    partOf("Set and read", element("div", { class: "leaf-figures" }, ...rows.map(rowDrawn))),
    others.length ? partOf("Other readings", ...others.map(readingDrawn)) : null,
  ];
}

/** @param {Sheet} sheet */
function notedParts({ ran, notes, steps, sources, cautions }) {
  const noted = [...steps.flatMap((step) => step.notes.map((note) => `${step.number}: ${note}`)), ...notes];
  const dangers = cautions.filter(({ severity }) => severity === CautionSeverity.DANGER);
  return [
    ran ? partOf("How it ran", element("p", {}, ran)) : null,
    noted.length ? partOf("Notes", ...noted.map((note) => element("p", {}, note))) : null,
    dangers.length
      ? partOf(
          "Dangers",
          ...dangers.map(({ title, text }) => element("p", {}, element("strong", {}, `danger: ${title}. `), text)),
        )
      : null,
    sources.length ? partOf("Sources of the figures", element("p", {}, sources.join("; "))) : null,
  ];
}

/** @param {SheetStep} step */
const rowDrawn = ({ number, figures, readings }) =>
  element(
    "div",
    { class: "leaf-figure" },
    ...figures.map((figure) => figureDrawn(number, figure)),
    ...readings.map(readingDrawn),
  );

/** @param {number} number @param {SheetFigure} figure */
function figureDrawn(number, { label, printed, set, cites, problem }) {
  const setTo = set && set !== printed;
  return element(
    "p",
    {},
    `${number} ${label}: `,
    printed ? element("strong", {}, printed) : null,
    setTo ? element("span", {}, ", set to ", element("strong", {}, set), " as the pointer shows it") : null,
    problem ? (printed ? ` (${problem})` : problem) : null,
    cites.length ? ` ${cites.join(", ")}` : null,
  );
}

/** @param {SheetStep} step */
function lineDrawn({ number, stands, do: words, cautions, ticks }) {
  const gate = ticks.length > 0;
  return element(
    "li",
    { class: `leaf-step ${stands.replace(" ", "-")}${gate ? " leaf-gate" : ""}` },
    element(
      "p",
      {},
      element("span", { class: "sign", "aria-hidden": "true" }, SIGNS.get(stands) ?? ""),
      element("strong", {}, ` ${number} `),
      gate ? element("strong", {}, "Gate. ") : null,
      inShort(words, gate ? ABOVE_GATE : undefined),
      element("em", {}, stands === "done" ? "" : ` ${stands}`),
      cautions.length ? element("strong", {}, ` ${cautions.join(" · ")}`) : null,
    ),
    ...ticks.map(([line, on]) =>
      element(
        "p",
        { class: "tick" },
        element("span", { "aria-hidden": "true" }, on ? "☑ " : "☐ "),
        line,
        on ? "" : element("em", {}, " not ticked"),
      ),
    ),
  );
}
