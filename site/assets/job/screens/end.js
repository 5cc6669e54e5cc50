/** The end of a job: as found beside as left, what is missing, how it ran, and its outputs. */

import { MAXIMUM } from "../../book/catalogue.js";
import { element } from "../../dom.js";
import { acted, field, key, lines } from "../controls.js";
import { firstLines } from "../dangers.js";
import { furthestStep, stepName } from "../gates.js";
import { staleSteps } from "../log/record.js";
import { outputs } from "../output/outputs.js";
import { measuredView } from "../reading/measured-correction.js";
import { whereWords } from "../reading/readings.js";
import { atOf, verdictOn } from "../reading/verdict.js";
import { stepFigures, valueWords } from "../step-figure.js";
import { stepStates } from "./all-steps.js";
import { staleLinks } from "./step.js";

/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {import("../log/record.js").JobReading} JobReading */
/** @typedef {import("../step-figure.js").StepFigure} StepFigure */

/** @param {Workspace} workspace */
export function endScreen(workspace) {
  const stale = staleSteps(workspace.job, workspace.record);
  const { why, step } = furthestStep(workspace);
  const seen = workspace.draft("end", () => ({ anyway: false }));
  const warning = stale.length || why ? warned(workspace, stale, why, step) : null;
  if (warning && !seen.anyway) {
    return [
      warning,
      element(
        "div",
        { class: "keys" },
        key(
          "Show it anyway",
          () => {
            seen.anyway = true;
            workspace.redraw("job-title");
          },
          { id: "anyway" },
        ),
        back(workspace),
      ),
    ];
  }
  return [
    warning,
    firstView(workspace),
    missing(workspace),
    table(workspace),
    measuredView(workspace, MAXIMUM),
    said(workspace),
    outputs(workspace),
    closing(workspace, Boolean(warning)),
    back(workspace),
  ];
}

/** @param {Workspace} workspace */
const back = (workspace) =>
  element(
    "p",
    { class: "keys" },
    element("a", { class: "as-key", href: `#${workspace.record.id}/steps` }, "Steps"),
    element("a", { class: "as-key", href: "#" }, "All jobs"),
  );

/** @param {Workspace} workspace @param {readonly string[]} stale @param {string} why @param {string} step */
function warned(workspace, stale, why, step) {
  return element(
    "section",
    { class: "end-warning", role: "alert" },
    element("h2", {}, "Not finished"),
    why
      ? element(
          "p",
          {},
          `The job stops here for now: ${why}. `,
          element("a", { href: `#${workspace.record.id}/${step}` }, `To “${stepName(step)}”`),
        )
      : null,
    stale.length
      ? element(
          "p",
          {},
          `${stale.length === 1 ? "A step was" : `${stale.length} steps were`} moved by what you did after, ` +
            "or read before top dead centre was noted anew. " +
            "Its readings as left may no longer be true of the engine:",
        )
      : null,
    stale.length ? staleLinks(workspace, stale) : null,
  );
}

/** Overrides, and what was read on its dangerous end. @param {Workspace} workspace */
function firstView(workspace) {
  const first = firstLines(workspace);
  if (!first.length) return null;
  return element(
    "ul",
    { class: "first-lines plain" },
    ...first.map(([kind, words]) => element("li", {}, element("strong", {}, `${kind}: `), words)),
  );
}

/** The steps not done. @param {Workspace} workspace */
function missing(workspace) {
  const open = stepStates(workspace).filter(({ state }) => state === "todo" || state === "shut");
  if (!open.length) return element("p", {}, "Every step is done.");
  return element(
    "details",
    {},
    element("summary", {}, `${open.length} of ${workspace.job.steps.length} steps were not done`),
    element(
      "ul",
      { class: "undone" },
      ...open.map(({ id, state }) =>
        element(
          "li",
          {},
          state === "shut" ? stepName(id) : element("a", { href: `#${workspace.record.id}/${id}` }, stepName(id)),
        ),
      ),
    ),
  );
}

/** @param {Workspace} workspace */
function table(workspace) {
  const { record, shared } = workspace;
  const figures = Object.keys(shared["figures"]).filter((id) => record.found.has(id) || record.left.has(id));
  if (!figures.length) return element("p", { class: "said" }, element("strong", {}, "No reading was noted."));
  const rows = figures.map((id) => {
    const shown = stepFigures(workspace.page, shared, record, id);
    const side = (/** @type {string} */ words, /** @type {readonly JobReading[]} */ readings) =>
      readings.length
        ? element("div", {}, element("h4", {}, words), ...readings.map((one) => reading(workspace, one, shown)))
        : null;
    return element(
      "section",
      { class: "found-left" },
      element("h3", {}, shared["figures"][id].label),
      side("As found", onceEach(record.found.get(id) ?? [], false)),
      side("As left", onceEach(record.left.get(id) ?? [], true)),
    );
  });
  return element("section", { "aria-label": "As found and as left" }, element("h2", {}, "As found, as left"), ...rows);
}

/**
 * One reading for each state and set of conditions: the first as found, the last as left, as in the report.
 * @param {readonly JobReading[]} readings
 * @param {boolean} last
 */
function onceEach(readings, last) {
  /** @type {Map<string, JobReading>} */
  const kept = new Map();
  for (const one of readings) {
    const place = JSON.stringify([one.state, Object.entries(atOf(one)).sort()]);
    if (last || !kept.has(place)) kept.set(place, one);
  }
  return [...kept.values()];
}

/** @param {Workspace} workspace @param {JobReading} one @param {readonly StepFigure[]} shown */
function reading(workspace, one, shown) {
  const verdict = verdictOn(one, shown, workspace);
  const where = whereWords(one);
  return element(
    "div",
    { class: `verdict ${verdict.look}` },
    element("strong", {}, valueWords(one.value)),
    ` ${where} `,
    element(
      "span",
      { class: "judged" },
      element("span", { class: "sign", "aria-hidden": "true" }, verdict.sign),
      ` ${verdict.words}`,
    ),
  );
}

/** How it ran, a note for the whole job, and who did it. @param {Workspace} workspace */
function said(workspace) {
  const { record } = workspace;
  const draft = workspace.draft(
    "end said",
    () => ({ ran: record.ran, note: "", by: record.by }),
    ({ ran, note }) => note !== "" || ran !== workspace.record.ran,
  );
  const notes = record.notes.filter((note) => note.text);
  const form = element(
    "form",
    { class: "take", novalidate: true },
    field(
      "ran",
      "How it ran",
      draft.ran,
      (text) => {
        draft.ran = text;
      },
      { rows: "2", maxlength: "600" },
    ),
    field(
      "end-note",
      "One more note for the whole job",
      draft.note,
      (text) => {
        draft.note = text;
      },
      { rows: "2", maxlength: "500" },
    ),
    field(
      "end-by",
      "By whom (initials)",
      draft.by,
      (text) => {
        draft.by = text;
      },
      { maxlength: "40", spellcheck: "false" },
    ),
    element("button", { type: "submit", id: "keep-said" }, "Save"),
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    void acted(() => keepSaid(workspace, draft));
  });
  return element(
    "section",
    { "aria-label": "How it ran" },
    element("h2", {}, "How it ran"),
    form,
    lines(notes.map((note) => (note.step ? `${stepName(note.step)}: ${note.text}` : note.text))),
  );
}

/** @param {Workspace} workspace @param {{ran: string, note: string, by: string}} draft */
async function keepSaid(workspace, draft) {
  const [ran, note, by] = [draft.ran, draft.note, draft.by].map((text) => text.trim().replace(/\s+/g, " "));
  draft.note = "";
  if (ran !== workspace.record.ran) await workspace.append("ran", { text: ran });
  if (by && by !== workspace.record.by) await workspace.append("engine", { by });
  if (note) await workspace.append("note", { text: note });
  workspace.say("Saved");
  workspace.redraw("keep-said");
}

/** @param {Workspace} workspace @param {boolean} unfinished */
function closing(workspace, unfinished) {
  const { closed } = workspace.record;
  if (closed)
    return element(
      "p",
      {},
      `The job was closed on ${new Date(closed).toLocaleString("en-GB")}. Anything noted after that is saved too.`,
    );
  return element(
    "p",
    {},
    key(
      "The job is done: close it",
      () => {
        if (unfinished) return workspace.say("It is not finished: see the top of this page. It stays open");
        return workspace.append("close", {}).then(() => workspace.say("The job is closed and kept on this phone"));
      },
      { class: "main-key", id: "close", "aria-disabled": String(unfinished) },
    ),
  );
}
