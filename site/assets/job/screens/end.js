/** The end of a job: as found beside as left, what is missing, how it ran, and everything that goes out of it. */

import { element } from "../../dom.js";
import { acted, field, key, lines } from "../controls.js";
import { nameOf, reach } from "../gates.js";
import { staleOf } from "../log/record.js";
import { goingOut } from "../output/outputs.js";
import { measured } from "../reading/measured-correction.js";
import { atOf, judged, whereWords } from "../reading/readings.js";
import { figuresOf, valueWords } from "../step-figure.js";
import { statesOf } from "./all-steps.js";
import { staleLinks } from "./step.js";

/** @typedef {import("../workspace.js").Desk} Desk */
/** @typedef {import("../log/record.js").ReadingOf} ReadingOf */
/** @typedef {import("../step-figure.js").Shown} Shown */

/** @param {Desk} desk */
export function endShown(desk) {
  const stale = staleOf(desk.job, desk.record);
  const { why, step } = reach(desk.job, desk.record);
  const seen = desk.draft("end", () => ({ anyway: false }));
  const warning = stale.length || why ? warned(desk, stale, why, step) : null;
  if (warning && !seen.anyway) {
    return [
      warning,
      element(
        "div",
        { class: "keys" },
        key(
          "Show what there is all the same",
          () => {
            seen.anyway = true;
            desk.redraw("job-title");
          },
          { id: "anyway" },
        ),
        back(desk),
      ),
    ];
  }
  return [
    warning,
    missing(desk),
    table(desk),
    measured(desk, "max-advance"),
    said(desk),
    goingOut(desk),
    closing(desk, Boolean(warning)),
    back(desk),
  ];
}

/** @param {Desk} desk */
const back = (desk) =>
  element(
    "p",
    { class: "keys" },
    element("a", { class: "as-key", href: `#${desk.record.id}/steps` }, "All steps"),
    element("a", { class: "as-key", href: "#" }, "All jobs"),
  );

/** @param {Desk} desk @param {readonly string[]} stale @param {string} why @param {string} step */
function warned(desk, stale, why, step) {
  return element(
    "section",
    { class: "end-warning", role: "alert" },
    element("h2", {}, "Not finished"),
    why
      ? element(
          "p",
          {},
          `Not further yet: ${why}. `,
          element("a", { href: `#${desk.record.id}/${step}` }, `To “${nameOf(step)}”`),
        )
      : null,
    stale.length
      ? element(
          "p",
          {},
          `${stale.length === 1 ? "A step was" : `${stale.length} steps were`} moved by what you did after. ` +
            "What stands there as left may no longer be true on the engine:",
        )
      : null,
    stale.length ? staleLinks(desk, stale) : null,
  );
}

/** What was not done, to be seen and not blamed. @param {Desk} desk */
function missing(desk) {
  const open = statesOf(desk).filter(({ state }) => state === "todo" || state === "shut");
  if (!open.length) return element("p", {}, "Every step is done.");
  return element(
    "details",
    {},
    element("summary", {}, `${open.length} of ${desk.job.steps.length} steps were not done`),
    element(
      "ul",
      { class: "undone" },
      ...open.map(({ id, state }) =>
        element(
          "li",
          {},
          state === "shut" ? nameOf(id) : element("a", { href: `#${desk.record.id}/${id}` }, nameOf(id)),
        ),
      ),
    ),
  );
}

/** @param {Desk} desk */
function table(desk) {
  const { record, shared } = desk;
  const figures = Object.keys(shared["figures"]).filter((id) => record.found.has(id) || record.left.has(id));
  if (!figures.length) return element("p", { class: "said" }, element("strong", {}, "No reading was noted."));
  const rows = figures.map((id) => {
    const shown = figuresOf(desk.page, shared, record, id);
    const side = (/** @type {string} */ words, /** @type {readonly ReadingOf[]} */ readings) =>
      element(
        "div",
        {},
        element("h4", {}, words),
        ...(readings.length ? readings.map((one) => reading(desk, one, shown)) : [element("p", {}, "nothing noted")]),
      );
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
 * Of readings in the same state and under the same conditions one: the first as found, the last as left, as the report has it.
 * @param {readonly ReadingOf[]} readings
 * @param {boolean} last
 */
function onceEach(readings, last) {
  /** @type {Map<string, ReadingOf>} */
  const kept = new Map();
  for (const one of readings) {
    const place = JSON.stringify([one.state, Object.entries(atOf(one)).sort()]);
    if (last || !kept.has(place)) kept.set(place, one);
  }
  return [...kept.values()];
}

/** @param {Desk} desk @param {ReadingOf} one @param {readonly Shown[]} shown */
function reading(desk, one, shown) {
  const verdict = judged(one, shown, desk);
  const where = whereWords(one, desk);
  return element(
    "div",
    { class: `verdict ${verdict.off || "none"}` },
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

/** How it ran, a note for all of the job, and who did it. @param {Desk} desk */
function said(desk) {
  const { record } = desk;
  const draft = desk.draft("end said", () => ({ ran: record.ran, note: "", by: record.by }));
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
    element("button", { type: "submit", id: "keep-said" }, "Keep this"),
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    void acted(() => keepSaid(desk, draft));
  });
  return element(
    "section",
    { "aria-label": "How it ran" },
    element("h2", {}, "How it ran"),
    form,
    lines(notes.map((note) => (note.step ? `${nameOf(note.step)}: ${note.text}` : note.text))),
  );
}

/** @param {Desk} desk @param {{ran: string, note: string, by: string}} draft */
async function keepSaid(desk, draft) {
  const [ran, note, by] = [draft.ran, draft.note, draft.by].map((text) => text.trim().replace(/\s+/g, " "));
  draft.note = "";
  if (ran !== desk.record.ran) await desk.append("ran", { text: ran });
  if (by && by !== desk.record.by) await desk.append("engine", { by });
  if (note) await desk.append("note", { text: note });
  desk.say("Kept");
  desk.redraw("keep-said");
}

/** @param {Desk} desk @param {boolean} unfinished */
function closing(desk, unfinished) {
  const { closed } = desk.record;
  if (closed)
    return element(
      "p",
      {},
      `The job was closed on ${new Date(closed).toLocaleString("en-GB")}. What is noted from here on is kept too.`,
    );
  return element(
    "p",
    {},
    key(
      "The job is done: close it",
      () => {
        if (unfinished) return desk.say("It is not finished: see the top of this page. It stays open");
        return desk.append("close", {}).then(() => desk.say("The job is closed and kept on this phone"));
      },
      { class: "main-key", id: "close", "aria-disabled": String(unfinished) },
    ),
  );
}
