/** One step of a job on one screen: what can hurt first, then what to do, the figure, the ticks, the readings. */

import { deadCentre } from "./centre.js";
import { element, field, key, lines } from "./dom.js";
import { figuresOf } from "./figure.js";
import { DEAD_CENTRE, gateLines, nameOf, openLines, reach, stoppedBy } from "./gate.js";
import { readingsOf } from "./readings.js";
import { staleOf } from "./record.js";
import { figureShown } from "./shown.js";
import { isCranked, starterTimer } from "./timer.js";

/** @typedef {import("./desk.js").Desk} Desk */
/** @typedef {import("../book/job.js").JobStep} JobStep */

const POINTER = "pointer";
const RECHECK = "recheck";

/**
 * @param {Desk} desk
 * @param {JobStep} step
 * @param {(where: string) => void} go to a step by its id, or to `end`
 */
export function stepShown(desk, step, go) {
  const { job, record, shared } = desk;
  const place = job.steps.indexOf(step);
  const kind = step.figure ? shared["figures"][step.figure] : undefined;
  const shown = step.figure ? figuresOf(desk.page, shared, record, step.figure) : [];
  const stale = staleOf(job, record);
  const reads = step.id === DEAD_CENTRE || step.id === POINTER;
  const takes = step.figure && step.records.length > 0;
  return [
    element("p", { class: "where" }, `Step ${place + 1} of ${job.steps.length}`,
      stale.includes(step.id) ? element("strong", {}, " · a later step moved this: check it again") : record.done.includes(step.id) ? " · done" : ""),
    cautionsOf(desk, step),
    element("p", { class: "do" }, step.do),
    step.why ? element("p", { class: "why" }, step.why) : null,
    step.figure ? figureShown(desk, step.figure, shown) : null,
    step.id === RECHECK ? staleLinks(desk, stale) : null,
    step.gate.length ? gateLines(step, record, (tick, on) => desk.append("tick", { step: step.id, tick, on })) : null,
    isCranked(step, kind) ? starterTimer(record.id, (words) => desk.say(words)) : null,
    reads ? deadCentre(desk, step.id) : null,
    takes ? readingsOf(desk, step, shown) : null,
    notesOf(desk, step, !takes && !reads && step.records.length > 0),
    walk(desk, step, place, go),
  ];
}

/** What can hurt at this step, the worst first; before anything is said of what to do. @param {Desk} desk @param {JobStep} step */
function cautionsOf({ shared }, step) {
  const order = ["danger", "warning"];
  const worst = (/** @type {any} */ one) => (order.indexOf(one.severity) + order.length + 1) % (order.length + 1);
  const cautions = step.cautions.flatMap((id) => (shared["cautions"][id] ? [shared["cautions"][id]] : [])).sort((one, other) => worst(one) - worst(other));
  if (!cautions.length) return null;
  return element("section", { class: "step-cautions", "aria-label": "Cautions" }, ...cautions.map(({ severity, title, text, behind = "" }) =>
    element("p", { class: severity }, element("strong", {}, `${severity}: ${title}. `), text, behind ? element("small", {}, ` (${behind})`) : null)));
}

/** The steps that a later one moved, to go back to. @param {Desk} desk @param {readonly string[]} stale */
export function staleLinks({ record }, stale) {
  if (!stale.length) return element("p", {}, "Nothing has to be checked again now.");
  return element("ul", { class: "stale plain" }, ...stale.map((id) => element("li", {}, element("a", { href: `#${record.id}/${id}` }, `check again: ${nameOf(id)}`))));
}

/** @param {Desk} desk @param {JobStep} step @param {boolean} open */
function notesOf(desk, step, open) {
  const notes = desk.record.notes.filter((note) => note.step === step.id);
  const draft = desk.draft(`${step.id} note`, () => ({ text: "" }));
  const form = element("form", { class: "take", novalidate: true },
    field("note", "Note, as found or as left", draft.text, (text) => {
      draft.text = text;
    }, { rows: "2", maxlength: "500" }),
    element("button", { type: "submit", id: "keep-note" }, "Keep the note"));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const text = draft.text.trim().replace(/\s+/g, " ");
    if (!text) return desk.say("The note is still empty: write a word first");
    draft.text = "";
    return void desk.append("note", { step: step.id, text }).then(() => desk.say("Noted"));
  });
  const kept = notes.map((note) => element("li", {}, note.text, " ", key("Take back", () => desk.append("take-back", { entry: note.entry }), { id: `back-${note.entry}`, "aria-label": `Take back the note ${note.text}` })));
  return element("details", { class: "notes", id: "notes", open: open || notes.length > 0 || Boolean(draft.text) }, element("summary", {}, "Notes"),
    kept.length ? element("ul", {}, ...kept) : null, form);
}

/** Back, done and next. @param {Desk} desk @param {JobStep} step @param {number} place @param {(where: string) => void} go */
function walk(desk, step, place, go) {
  const { job, record } = desk;
  const [before, after] = [job.steps[place - 1], job.steps[place + 1]];
  const shut = openLines(step, record).length ? "Tick every line first" : step.id === DEAD_CENTRE && stoppedBy(record) ? "The job stops here" : "";
  const where = after?.id ?? "end";
  const done = key(shut || (after ? "Done, next step" : "Done, to the end"), async () => {
    const { why } = reach(job, record);
    if (shut) return desk.say(`${shut}: ${why}`);
    await desk.append("done", { step: step.id });
    return go(where);
  }, { class: "main-key", id: "done", "aria-disabled": String(Boolean(shut)) });
  return element("nav", { class: "walk", "aria-label": "Through the job" }, done,
    element("div", { class: "keys" },
      before ? element("a", { class: "as-key", href: `#${record.id}/${before.id}` }, "Back") : null,
      element("a", { class: "as-key", href: `#${record.id}/steps` }, "All steps"),
      shut ? null : element("a", { class: "as-key", href: `#${record.id}/${where}` }, "Skip for now")));
}

/** What is left to tell of a step that may not be opened yet. @param {Desk} desk @param {string} why @param {string} at */
export function shutShown({ record }, why, at) {
  return [
    element("p", { class: "refused", role: "alert" }, `Not yet: ${why}.`),
    element("p", {}, element("a", { class: "as-key", href: `#${record.id}/${at}` }, `To “${nameOf(at)}”`)),
    lines([]),
  ];
}
