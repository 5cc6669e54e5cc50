/** The screen of one step: cautions first, then what to do, the figure, the ticks, the readings. */

import { element } from "../../dom.js";
import { CautionSeverity } from "../../vocabulary.js";
import { acted, field, key } from "../controls.js";
import { holds, readingUndone } from "../dangers.js";
import { firstAgain, gateView, pointerStop, pointerUndone, stepName } from "../gates.js";
import { DEAD_CENTRE, POINTER } from "../log/pointer-history.js";
import { isReadBeforePointer, staleSteps } from "../log/record.js";
import { stepsUndone, untickedLines } from "../log/undone.js";
import { readingsView } from "../reading/readings.js";
import { stepFigures } from "../step-figure.js";
import { nextOf } from "../way.js";
import { deadCentreForm } from "./dead-centre.js";
import { figureChoice, figureInSight } from "./figure-in-sight.js";
import { figureView } from "./figure-view.js";
import { heldView } from "./held.js";
import { isCranked, starterTimer } from "./starter-timer.js";

/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {import("../../book/job.js").JobStep} JobStep */

/**
 * @param {Workspace} workspace
 * @param {JobStep} step
 * @param {(where: string) => void} go to a step by its id, or to `end`
 */
export function stepScreen(workspace, step, go) {
  const { job, record, shared } = workspace;
  const place = job.steps.indexOf(step);
  const stale = staleSteps(job, record);
  const again = firstAgain(job, step, stale);
  if (again.length && !step.gate.length) return ledBack(workspace, step, again, go);
  const read = figureInSight(workspace, step);
  const shown = read ? stepFigures(workspace.page, shared, record, read.figure, step.state) : [];
  const reads = step.id === DEAD_CENTRE || step.id === POINTER;
  const takes = read && step.records.length > 0;
  return [
    element(
      "p",
      { class: "where" },
      `Step ${place + 1} of ${job.steps.length}`,
      stale.includes(step.id)
        ? element("strong", {}, ` · ${whyStale(workspace, step)}`)
        : record.done.includes(step.id)
          ? " · done"
          : "",
    ),
    cautionsOf(workspace, step),
    element("p", { class: "do" }, step.do),
    moreOf(step),
    figureChoice(workspace, step, read),
    read ? figureView(workspace, read, shown) : null,
    again.length ? staleLinks(workspace, again) : null,
    step.gate.length
      ? gateView(job, step, record, (tick, on) => workspace.append("tick", { step: step.id, tick, on }))
      : null,
    step.gate.length ? heldView(workspace, holds(workspace, step, stale)) : null,
    isCranked(step, shared["figures"])
      ? starterTimer(
          record.id,
          (words) => workspace.say(words),
          untickedLines(job, step, record).length ? "tick every line above first" : "",
        )
      : null,
    reads ? deadCentreForm(workspace, step) : null,
    takes ? readingsView(workspace, read, shown) : null,
    notesOf(workspace, step, !takes && !reads && step.records.length > 0),
    walk(workspace, step, place, go),
  ];
}

/**
 * A step before which what was moved is read again: until then nothing else is asked for at it.
 * @param {Workspace} workspace
 * @param {JobStep} step
 * @param {readonly string[]} again
 * @param {(where: string) => void} go
 */
function ledBack(workspace, step, again, go) {
  const place = workspace.job.steps.indexOf(step);
  return [
    element("p", { class: "where" }, `Step ${place + 1} of ${workspace.job.steps.length}`),
    element("p", { class: "do" }, "Before this, read again what was moved since:"),
    staleLinks(workspace, again),
    walk(workspace, step, place, go),
  ];
}

/** What else is worth knowing of a step, and why it is done: folded away. @param {JobStep} step */
function moreOf({ more, why }) {
  if (!more && !why) return null;
  return element(
    "details",
    { class: "more" },
    element("summary", {}, more ? "How, and why" : "Why"),
    more ? element("p", {}, more) : null,
    why ? element("p", { class: "why" }, why) : null,
  );
}

/**
 * The cautions of a step, the worst first.
 * @param {Workspace} workspace
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

/** Links to the steps that must be checked again. @param {Workspace} workspace @param {readonly string[]} stale */
export function staleLinks({ record }, stale) {
  if (!stale.length) return element("p", {}, "Nothing needs checking again.");
  return element(
    "ul",
    { class: "stale plain" },
    ...stale.map((id) =>
      element("li", {}, element("a", { href: `#${record.id}/${id}` }, `check again: ${stepName(id)}`)),
    ),
  );
}

/** @param {Workspace} workspace @param {JobStep} step @param {boolean} open */
function notesOf(workspace, step, open) {
  const notes = workspace.record.notes.filter((note) => note.step === step.id);
  const draft = workspace.draft(
    `${step.id} note`,
    () => ({ text: "" }),
    ({ text }) => text !== "",
  );
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
    element("button", { type: "submit", id: "keep-note" }, "Save the note"),
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const text = draft.text.trim().replace(/\s+/g, " ");
    if (!text) return workspace.say("The note is empty: write something first");
    draft.text = "";
    return void acted(() => workspace.append("note", { step: step.id, text }).then(() => workspace.say("Noted")));
  });
  const kept = notes.map((note) =>
    element(
      "li",
      {},
      note.text,
      " ",
      key("Take back", () => workspace.append("take-back", { entry: note.entry }), {
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

/** Why a step must be checked again. @param {Workspace} workspace @param {JobStep} step */
const whyStale = ({ job, record }, step) =>
  isReadBeforePointer(step, record)
    ? "top dead centre was noted anew since: read it again"
    : (stepsUndone(job, record).get(step.id)?.why ?? "another step moved this: check it again");

/** Why a step cannot be marked done yet; empty if it can. @param {Workspace} workspace @param {JobStep} step */
function shutBy(workspace, step) {
  const { job, record } = workspace;
  if (untickedLines(job, step, record).length) return "Tick every line first";
  if (step.id === DEAD_CENTRE && pointerStop(record)) return "The job stops here";
  const undone = pointerUndone(job, step, record);
  if (undone) return undone;
  if (holds(workspace, step, staleSteps(job, record)).length) return "A figure keeps this shut: see above";
  const unread = readingUndone(workspace, step, staleSteps(job, record).includes(step.id));
  if (unread) return unread;
  return firstAgain(job, step, staleSteps(job, record)).length ? "Read those steps again first" : "";
}

/** Whether a step bars the way, so that it cannot be skipped either. @param {Workspace} workspace @param {JobStep} step */
const isBarred = (workspace, step) =>
  untickedLines(workspace.job, step, workspace.record).length > 0 ||
  holds(workspace, step, staleSteps(workspace.job, workspace.record)).length > 0 ||
  (step.id === DEAD_CENTRE && pointerStop(workspace.record) !== "");

/**
 * The keys for done, back and next.
 * @param {Workspace} workspace
 * @param {JobStep} step
 * @param {number} place
 * @param {(where: string) => void} go
 */
function walk(workspace, step, place, go) {
  const { job, record } = workspace;
  const before = job.steps[place - 1];
  const first = !record.done.includes(step.id);
  const stale = staleSteps(job, record).includes(step.id);
  const shut = shutBy(workspace, step);
  const bars = isBarred(workspace, step);
  const onward = nextOf(workspace, step, first);
  const words = onward === "end" ? "to the end" : first ? "next step" : `on to “${stepName(onward)}”`;
  const did = (/** @type {string} */ said, /** @type {boolean} */ stood, look = "main-key") =>
    key(
      shut || said,
      async () => {
        if (shut) return workspace.say(shut);
        const here = location.hash;
        await workspace.append("done", { step: step.id, ...(stood ? { stood } : {}) });
        return location.hash === here ? go(nextOf(workspace, step, first)) : undefined; // unless the user went elsewhere meanwhile
      },
      { class: look, id: stood ? "stood" : "done", "aria-disabled": String(Boolean(shut)) },
    );
  const link = (/** @type {string} */ where, /** @type {string} */ said, look = "as-key") =>
    element("a", { class: look, href: `#${record.id}/${where}` }, said);
  const plain = first || (stale && !step.figures.length) || untickedLines(job, step, record).length > 0;
  const [again] = firstAgain(job, step, staleSteps(job, record));
  const ways =
    again && !untickedLines(job, step, record).length
      ? [link(again, `On to “${stepName(again)}”`, "as-key main-key")]
      : plain
        ? [did(`Done, ${words}`, false)]
        : stale
          ? [did(`Checked, unchanged: ${words}`, true), did(`Set again: ${words}`, false, "wide")]
          : [
              link(onward, `${step.gate.length ? "All ticked" : "Already done"}: ${words}`, "as-key main-key"),
              did("I have just set it again", false, "wide"),
            ];
  return element(
    "nav",
    { class: "walk", "aria-label": "Through the job" },
    ...ways,
    element(
      "div",
      { class: "keys" },
      before ? link(before.id, "Back") : null,
      link("steps", "All steps"),
      bars ? null : first || stale ? link(job.steps[place + 1]?.id ?? "end", "Skip for now") : null,
    ),
  );
}
