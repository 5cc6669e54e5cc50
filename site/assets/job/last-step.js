/** The step at which each job was left on this phone, so that it continues there after a lock or a reload. */

import { recall, remember } from "../phone-storage.js";

/** @typedef {import("./workspace.js").Workspace} Workspace */

const KEY = "stopscrew-at:";
/** For this page alone, if the phone stores nothing. @type {Map<string, string>} */
const unkept = new Map();

/** The step at which a job was left, or `end`; else the first one not done. @param {Workspace} workspace */
export function lastStepOf({ job, record }) {
  const at = unkept.get(record.id) ?? recall(KEY + record.id);
  const next = job.steps.find((step) => !record.done.includes(step.id));
  return at === "end" || job.steps.some((step) => step.id === at) ? at : (next?.id ?? "end");
}

/** @param {string} job @param {string} step */
export function rememberStep(job, step) {
  unkept.set(job, step);
  remember(KEY + job, step);
}
