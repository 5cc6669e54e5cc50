/**
 * All steps of a job at a glance: done, to check again, to do, still shut; and what is to be changed about the engine.
 */

import { element } from "../../dom.js";
import { key } from "../controls.js";
import { nameOf, reach } from "../gates.js";
import { staleOf } from "../log/record.js";
import { canSpeak, wish, wished } from "../reading/speech.js";

/** @typedef {import("../workspace.js").Desk} Desk */

/**
 * How each step stands.
 * @param {Desk} desk
 * @returns {{id: string, state: "stale" | "done" | "shut" | "todo"}[]}
 */
export function statesOf({ job, record }) {
  const stale = new Set(staleOf(job, record));
  const done = new Set(record.done);
  const { last } = reach(job, record);
  return job.steps.map(({ id }, place) => ({
    id,
    state: place > last ? "shut" : stale.has(id) ? "stale" : done.has(id) ? "done" : "todo",
  }));
}

const SAID = { stale: ["↻", "check again"], done: ["✓", "done"], shut: ["⊘", "not yet"], todo: ["", "to do"] };

/** @param {Desk} desk */
export function stepsShown(desk) {
  const { record } = desk;
  const states = statesOf(desk);
  const count = (/** @type {string} */ state) => states.filter((one) => one.state === state).length;
  const rows = states.map(({ id, state }, place) => {
    const [sign = "", words = ""] = SAID[state];
    const inner = [
      element("span", { class: "sign", "aria-hidden": "true" }, sign),
      `${place + 1} `,
      element("strong", {}, state === "stale" ? `check again: ${nameOf(id)}` : nameOf(id)),
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
  const { why } = reach(desk.job, record);
  return [
    element(
      "p",
      {},
      `${count("done")} done, ${count("stale")} to check again, ${count("todo") + count("shut")} to do. ${desk.job.name}.`,
    ),
    why ? element("p", { class: "gate-state" }, `Not further yet: ${why}.`) : null,
    element("ol", { class: "plain all-steps" }, ...rows),
    element(
      "div",
      { class: "keys" },
      element("a", { class: "as-key", href: `#${record.id}/end` }, "To the end"),
      element("a", { class: "as-key", href: `#${record.id}/engine` }, "Change the engine"),
      element("a", { class: "as-key", href: `${desk.root}families/${record.family}/` }, "The family's page"),
      element("a", { class: "as-key", href: "#" }, "All jobs"),
      aloudKey(desk),
    ),
  ];
}

/** The switch for reading aloud, off until it is wanted. @param {Desk} desk */
export function aloudKey(desk) {
  if (!canSpeak()) return null;
  return key(
    wished() ? "Reading aloud: on" : "Reading aloud: off",
    () => {
      const on = !wished();
      const kept = wish(on);
      if (!kept) desk.say("This browser keeps no wish: reading aloud stays off");
      desk.redraw("aloud");
      if (on) desk.say("Reading aloud");
    },
    { id: "aloud", "aria-pressed": String(wished()) },
  );
}
