/**
 * All steps of a job at a glance: done, to check again, to do, locked; with links to the engine and other pages.
 */

import { element } from "../../dom.js";
import { key } from "../controls.js";
import { furthestStep, stepName } from "../gates.js";
import { goneSteps, staleSteps } from "../log/record.js";
import { canSpeak, readsAloud, setReadAloud } from "../reading/speech.js";

/** @typedef {import("../workspace.js").Workspace} Workspace */

/**
 * The state of each step.
 * @param {Workspace} workspace
 * @returns {{id: string, state: "stale" | "done" | "shut" | "todo"}[]}
 */
export function stepStates(workspace) {
  const { job, record } = workspace;
  const stale = new Set(staleSteps(job, record));
  const done = new Set(record.done);
  const { last } = furthestStep(workspace);
  return job.steps.map(({ id }, place) => ({
    id,
    state: place > last ? "shut" : stale.has(id) ? "stale" : done.has(id) ? "done" : "todo",
  }));
}

const SAID = { stale: ["↻", "check again"], done: ["✓", "done"], shut: ["⊘", "not yet"], todo: ["", "to do"] };

/** @param {Workspace} workspace */
export function allStepsScreen(workspace) {
  const { record } = workspace;
  const states = stepStates(workspace);
  const count = (/** @type {string} */ state) => states.filter((one) => one.state === state).length;
  const rows = states.map(({ id, state }, place) => {
    const [sign = "", words = ""] = SAID[state];
    const inner = [
      element("span", { class: "sign", "aria-hidden": "true" }, sign),
      `${place + 1} `,
      element("strong", {}, state === "stale" ? `check again: ${stepName(id)}` : stepName(id)),
      element("span", {}, state === "stale" ? "" : words),
    ];
    return element(
      "li",
      { class: state },
      state === "shut"
        ? element("span", { class: "shut" }, ...inner)
        : element("a", { href: `#${record.id}/${id}` }, ...inner),
    );
  });
  const { why } = furthestStep(workspace);
  return [
    element(
      "p",
      {},
      `${count("done")} done, ${count("stale")} to check again, ${count("todo") + count("shut")} to do. ${workspace.job.name}.`,
    ),
    goneView(workspace),
    why ? element("p", { class: "gate-state" }, `The job stops here for now: ${why}.`) : null,
    element("ol", { class: "plain all-steps" }, ...rows),
    element(
      "div",
      { class: "keys" },
      element("a", { class: "as-key", href: `#${record.id}/end` }, "To the end"),
      element("a", { class: "as-key", href: `#${record.id}/engine` }, "Change the engine"),
      element("a", { class: "as-key", href: `${workspace.root}families/${record.family}/` }, "The family's page"),
      element("a", { class: "as-key", href: "#" }, "All jobs"),
      readAloudKey(workspace),
    ),
  ];
}

/** What an older order of work had, and this one has no longer. @param {Workspace} workspace */
function goneView({ job, record }) {
  const gone = goneSteps(job, record).map(stepName);
  if (!gone.length) return null;
  return element(
    "p",
    {},
    "This job was begun with an older order of work. No longer steps of their own, and kept with what was noted: ",
    `${gone.join(", ")}.`,
  );
}

/** The switch for reading aloud, off by default. @param {Workspace} workspace */
function readAloudKey(workspace) {
  if (!canSpeak()) return null;
  return key(
    readsAloud() ? "Reading aloud: on" : "Reading aloud: off",
    () => {
      const on = !readsAloud();
      const kept = setReadAloud(on);
      if (!kept) workspace.say("This browser does not store settings, so reading aloud stays off");
      workspace.redraw("aloud");
      if (on) workspace.say("Reading aloud");
    },
    { id: "aloud", "aria-pressed": String(readsAloud()) },
  );
}
