/** This engine's own correction, where the maximum was left and read both cranking and running: it goes on the tag. */

import { element } from "../../dom.js";
import { CORRECTED_STATES, Condition } from "../../vocabulary.js";
import { key } from "../controls.js";
import { signedOf } from "../step-figure.js";
import { correctionWords } from "./as-left.js";

/** @typedef {import("../workspace.js").Desk} Desk */
/** @typedef {import("../log/record.js").JobRecord} JobRecord */
/** @typedef {{cranking: string, running: string, rpm: string}} Measured signed degrees */

export const MAXIMUM = "max-advance";

/** Signed degrees as an entry keeps them. @param {import("../../quantity/fraction.js").Fraction} signed */
export const signedText = (signed) => String(Number(signed.toNumber().toFixed(6)));

/**
 * What the readings as left come to: the last of each state. The pointer is in both and falls out.
 * @param {JobRecord} record
 * @returns {Measured | null} nothing unless both states were read
 */
export function measuredIn(record) {
  const left = record.left.get(MAXIMUM) ?? [];
  const last = (/** @type {string} */ state) => left.filter((one) => one.state === state).at(-1);
  const [cranking, running] = CORRECTED_STATES.map(last);
  const [before, after] = [cranking && signedOf(cranking.value), running && signedOf(running.value)];
  if (!before || !after || cranking?.cylinder !== running?.cylinder) return null;
  const rpm = running?.conditions[Condition.RPM];
  return { cranking: signedText(before), running: signedText(after), rpm: typeof rpm === "string" ? rpm : "" };
}

/** @param {Measured | null} one @param {Measured | null} other */
const same = (one, other) =>
  Boolean(one && other && one.cranking === other.cranking && one.running === other.running && one.rpm === other.rpm);

/** Keep what the readings come to now, if that is new. @param {Desk} desk */
export async function keepMeasured(desk) {
  const found = measuredIn(desk.record);
  if (found && !same(found, desk.record.correction)) await desk.append("correction", found);
}

/** What is known of it, in words; nothing where nothing is. @param {Desk} desk @param {string} figure */
export function measured(desk, figure) {
  const { correction } = desk.record;
  if (figure !== MAXIMUM || !correction) return null;
  const gone = !same(measuredIn(desk.record), correction);
  const entry = desk.entries.findLast((one) => one.kind === "correction");
  return element(
    "p",
    { class: "measured" },
    element("strong", {}, `This engine ${correctionWords(correction)}.`),
    gone ? " The readings that this came from were changed. " : " That goes on its tag and into the report.",
    gone && entry
      ? key("Take it back", () => desk.append("take-back", { entry: entry.id }), { id: "measured-back" })
      : null,
  );
}
