/** The causes of a false late reading, each to be answered by hand; nothing is chosen beforehand. */

import { element } from "../../dom.js";
import { FalseLate } from "../../vocabulary.js";
import { choice, lines } from "../controls.js";
import { readingsOf } from "../log/readings-of.js";
import { setupFor, stepFigures, valueWords } from "../step-figure.js";
import { verdictOf } from "./verdict.js";

/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {import("./false-late.js").AskedCause} AskedCause */

const SO = "so";
const NOT_SO = "not";
const ANSWERS = /** @type {const} */ ([
  [SO, "yes"],
  [NOT_SO, "no, or not sure"],
]);
/** What the job may know of how it cranks. */
const CRANKING_FIGURES = ["cranking-speed", "cranking-voltage"];

/**
 * @param {Workspace} workspace
 * @param {readonly AskedCause[]} causes
 */
export function causesView(workspace, causes) {
  const open = causes.some(({ ruledOut }) => !ruledOut);
  return element(
    "details",
    { class: "causes", id: "causes", open },
    element("summary", {}, open ? "Is the reading falsely late?" : "A false late reading is ruled out"),
    ...causes.map((one) => causeView(workspace, one)),
  );
}

/** @param {Workspace} workspace @param {AskedCause} asked */
function causeView(workspace, { cause, states, instead, ruledOut }) {
  const chosen = ruledOut === undefined ? "" : ruledOut ? SO : NOT_SO;
  return element(
    "div",
    { class: "cause" },
    choice(`cause-${cause}`, states, ANSWERS, chosen, (answer) =>
      workspace.append("false-late", { cause, ruled_out: answer === SO }),
    ),
    cause === FalseLate.SPEED ? lines(CRANKING_FIGURES.flatMap((figure) => knownWords(workspace, figure))) : null,
    ruledOut === false ? element("p", { class: "careful" }, `${instead} Then answer yes, and read again.`) : null,
  );
}

/** The last reading of a figure in this job, with its verdict. @param {Workspace} workspace @param {string} figure */
function knownWords({ page, shared, record }, figure) {
  const last = readingsOf(record, figure).at(-1);
  if (!last) return [];
  const shown = stepFigures(page, shared, record, figure);
  const { words } = verdictOf(shown, { ...last, at: last.conditions }, setupFor(page, shared, record, figure));
  return [`${String(shared["figures"][figure].label).toLowerCase()}: ${valueWords(last.value)}, ${words}`];
}
