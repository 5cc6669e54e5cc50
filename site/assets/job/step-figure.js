/**
 * The figure of a step for the engine of a job: each state that the book holds, printed and as the light should show
 * it.
 */

import { aim } from "../book/aim.js";
import { crankOf, marginLimit } from "../book/window.js";
import { DeadCentreTooFar, GeometryImpossible, MarginTooWide, NotAnAngle } from "../errors.js";
import { correctionOf, figureOf, sourceWords, toldOf } from "../family/figure-of-row.js";
import { printedOf } from "../family/set-line.js";
import { SHORT, spaced, statementOf } from "../family/statements.js";
import { inUnits } from "../family/value-parts.js";
import { Fraction, NOUGHT } from "../quantity/fraction.js";
import { readNumber } from "../quantity/number.js";
import { readQuantity } from "../quantity/quantity.js";
import { DEGREE_OF_CRANK } from "../quantity/unit.js";
import { Condition, HazardTier, HowSure, SIDES, State } from "../vocabulary.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./log/record.js").JobRecord} JobRecord */
/** @typedef {import("../book/window.js").Figure} Figure */
/** @typedef {import("../book/when-running.js").Corrected} Corrected */

/**
 * What is said of a figure in one state: `printed` or in short why there is no number, `words` why in whole; `source` whose
 * it is, with the page; `from` the printed figures that a worked-out one comes from; `depends` what holds for which engines.
 * @typedef {{label: string, when: string, printed: string, other: string, problem: string, words: string,
 *   candidates: readonly string[], disputed: boolean, depends: readonly string[],
 *   statements: readonly import("../family/statements.js").Statement[], remarks: readonly string[], sure: string,
 *   hazard: string, working: readonly Document[], source: string, from: string}} Told
 */

/**
 * A figure in one state: `asked` for the arithmetic, nothing where it is not set by the light; `aimed` what the light
 * should show today, or `refused` why not; `value` as printed, to hold a reading against, nothing where there is no one.
 * @typedef {{figure: string, state: string, at: Document, told: Told, asked: Figure | null,
 *   aimed: ReturnType<typeof aim> | null, refused: string, value: Document | null}} Shown
 */

const ANGLES = [...SIDES, "from"];

/** Whether a value as typed is a place of the crank. @param {Document | null | undefined} value */
export const isAngle = (value) => ANGLES.some((side) => value && side in value);

/** What a job reckons with: margin and dead-centre reading in degrees, and the book's correction. */
/** @typedef {{margin: Fraction, deadCentre: Fraction | null, correction: Corrected}} Given */

/**
 * @param {Document} page
 * @param {Document} shared
 * @param {JobRecord} record
 * @param {string} figure
 * @returns {Given}
 */
export function givenFor(page, shared, record, figure) {
  const takes = marginLimit(shared["figures"][figure] ?? {}).sign();
  return {
    margin: takes && record.margin ? readNumber(record.margin, { fractions: true }).value : NOUGHT,
    deadCentre: record.deadCentre === null ? null : Fraction.of(record.deadCentre),
    correction: correctionOf(page, shared["figures"], record.serial),
  };
}

/**
 * What the book holds on a figure for the engine of a job, the state that the job is set in first.
 * @param {Document} page
 * @param {Document} shared
 * @param {JobRecord} record
 * @param {string} figure
 * @returns {Shown[]}
 * @throws {SerialFitsNone} no range of the family holds the serial number
 */
export function figuresOf(page, shared, record, figure) {
  const given = givenFor(page, shared, record, figure);
  const shown = toldOf(page, figure, record.serial).map((one) => {
    const { row } = one;
    const settled = row["problem"] === undefined && !one.depends.length;
    const value = settled ? (row["value"] ?? null) : null;
    const asked = value && isAngle(value) ? figureOf(page, shared["figures"], one) : null;
    return {
      figure,
      state: row["state"] ?? "",
      at: row["at"] ?? {},
      told: toldOn(page, shared, one),
      asked,
      value,
      ...aimedAt(asked, given),
    };
  });
  const first = (/** @type {Shown} */ one) => (one.state === record.state ? 0 : 1);
  return shown.sort((one, other) => first(one) - first(other));
}

/** @param {Figure | null} asked @param {Given} given */
function aimedAt(asked, given) {
  if (!asked) return { aimed: null, refused: "" };
  try {
    return { aimed: aim(asked, given), refused: "" };
  } catch (error) {
    const told = [NotAnAngle, GeometryImpossible, DeadCentreTooFar, MarginTooWide].some(
      (kind) => error instanceof kind,
    );
    if (told && error instanceof Error) return { aimed: null, refused: error.message };
    throw error;
  }
}

/**
 * What is said of a figure in one state, as the family's page says it.
 * @param {Document} page
 * @param {Document} shared
 * @param {import("../family/engine-rows.js").Told} one
 * @returns {Told}
 */
function toldOn(page, shared, { figure, row, statements, depends }) {
  const kind = shared["figures"][figure];
  const cited = page["figures"].find((/** @type {Document} */ held) => held["id"] === figure)["cited"];
  const problem = depends.length ? "" : (row["problem"] ?? "");
  const settled = !problem && !depends.length;
  const [printed, other] = settled
    ? inUnits(row, cited, "")
    : [SHORT.get(problem) ?? (problem ? "no single number" : "depends on the engine"), ""];
  const sure = settled
    ? row["rests_on"]
      ? `worked out, from figures that are ${row["rests_on"]}`
      : String(row["standing"] ?? "")
    : "";
  return {
    label: kind.label,
    when: spaced(row["state"], row["conditions"]),
    printed,
    other,
    problem,
    words: problem ? (row["words"] ?? "") : "",
    candidates: problem && !statements.length ? (row["candidates"] ?? []) : [],
    disputed: problem === "FigureDisputed" || row["standing"] === HowSure.DISPUTED,
    depends: depends.map(([engines, own]) => `${own["printed"] ?? "no single number"}: ${engines}`),
    statements: statements.map((held) => statementOf(page, shared, cited, held)),
    remarks: row["remarks"] ?? [],
    sure,
    hazard: kind.hazard === HazardTier.A ? (kind.hazard_because ?? "") : "",
    working: row["working"] ?? [],
    source: settled ? sourceWords(page, shared, { figure, row, statements }) : "",
    from: settled && row["standing"] === HowSure.DERIVED ? printedOf(row) : "",
  };
}

/**
 * Signed degrees of a reading of the light; nothing where it is none, as a depth of the piston.
 * @param {Document} value
 */
export function signedOf(value) {
  const read = isAngle(value) ? readQuantity(value) : null;
  return read?.unit === DEGREE_OF_CRANK ? read.nominal : null;
}

/**
 * Whether the piston's depth leads to degrees, or is what is printed.
 * @param {Document} page
 * @param {readonly Shown[]} shown
 */
export const takesDepth = (page, shown) =>
  crankOf(page["engine"]) !== null &&
  shown.some(
    ({ state, value }) =>
      state === State.STATIC || (value && isAngle(value) && readQuantity(value).unit !== DEGREE_OF_CRANK),
  );

/** A reading in words, such as `28° BTDC`. @param {Document} value */
export function valueWords(value) {
  const [unit = ""] = Object.keys(value);
  return unit === "mark" || unit === "code" ? String(value[unit]) : String(readQuantity(value));
}

/** Conditions in words, such as `cylinder 1, 5000 rpm`. @param {Document | undefined} at */
export function atWords(at) {
  return Object.entries(at ?? {})
    .map(([name, value]) => conditionWords(name, value))
    .join(", ");
}

/** @param {string} name @param {any} value */
export function conditionWords(name, value) {
  const words =
    typeof value === "string"
      ? value.replaceAll("-", " ")
      : Object.entries(value)
          .map(([unit, number]) => `${number} ${unit}`)
          .join(" ");
  if (name === Condition.RPM) return `${words} rpm`;
  return name === Condition.GEAR ? words : `${name} ${words}`;
}
