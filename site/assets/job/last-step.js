/** Where each job was last on this phone, so that one that was locked or opened anew goes on from there. */

import { recall, remember } from "../phone-storage.js";

/** @typedef {import("./workspace.js").Desk} Desk */

const KEY = "stopscrew-at:";
/** What this page knows, where the phone keeps nothing. @type {Map<string, string>} */
const unkept = new Map();

/** The step that a job was last at, or `end`; else the first that is not done. @param {Desk} desk */
export function lastAt({ job, record }) {
  const at = unkept.get(record.id) ?? recall(KEY + record.id);
  const next = job.steps.find((step) => !record.done.includes(step.id));
  return at === "end" || job.steps.some((step) => step.id === at) ? at : (next?.id ?? "end");
}

/** @param {string} job @param {string} step */
export function keepAt(job, step) {
  unkept.set(job, step);
  remember(KEY + job, step);
}
