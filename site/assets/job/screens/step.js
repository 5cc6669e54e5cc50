/** One step of a job on one screen: what can hurt first, then what to do, the figure, the ticks, the readings. */

import { element } from "../../dom.js";
import { CautionSeverity } from "../../vocabulary.js";
import { acted, field, key } from "../controls.js";
import { DEAD_CENTRE, gateLines, nameOf, openLines, stoppedBy } from "../gates.js";
import { staleOf } from "../log/record.js";
import { readingsOf } from "../reading/readings.js";
import { figuresOf } from "../step-figure.js";
import { deadCentre } from "./dead-centre.js";
import { figureShown } from "./figure-view.js";
import { isCranked, starterTimer } from "./starter-timer.js";

/** @typedef {import("../workspace.js").Desk} Desk */
/** @typedef {import("../../book/job.js").JobStep} JobStep */

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
  const takes = kind && step.records.length > 0;
  return [
    element(
      "p",
      { class: "where" },
      `Step ${place + 1} of ${job.steps.length}`,
      stale.includes(step.id)
        ? element("strong", {}, " · a later step moved this: check it again")
        : record.done.includes(step.id)
          ? " · done"
          : "",
    ),
    cautionsOf(desk, step),
    element("p", { class: "do" }, step.do),
    step.why ? element("p", { class: "why" }, step.why) : null,
    step.figure ? figureShown(desk, step.figure, shown) : null,
    step.id === RECHECK ? staleLinks(desk, stale) : null,
    step.gate.length ? gateLines(step, record, (tick, on) => desk.append("tick", { step: step.id, tick, on })) : null,
    isCranked(step, kind)
      ? starterTimer(
          record.id,
          (words) => desk.say(words),
          openLines(step, record).length ? "tick every line above first" : "",
        )
      : null,
    reads ? deadCentre(desk, step.id) : null,
    takes ? readingsOf(desk, step, shown) : null,
    notesOf(desk, step, !takes && !reads && step.records.length > 0),
    walk(desk, step, place, go),
  ];
}

/**
 * What can hurt at this step, the worst first; before anything is said of what to do.
 * @param {Desk} desk
 * @param {JobStep} step
 */
function cautionsOf({ shared }, step) {
  /** @type {string[]} */
  const order = [CautionSeverity.DANGER, CautionSeverity.WARNING];
  const worst = (/** @type {any} */ one) => (order.indexOf(one.severity) + order.length + 1) % (order.length + 1);
  const cautions = step.cautions
    .flatMap((id) => (shared["cautions"][id] ? [shared["cautions"][id]] : []))
    .sort((one, other) => worst(one) - worst(other));
  if (!cautions.length) return null;
  return element(
    "section",
    { class: "step-cautions", "aria-label": "Cautions" },
    ...cautions.map(({ severity, title, text, behind = "" }) =>
      element(
        "p",
        { class: severity },
        element("strong", {}, `${severity.slice(0, 1).toUpperCase()}${severity.slice(1)}: ${title}. `),
        text,
        behind ? element("small", {}, ` (${behind})`) : null,
      ),
    ),
  );
}

/** The steps that a later one moved, to go back to. @param {Desk} desk @param {readonly string[]} stale */
export function staleLinks({ record }, stale) {
  if (!stale.length) return element("p", {}, "Nothing has to be checked again now.");
  return element(
    "ul",
    { class: "stale plain" },
    ...stale.map((id) =>
      element("li", {}, element("a", { href: `#${record.id}/${id}` }, `check again: ${nameOf(id)}`)),
    ),
  );
}

/** @param {Desk} desk @param {JobStep} step @param {boolean} open */
function notesOf(desk, step, open) {
  const notes = desk.record.notes.filter((note) => note.step === step.id);
  const draft = desk.draft(`${step.id} note`, () => ({ text: "" }));
  const form = element(
    "form",
    { class: "take", novalidate: true },
    field(
      "note",
      "Note, as found or as left",
      draft.text,
      (text) => {
        draft.text = text;
      },
      { rows: "2", maxlength: "500" },
    ),
    element("button", { type: "submit", id: "keep-note" }, "Keep the note"),
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const text = draft.text.trim().replace(/\s+/g, " ");
    if (!text) return desk.say("The note is still empty: write a word first");
    draft.text = "";
    return void acted(() => desk.append("note", { step: step.id, text }).then(() => desk.say("Noted")));
  });
  const kept = notes.map((note) =>
    element(
      "li",
      {},
      note.text,
      " ",
      key("Take back", () => desk.append("take-back", { entry: note.entry }), {
        id: `back-${note.entry}`,
        "aria-label": `Take back the note ${note.text}`,
      }),
    ),
  );
  return element(
    "details",
    { class: "notes", id: "notes", open: open || notes.length > 0 || Boolean(draft.text) },
    element("summary", {}, "Notes"),
    kept.length ? element("ul", {}, ...kept) : null,
    form,
  );
}

/**
 * Where one goes after a step: on first doing it to the next in order; on coming back to the next that is to be checked
 * again, else to where the job had got to.
 * @param {Desk} desk
 * @param {JobStep} step
 * @param {boolean} first
 */
function nextOf({ job, record }, step, first) {
  if (first) return job.steps[job.steps.indexOf(step) + 1]?.id ?? "end";
  const [stale] = staleOf(job, record).filter((id) => id !== step.id);
  return stale ?? job.steps.find((one) => !record.done.includes(one.id) && one.id !== step.id)?.id ?? "end";
}

/** Why a step can not be done yet; empty where it can. @param {Desk} desk @param {JobStep} step */
function shutBy({ job, record }, step) {
  if (openLines(step, record).length) return "Tick every line first";
  if (step.id === DEAD_CENTRE && stoppedBy(record)) return "The job stops here";
  return step.id === RECHECK && staleOf(job, record).length ? "Check those steps again first" : "";
}

/**
 * Back, done and next.
 * @param {Desk} desk
 * @param {JobStep} step
 * @param {number} place
 * @param {(where: string) => void} go
 */
function walk(desk, step, place, go) {
  const { job, record } = desk;
  const before = job.steps[place - 1];
  const first = !record.done.includes(step.id);
  const stale = staleOf(job, record).includes(step.id);
  const shut = shutBy(desk, step);
  const onward = nextOf(desk, step, first);
  const words = onward === "end" ? "to the end" : first ? "next step" : `on to “${nameOf(onward)}”`;
  const did = (/** @type {string} */ said, /** @type {boolean} */ stood, look = "main-key") =>
    key(
      shut || said,
      async () => {
        if (shut) return desk.say(shut);
        const here = location.hash;
        await desk.append("done", { step: step.id, ...(stood ? { stood } : {}) });
        return location.hash === here ? go(nextOf(desk, step, first)) : undefined; // whoever went elsewhere meanwhile stays there
      },
      { class: look, id: stood ? "stood" : "done", "aria-disabled": String(Boolean(shut)) },
    );
  const link = (/** @type {string} */ where, /** @type {string} */ said, look = "as-key") =>
    element("a", { class: look, href: `#${record.id}/${where}` }, said);
  const ways = stale
    ? [did(`Checked, it stands as it was: ${words}`, true), did(`Set again: ${words}`, false, "wide")]
    : first
      ? [did(`Done, ${words}`, false)]
      : [link(onward, `Done before: ${words}`, "as-key main-key"), did("I set it again just now", false, "wide")];
  return element(
    "nav",
    { class: "walk", "aria-label": "Through the job" },
    ...ways,
    element(
      "div",
      { class: "keys" },
      before ? link(before.id, "Back") : null,
      link("steps", "All steps"),
      shut && step.id !== RECHECK
        ? null
        : first || stale
          ? link(job.steps[place + 1]?.id ?? "end", "Skip for now")
          : null,
    ),
  );
}

/**
 * What is left to tell of a step that may not be opened yet.
 * @param {Desk} desk
 * @param {string} why
 * @param {string} at
 */
export function shutShown({ record }, why, at) {
  return [
    element("p", { class: "refused", role: "alert" }, `Not yet: ${why}.`),
    element("p", {}, element("a", { class: "as-key", href: `#${record.id}/${at}` }, `To “${nameOf(at)}”`)),
  ];
}
