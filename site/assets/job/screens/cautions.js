/**
 * The dangers of a step. Each is met whole once, before the step where it first matters, and acknowledged; then it is one
 * line, whole again at a tap. On a new day, by another hand, after a reload and at every gate all are whole again.
 */

import { element } from "../../dom.js";
import { capital } from "../../quantity/spoken.js";
import { CautionSeverity } from "../../vocabulary.js";
import { key } from "../controls.js";
import { localDate } from "../local-date.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {import("../../book/job.js").JobStep} JobStep */
/** @typedef {{id: string, severity: string, title: string, text: string, behind?: string}} StepCaution */

/** @type {string[]} */
const ORDER = [CautionSeverity.DANGER, CautionSeverity.WARNING];

/** The cautions of a step, the worst first. @param {Workspace} workspace @param {JobStep} step @returns {StepCaution[]} */
function cautionsOf({ shared }, step) {
  const rank = (/** @type {StepCaution} */ { severity }) =>
    (ORDER.indexOf(severity) + ORDER.length + 1) % (ORDER.length + 1);
  return step.cautions
    .flatMap((id) => (shared["cautions"][id] ? [{ id, ...shared["cautions"][id] }] : []))
    .sort((one, other) => rank(one) - rank(other));
}

/** Under which this window remembers that a caution was met: by this hand, today. @param {Workspace} workspace @param {StepCaution} one */
const metBy = ({ record }, { id }) => [id, record.by, localDate(new Date().toISOString())].join("\n");

/**
 * Those cautions of a step that were not met yet; none at a gate, where they stand whole.
 * @param {Workspace} workspace
 * @param {JobStep} step
 */
export const unmet = (workspace, step) =>
  step.gate.length ? [] : cautionsOf(workspace, step).filter((one) => !workspace.met.has(metBy(workspace, one)));

/** The cautions of a step are met. @param {Workspace} workspace @param {JobStep} step */
export function meet(workspace, step) {
  for (const one of cautionsOf(workspace, step)) workspace.met.add(metBy(workspace, one));
}

/** @param {StepCaution} caution @param {...(Node | null)} more */
const whole = ({ severity, title, text }, ...more) =>
  element("p", { class: severity }, element("strong", {}, `${capital(severity)}: ${title}. `), text, ...more);

/**
 * The dangers that are met here, before the step itself is shown.
 * @param {Workspace} workspace
 * @param {JobStep} step
 * @param {readonly StepCaution[]} cautions
 */
export const meeting = (workspace, step, cautions) => [
  element("section", { class: "step-cautions", "aria-label": "Cautions" }, ...cautions.map((one) => whole(one))),
  key(
    "Understood",
    () => {
      meet(workspace, step);
      workspace.redraw("job-title");
    },
    { class: "main-key", id: "met" },
  ),
];

/**
 * The dangers at a step: whole at a gate, else in one line that unfolds, with what stands behind each.
 * @param {Workspace} workspace
 * @param {JobStep} step
 */
export function cautionsView(workspace, step) {
  const cautions = cautionsOf(workspace, step);
  if (!cautions.length) return null;
  const label = { class: "step-cautions", "aria-label": "Cautions" };
  if (step.gate.length) return element("section", label, ...cautions.map((one) => whole(one)));
  const mark = element("span", { class: "mark", "aria-hidden": "true" }, "⚠");
  const titles = cautions.map(({ title }) => title).join(" · ");
  return element(
    "section",
    label,
    element(
      "details",
      { id: "dangers" },
      element("summary", {}, mark, element("span", {}, titles)),
      ...cautions.map((one) => whole(one, one.behind ? element("small", {}, ` (${one.behind})`) : null)),
    ),
  );
}
