/** How an engine was left, in words: each reading once, with its state, corrected for the pointer. */

import { MAXIMUM } from "../../book/catalogue.js";
import { Fraction } from "../../quantity/fraction.js";
import { plainAngle, readQuantity } from "../../quantity/quantity.js";
import { angleInWords, plain } from "../../quantity/spoken.js";
import { State } from "../../vocabulary.js";
import { Pointer } from "../log/pointer-history.js";
import { isReadByPointer } from "../log/report-value.js";
import { conditionsInWords, valueWords } from "../step-figure.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../log/record.js").JobRecord} JobRecord */
/** @typedef {import("../log/record.js").JobReading} JobReading */
/** @typedef {readonly [string, string]} LabelledText a label and what was read */

/** The figures of the timing light. */
const TIMED = [MAXIMUM, "throttle-pickup", "idle-timing"];

/**
 * A value read off a pointer that was off, corrected, as in a report; other values stay as they are.
 * @param {Document} value
 * @param {string | null} pointer what it shows at true top dead centre, signed degrees; null if nobody looked
 * @returns {Document}
 */
export function trueValue(value, pointer) {
  const off = Fraction.of(pointer ?? "0");
  if (!isReadByPointer(value) || !off.sign()) return value;
  const { low, high } = readQuantity(value);
  if (!low || !high) return value;
  const { numbers, sides } = plainAngle(low.minus(off), high.minus(off));
  const [first, last] = numbers.map((number) => number.text);
  const [side = "tdc", other] = sides;
  if (other) return { from: { [side]: first }, to: { [other]: last } };
  return { [side]: last ? [first, last] : first };
}

/**
 * A value in words, corrected for the pointer; `read` is what was read, empty if the pointer was right.
 * @param {Document} value
 * @param {string | null} pointer
 * @returns {{printed: string, read: string}}
 */
export function trueWords(value, pointer) {
  const truly = trueValue(value, pointer);
  return { printed: valueWords(truly), read: truly === value ? "" : valueWords(value) };
}

/** Whether nobody knows what a reading truly was, since the pointer was moved. @param {JobReading} reading */
export const isAdrift = ({ value, adrift }) => adrift && isReadByPointer(value);

/**
 * State and conditions of a reading: `cranking`, `running, 5000 rpm, in gear`.
 * @param {Pick<JobReading, "state" | "conditions">} reading
 */
export const whenWords = ({ state, conditions }) =>
  [state.replaceAll("-", " "), conditionsInWords(conditions)].filter(Boolean).join(", ");

/**
 * The readings as left, the latest of each figure and state, cylinders side by side: those of the timing light first, then
 * all others in the order of the job.
 * @param {JobRecord} record
 * @param {Document} shared
 * @returns {{timed: LabelledText[], others: LabelledText[]}}
 */
export function leftLines(record, shared) {
  /** @param {string} figure @returns {LabelledText[]} */
  const linesOf = (figure) => {
    const label = String(shared["figures"][figure]?.label ?? figure.replaceAll("-", " ")).toLowerCase();
    /** @type {Map<string, Map<string, JobReading>>} */
    const groups = new Map();
    for (const reading of record.left.get(figure) ?? []) {
      const when = whenWords(reading);
      groups.set(when, (groups.get(when) ?? new Map()).set(reading.cylinder, reading));
    }
    return [...groups].map(([when, readings]) => [label, readingWords([...readings.values()], when)]);
  };
  const known = Object.keys(shared["figures"]);
  const unknown = [...record.left.keys()].filter((figure) => !known.includes(figure));
  const others = [...known, ...unknown].filter((figure) => !TIMED.includes(figure));
  return { timed: TIMED.flatMap(linesOf), others: others.flatMap(linesOf) };
}

/** @param {readonly JobReading[]} readings of one figure under the same conditions @param {string} when */
function readingWords(readings, when) {
  const said = readings.map((one) => ({
    ...(isAdrift(one)
      ? { printed: "not known", read: `${valueWords(one.value)} by a pointer that was moved` }
      : trueWords(one.value, one.pointer)),
    at: one.cylinder ? ` in cylinder ${one.cylinder}` : "",
  }));
  const read = said.filter((one) => one.read).map((one) => one.read + one.at);
  const printed = said.map((one) => one.printed + one.at).join(", ");
  return [printed, when, read.length ? `(read as ${read.join(", ")})` : ""].filter(Boolean).join(" ");
}

/**
 * What else is known of this engine: its own correction, the pointer, the margin.
 * @param {JobRecord} record
 * @param {string} margin that the last reading of the maximum has
 * @returns {LabelledText[]}
 */
export function engineLines(record, margin) {
  /** @type {LabelledText[]} */
  const lines = [];
  if (record.correction) lines.push(["this engine's correction", correctionWords(record.correction)]);
  const timed = [...record.left.values()].flat().filter(({ value }) => isReadByPointer(value));
  const last = timed.sort((one, other) => (one.time < other.time ? -1 : 1)).at(-1);
  if (last) lines.push(["pointer", last.adrift ? ADRIFT : pointerWords(last.pointer)]);
  if (margin) lines.push(["margin kept", margin]);
  return lines;
}

/** @param {{cranking: string, running: string, rpm: string}} measured signed degrees of the same setting */
export function correctionWords({ cranking, running, rpm }) {
  const off = Fraction.of(cranking).minus(Fraction.of(running));
  const against = rpm ? `at ${rpm} rpm` : State.RUNNING;
  if (!off.sign()) return `reads the same cranking as ${against}`;
  return `reads ${plain(off)}° ${off.sign() > 0 ? "earlier" : "later"} ${State.CRANKING} than ${against}`;
}

const ADRIFT = "moved, and not read again at true top dead centre";

/** How the pointer of a job stands, in words. @param {JobRecord} record */
export function pointerStands({ pointer, deadCentre }) {
  if (pointer === Pointer.MOVED) return ADRIFT;
  return `${pointerWords(deadCentre)}${pointer === Pointer.ASKED ? "; not said whether it was moved since" : ""}`;
}

/** @param {string | null} pointer */
export function pointerWords(pointer) {
  if (pointer === null) return "not checked at true top dead centre";
  const words = angleInWords(Fraction.of(pointer));
  return words === "0" ? "right at true top dead centre" : `showed ${words} at true top dead centre`;
}
