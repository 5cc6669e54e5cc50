/** The ways on from a step: its keys that say it is done, and what keeps them shut. */

import { eachFigure } from "../../book/job.js";
import { element } from "../../dom.js";
import { key } from "../controls.js";
import { holds, readingUndone } from "../dangers.js";
import { firstAgain, pointerStop, pointerUndone, stepName } from "../gates.js";
import { DEAD_CENTRE } from "../log/pointer-history.js";
import { staleSteps } from "../log/record.js";
import { untickedLines } from "../log/undone.js";
import { draftOf } from "../reading/readings.js";
import { nextOf } from "../way.js";
import { meet } from "./cautions.js";

/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {import("../../book/job.js").JobStep} JobStep */

/** Why a step cannot be marked done yet; empty if it can. @param {Workspace} workspace @param {JobStep} step */
function shutBy(workspace, step) {
  const { job, record } = workspace;
  const stale = staleSteps(job, record);
  if (untickedLines(job, step, record).length) return "Tick every line first";
  if (step.id === DEAD_CENTRE && pointerStop(record)) return "The job stops here";
  const undone = pointerUndone(job, step, record);
  if (undone) return undone;
  if (holds(workspace, step, stale).length) return "A figure keeps this shut: see above";
  const unread = readingUndone(workspace, step, stale.includes(step.id));
  if (unread) return unread;
  return firstAgain(job, step, stale).length ? "Read those steps again first" : "";
}

/** Whether a step bars the way, so that it cannot be skipped either. @param {Workspace} workspace @param {JobStep} step */
const isBarred = (workspace, step) =>
  untickedLines(workspace.job, step, workspace.record).length > 0 ||
  holds(workspace, step, staleSteps(workspace.job, workspace.record)).length > 0 ||
  (step.id === DEAD_CENTRE && pointerStop(workspace.record) !== "");

/**
 * Why a step is not done while digits stand in a box that nobody kept; empty if none do.
 * @param {Workspace} workspace
 * @param {JobStep} step
 */
function unkept({ halfTyped }, step) {
  const centre = halfTyped.under(`${step.id} centre`);
  const read = eachFigure(step).map((one) => halfTyped.under(draftOf(one))?.typed);
  const boxes = [...read, centre?.first, centre?.second, centre?.pointer, centre?.round];
  const stands = boxes.find((one) => one?.text?.trim());
  return stands ? `Keep or clear ${stands.text.trim().slice(0, 20)} first` : "";
}

/**
 * The ways on from a step: the keys that say it is done, which refuse while something typed is not kept; and the links back,
 * to all steps and past it. `refresh` is called when something is typed.
 * @param {Workspace} workspace
 * @param {JobStep} step
 * @param {(where: string) => void} go
 * @returns {{ways: HTMLElement[], links: HTMLElement, refresh: () => void}}
 */
export function onward(workspace, step, go) {
  const { job, record } = workspace;
  const first = !record.done.includes(step.id);
  const stale = staleSteps(job, record).includes(step.id);
  const shut = shutBy(workspace, step);
  const next = nextOf(workspace, step, first);
  const words = next === "end" ? "to the end" : first ? "" : `on to “${stepName(next)}”`;
  /** @type {(() => void)[]} */
  const refreshes = [];
  const why = () => unkept(workspace, step) || shut;
  const did = (/** @type {string} */ said, /** @type {boolean} */ stood, look = "main-key") => {
    const made = key(
      said,
      async () => {
        if (why()) return workspace.say(why());
        const here = location.hash;
        meet(workspace, step);
        await workspace.append("done", { step: step.id, ...(stood ? { stood } : {}) });
        return location.hash === here ? go(nextOf(workspace, step, first)) : undefined; // unless the user went elsewhere meanwhile
      },
      { class: look, id: stood ? "stood" : "done" },
    );
    refreshes.push(() => {
      made.textContent = why() || said;
      made.setAttribute("aria-disabled", String(Boolean(why())));
    });
    return made;
  };
  const leave = (/** @type {string} */ where, /** @type {string} */ said) => {
    const made = linkTo(record, where, said, "as-key main-key");
    made.addEventListener("click", (event) => {
      const digits = unkept(workspace, step);
      if (digits) {
        event.preventDefault();
        return workspace.say(digits);
      }
      return meet(workspace, step);
    });
    return made;
  };
  const plain = first || (stale && !step.figures.length) || untickedLines(job, step, record).length > 0;
  const [again] = firstAgain(job, step, staleSteps(job, record));
  const ways =
    again && !untickedLines(job, step, record).length
      ? [leave(again, `On to “${stepName(again)}”`)]
      : plain
        ? [did(words ? `Done, ${words}` : "Done", false)]
        : stale
          ? [did(`Checked, unchanged: ${words}`, true), did(`Set again: ${words}`, false, "wide")]
          : [
              leave(next, `${step.gate.length ? "All ticked" : "Already done"}: ${words}`),
              did("I have just set it again", false, "wide"),
            ];
  const refresh = () => {
    for (const one of refreshes) one();
  };
  refresh();
  return { ways, links: linksOf(workspace, step, first || stale), refresh };
}

/** A link that looks like a key. @param {{id: string}} record @param {string} where @param {string} said */
const linkTo = ({ id }, where, said, look = "as-key") => element("a", { class: look, href: `#${id}/${where}` }, said);

/** Back, all steps, and past a step that may be left undone. @param {Workspace} workspace @param {JobStep} step @param {boolean} isOpen */
export function linksOf(workspace, step, isOpen) {
  const { job, record } = workspace;
  const place = job.steps.indexOf(step);
  const before = job.steps[place - 1];
  return element(
    "div",
    { class: "keys" },
    before ? linkTo(record, before.id, "Back") : null,
    linkTo(record, "steps", "Steps"),
    isBarred(workspace, step) || !isOpen ? null : linkTo(record, job.steps[place + 1]?.id ?? "end", "Skip"),
  );
}
