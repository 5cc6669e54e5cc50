/**
 * Reads the fields of a bench aid, numbers by our own grammar. Independent of the page, so that tests can use it.
 */

import { QuantityError, StopscrewError } from "../errors.js";
import { readNumber } from "../quantity/number.js";
import { unitOf } from "../quantity/unit.js";
import { atField } from "./aids/field-error.js";

/**
 * The raw content of a field: its text, or the value of its chosen key; its unit; its side.
 * @typedef {{text: string, unit?: string, side?: string}} Raw
 */

/** The first of each pair of keys beside a number, which counts as positive. @type {Readonly<Record<string, string>>} */
const UP = { btdc: "before", earlier: "earlier", in: "in" };
/** The kinds with a side, and top dead centre itself as it is typed: `tdc`, `0 tdc`. */
const SIDED = new Set(["angle", "printed"]);
const CENTRE = /^(0(\.0+)?\s*°?\s*|at )?tdc$/i;
const SAMPLES = new Map([
  ["angle", "24"],
  ["printed", "24"],
  ["size", "62.5"],
  ["number", "2.5"],
  ["digits", "1"],
]);

/**
 * A number as typed in haste, made plain: a comma for the point, no digit before it, a degree sign after it.
 * @param {string} text
 */
function asPlain(text) {
  const pointed = text.trim().replace(",", ".").replace(/\s*°$/, "");
  return pointed.startsWith(".") ? `0${pointed}` : pointed;
}

/**
 * The value of a field; null if it is empty. `choice` and `words` are text, `numbers` a list of texts, `number` and
 * `angle` fractions, an angle signed; `digits` the text of a number; `size` and `printed` keep digits and unit.
 * @param {string} kind
 * @param {string} label
 * @param {Raw} raw
 * @returns {any}
 * @throws {QuantityError} it cannot be read; the message says what to type
 */
function readField(kind, label, raw) {
  if (kind === "choice" || kind === "words") return raw.text.trim();
  const text = asPlain(raw.text);
  try {
    if (kind === "numbers") return listOf(raw.text);
    if (!text) return kind === "digits" ? "" : null;
    return typedValue(kind, text, raw);
  } catch (error) {
    if (!(error instanceof StopscrewError)) throw error;
    throw new QuantityError(`${label}: ${error.message}`);
  }
}

/** @param {string} kind @param {string} written @param {Raw} raw */
function typedValue(kind, written, raw) {
  const text = SIDED.has(kind) && CENTRE.test(written) ? "0" : written;
  if (/^[-−+]/.test(text)) {
    const instead = SIDED.has(kind) ? "choose one of the keys beside it" : `such as ${SAMPLES.get(kind)}`;
    throw new QuantityError(`'${text.slice(0, 40)}' has a sign; type the number alone, and ${instead}`);
  }
  const { value } = readNumber(text, { fractions: fractionsIn(kind, raw.unit ?? "") });
  if (kind === "number") return value;
  if (kind === "digits") {
    if (!value.sign())
      throw new QuantityError(`'${text}' is not a size; type one such as ${SAMPLES.get(kind)}, or leave it empty`);
    return text;
  }
  if (kind === "size") {
    if (!value.sign())
      throw new QuantityError(`'${text}' is not a size above zero; type one such as ${SAMPLES.get(kind)}`);
    return { value, text, unit: unitOf(raw.unit ?? "") };
  }
  const side = value.sign() ? raw.side : raw.side || "tdc";
  if (!side) throw new QuantityError(`choose one of the two keys beside ${text}`);
  const signed = side in UP ? value : value.negative();
  return kind === "printed"
    ? { value: signed, text, side: value.sign() ? side : "tdc", unit: raw.unit ?? "crank_deg" }
    : signed;
}

/**
 * Whether a field takes fractions: a length in inches, a number of turns, but no angle with a side, nor millimetres.
 * @param {string} kind
 * @param {string} unit
 */
function fractionsIn(kind, unit) {
  if (kind === "digits") return false;
  return kind === "size" || kind === "printed" ? unitOf(unit || "crank_deg").fractions : true;
}

/** Numbers separated by commas or spaces. @param {string} typed */
function listOf(typed) {
  const texts = typed
    .split(/[,;\s]+/)
    .map(asPlain)
    .filter(Boolean);
  for (const text of texts) readNumber(text);
  return texts;
}

/**
 * A line of a correction from its two fields; null if both are empty.
 * @param {Raw} degrees
 * @param {Raw} speed
 * @param {string} label
 * @returns {import("./aids/typed-figure.js").CorrectionLine | null}
 */
function readCorrection(degrees, speed, label) {
  const rpm = readField("number", label, speed);
  const text = asPlain(degrees.text);
  if (!text && !rpm) return null;
  if (!text) throw new QuantityError(`${label}: type by how many degrees it reads earlier or later`);
  const value = readField("number", label, { text });
  if (value.sign() && !degrees.side) {
    throw new QuantityError(
      `${label}: choose earlier or later beside ${text}: which it is cannot be reasoned out, only printed or measured`,
    );
  }
  return { rpm, text, side: degrees.side || "earlier" };
}

/**
 * A field of the page.
 * @typedef {{name: string, kind: string, label: string, needed: boolean, raw: Raw}} Field
 */
/** Rows of like fields. @typedef {{name: string, kind: "list", label: string, shape: string, rows: Field[][]}} FieldList */

/**
 * The values of all fields by name; for a list its rows without empty ones, a row of two fields as a pair.
 * @param {readonly (Field | FieldList)[]} fields
 * @returns {Record<string, any>}
 * @throws {QuantityError} with the `field` that it is about
 */
export function readAll(fields) {
  return Object.fromEntries(fields.map((field) => [field.name, "rows" in field ? rowsOf(field) : held(field)]));
}

/** @param {Field} field */
function held({ name, kind, label, needed, raw }) {
  const value = blaming(name, () => readField(kind, label, raw));
  if (needed && (value === null || value === ""))
    throw atField(name, new QuantityError(`${label}: it is empty; ${wanted(kind)}`));
  return value;
}

/** @param {string} kind */
function wanted(kind) {
  if (kind === "words") return "type it in words";
  const sample = `type a number such as ${SAMPLES.get(kind)}`;
  return SIDED.has(kind) ? `${sample}, and choose before or after` : sample;
}

/** @param {FieldList} list */
function rowsOf({ shape, rows }) {
  return rows.flatMap((row) => {
    const [first, second] = row;
    if (!first) return [];
    if (shape === "correction") {
      const line = blaming(first.name, () => readCorrection(first.raw, second?.raw ?? { text: "" }, first.label));
      return line ? [line] : [];
    }
    const values = row.map(held);
    const empty = row.find((_, place) => values[place] === null);
    if (values.every((value) => value === null)) return [];
    if (empty) throw atField(empty.name, new QuantityError(`${empty.label}: it is empty; ${wanted(empty.kind)}`));
    return [second ? values : values[0]];
  });
}

/** @template T @param {string} name @param {() => T} read @returns {T} */
function blaming(name, read) {
  try {
    return read();
  } catch (error) {
    throw error instanceof StopscrewError ? atField(name, error) : error;
  }
}
