/** The screens of a begun job, by the address: which engine, all steps, the engine, a step, the end. */

import { element } from "../../dom.js";
import { StopscrewError } from "../../errors.js";
import { capital } from "../../quantity/spoken.js";
import { stepName } from "../gates.js";
import { rememberStep } from "../last-step.js";
import { goneSteps } from "../log/record.js";
import { asksWhich, whichWords } from "../twins.js";
import { barOf } from "../way.js";
import { allStepsScreen } from "./all-steps.js";
import { barredScreen } from "./barred.js";
import { endScreen } from "./end.js";
import { engineForm } from "./engine-form.js";
import { stepScreen } from "./step.js";
import { askAgain, whichEngineScreen } from "./which-engine.js";

/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {(Node | null)[]} ScreenParts */

/**
 * The title of a screen of a begun job, and what draws it.
 * @param {Workspace} workspace
 * @param {string} where the id of a step, or `steps`, `engine`, `end`
 * @param {() => unknown} answered draws what comes after the question which engine it is
 * @returns {[string, () => ScreenParts]}
 * @throws {StopscrewError} there is no such step
 */
export function screenOfJob(workspace, where, answered) {
  const { job, record } = workspace;
  const engine = `${record.maker} ${record.name}`;
  if (where !== "engine" && asksWhich(workspace.book, record)) {
    const screen = () => whichEngineScreen(workspace, answered);
    return ["Which engine", () => [head(workspace), ...screen()]];
  }
  if (where === "steps" || goneSteps(job, record).includes(where))
    return [`${engine}: all steps`, () => [head(workspace), ...allStepsScreen(workspace)]];
  if (where === "engine")
    return [`${engine}: the engine`, () => [head(workspace), engineOf(workspace), askAgain(workspace)]];
  if (where === "end") {
    rememberStep(record.id, where);
    return [`${engine}: the end`, () => [head(workspace), ...endScreen(workspace)]];
  }
  const step = job.steps.find(({ id }) => id === where);
  if (!step) throw new StopscrewError(`this job has no step “${stepName(where.slice(0, 40))}”`);
  const go = (/** @type {string} */ next) => {
    location.hash = `#${record.id}/${next}`;
  };
  rememberStep(record.id, where);
  return [
    capital(stepName(step.id)),
    () => {
      const bar = barOf(workspace, step);
      return [head(workspace), ...(bar ? barredScreen(workspace, step, bar) : stepScreen(workspace, step, go))];
    },
  ];
}

/** The engine, at the head of every screen of its job. @param {Workspace} workspace */
function head({ record, shared, book }) {
  const isTold = record.serial !== "" || whichWords(record).startsWith("not");
  const made = book["twins"] && !isTold ? `, ${book["twins"].made}` : "";
  const older =
    record.dataOf && record.dataOf !== shared["date"]
      ? ` · begun with data of ${record.dataOf}; the figures shown are of ${shared["date"]}`
      : "";
  return element(
    "p",
    { class: "engine" },
    `${record.maker} ${record.name}, ${record.serial ? `serial ${record.serial}` : "serial not given"}${made}${older}`,
  );
}

/** @param {Workspace} workspace */
function engineOf(workspace) {
  const { serial, year, by, margin, state } = workspace.record;
  const typed = workspace.draft("engine", () => ({ serial, year, by, margin, state }));
  return engineForm(typed, workspace.book, workspace.shared, "Save", async (engine) => {
    await workspace.append("engine", engine);
    workspace.forget("engine");
    location.hash = `#${workspace.record.id}/steps`;
  });
}
