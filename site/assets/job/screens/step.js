/**
 * The screen of one step: what to do and what to set, how the last reading stands, the next reading and the way on; below
 * it what was noted so far and where the figure comes from.
 */

import { element } from "../../dom.js";
import { acted, field, key } from "../controls.js";
import { holds } from "../dangers.js";
import { firstAgain, gateView, stepName } from "../gates.js";
import { DEAD_CENTRE, POINTER } from "../log/pointer-history.js";
import { isReadBeforePointer, staleSteps } from "../log/record.js";
import { stepsUndone, untickedLines } from "../log/undone.js";
import { readingParts } from "../reading/readings.js";
import { stepFigures } from "../step-figure.js";
import { cautionsView, meeting, unmet } from "./cautions.js";
import { deadCentreForm } from "./dead-centre.js";
import { figureChoice, figureInSight } from "./figure-in-sight.js";
import { behindFigure, figureView } from "./figure-view.js";
import { heldView } from "./held.js";
import { instructionView } from "./instruction.js";
import { linksOf, onward } from "./onward.js";
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
  const where = element(
    "p",
    { class: stale.includes(step.id) || record.done.includes(step.id) ? "where" : "where alone" },
    ...placeWords(job, place),
    stale.includes(step.id)
      ? element("strong", {}, ` · ${whyStale(workspace, step)}`)
      : record.done.includes(step.id)
        ? " · done"
        : "",
  );
  const again = firstAgain(job, step, stale);
  if (again.length && !step.gate.length) return ledBack(workspace, step, again, go);
  const dangers = unmet(workspace, step);
  if (dangers.length) return [where, ...meeting(workspace, step, dangers), linksOf(workspace, step, true)];
  const read = figureInSight(workspace, step);
  const shown = read ? stepFigures(workspace.page, shared, record, read.figure, step.state) : [];
  const centre = step.id === DEAD_CENTRE || step.id === POINTER ? deadCentreForm(workspace, step) : null;
  const reading = read && step.records.length > 0 ? readingParts(workspace, read, shown) : null;
  const form = centre ?? reading?.form ?? null;
  const { ways, links, refresh } = onward(workspace, step, go);
  const beside = form?.querySelector(".two");
  beside?.append(...ways);
  for (const name of ["input", "change"]) form?.addEventListener(name, refresh);
  return [
    where,
    cautionsView(workspace, step),
    instructionView(step),
    figureChoice(workspace, step, read),
    read ? figureView(workspace, read, shown) : null,
    reading?.last ?? null,
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
    form,
    walk(beside ? [links] : [...ways, links]),
    reading?.noted ?? null,
    read ? behindFigure(workspace, read, shown) : null,
    notesOf(workspace, step, !form && step.records.length > 0),
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
  const { ways, links } = onward(workspace, step, go);
  return [
    element("p", { class: "where" }, ...placeWords(workspace.job, place)),
    element("p", { class: "do" }, "Before this, read again what was moved since:"),
    staleLinks(workspace, again),
    walk([...ways, links]),
  ];
}

/** Which step it is; a word more for the ear. @param {import("../../book/job.js").Job} job @param {number} place */
const placeWords = (job, place) => [
  element("span", { class: "heard" }, "Step "),
  `${place + 1} of ${job.steps.length}`,
];

/** @param {readonly HTMLElement[]} ways */
const walk = (ways) => element("nav", { class: "walk", "aria-label": "Through the job" }, ...ways);

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
