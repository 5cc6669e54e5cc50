/** This engine's own correction, from the maximum as left, read both cranking and running; it goes on the tag. */

import { MAXIMUM } from "../../book/catalogue.js";
import { element } from "../../dom.js";
import { CORRECTED_STATES, Condition } from "../../vocabulary.js";
import { key } from "../controls.js";
import { signedAngle } from "../step-figure.js";
import { correctionWords } from "./as-left.js";

/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {import("../log/record.js").JobRecord} JobRecord */
/** @typedef {{cranking: string, running: string, rpm: string}} MeasuredCorrection signed degrees */

/** Signed degrees as text, as in entries. @param {import("../../quantity/fraction.js").Fraction} signed */
export const signedText = (signed) => String(Number(signed.toNumber().toFixed(6)));

/**
 * The correction from the last readings as left in each state. The pointer's error is in both and cancels out, so long
 * as it is the same pointer.
 * @param {JobRecord} record
 * @returns {MeasuredCorrection | null} null unless both states were read, and off the same pointer
 */
function measuredIn(record) {
  const left = record.left.get(MAXIMUM) ?? [];
  const last = (/** @type {string} */ state) => left.filter((one) => one.state === state).at(-1);
  const [cranking, running] = CORRECTED_STATES.map(last);
  const [before, after] = [cranking && signedAngle(cranking.value), running && signedAngle(running.value)];
  if (!before || !after || cranking?.cylinder !== running?.cylinder) return null;
  if (cranking?.pointer !== running?.pointer || cranking?.adrift || running?.adrift) return null;
  const rpm = running?.conditions[Condition.RPM];
  return { cranking: signedText(before), running: signedText(after), rpm: typeof rpm === "string" ? rpm : "" };
}

/** @param {MeasuredCorrection | null} one @param {MeasuredCorrection | null} other */
const same = (one, other) =>
  Boolean(one && other && one.cranking === other.cranking && one.running === other.running && one.rpm === other.rpm);

/** Note the correction of the readings, if it changed. @param {Workspace} workspace */
export async function keepMeasured(workspace) {
  const found = measuredIn(workspace.record);
  if (found && !same(found, workspace.record.correction)) await workspace.append("correction", found);
}

/** The correction in words; null if there is none. @param {Workspace} workspace @param {string} figure */
export function measuredView(workspace, figure) {
  const { correction } = workspace.record;
  if (figure !== MAXIMUM || !correction) return null;
  const gone = !same(measuredIn(workspace.record), correction);
  const entry = workspace.entries.findLast((one) => one.kind === "correction");
  return element(
    "p",
    { class: "measured" },
    element("strong", {}, `This engine ${correctionWords(correction)}.`),
    gone ? " The readings that this came from were changed. " : " That goes on its tag and into the report.",
    gone && entry
      ? key("Take it back", () => workspace.append("take-back", { entry: entry.id }), { id: "measured-back" })
      : null,
  );
}
