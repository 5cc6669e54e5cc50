/**
 * The figure of a step for the engine of a job, in each state that the book has: as printed, and as the light should
 * show it.
 */

import { aim } from "../book/aim.js";
import { crankOf, marginLimit } from "../book/window.js";
import { DeadCentreTooFar, GeometryImpossible, MarginTooWide, NotAnAngle } from "../errors.js";
import { correctionOf, figureOf, figureRowsOf } from "../family/figure-of-row.js";
import { printedOf } from "../family/set-line.js";
import { SHORT, spaced, statementOf } from "../family/statements.js";
import { inUnits } from "../family/value-parts.js";
import { Fraction, ZERO } from "../quantity/fraction.js";
import { readNumber } from "../quantity/number.js";
import { readQuantity } from "../quantity/quantity.js";
import { DEGREE_OF_CRANK } from "../quantity/unit.js";
import { Condition, HazardTier, HowSure, SCREEN_STATES, State } from "../vocabulary.js";
import { pointerOpen } from "./log/pointer-history.js";
import { isAngle } from "./log/report-value.js";
import { workedOutOnce } from "./log/worked-out.js";
import { octaneWords } from "./reading/octane.js";

/** Why there is nothing in a state that no page prints: it cannot be worked out either. */
const UNDERIVED = "NoCorrectionKnown";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./log/record.js").JobRecord} JobRecord */
/** @typedef {import("../book/window.js").Figure} Figure */
/** @typedef {import("../book/when-running.js").Corrected} Corrected */

/**
 * What the book says of a figure in one state: `printed`, or in short why there is no number, and `words` why in full;
 * `from` the printed figures from which it is worked out; `depends` what holds for which engines.
 * @typedef {{label: string, when: string, printed: string, other: string, problem: string, words: string,
 *   candidates: readonly string[], disputed: boolean, depends: readonly string[],
 *   statements: readonly import("../family/statements.js").Statement[], remarks: readonly string[], sure: string,
 *   hazard: string, working: readonly Document[], from: string}} StatedFigure
 */

/**
 * A figure in one state: `settable` is what the arithmetic takes, null if it is not set by the light; `target` what the
 * light should show today, or `refused` why there is none; `waits` if there is none until the pointer is read; `value` as
 * printed, to judge readings by, null if there is not exactly one; `safest` which end of it is, by the catalogue.
 * @typedef {{figure: string, safest: string, state: string, at: Document, stated: StatedFigure, settable: Figure | null,
 *   target: ReturnType<typeof aim> | null, refused: string, waits: boolean, value: Document | null}} StepFigure
 */

/**
 * The settings of a job: margin and dead-centre reading in degrees, the book's correction; `open` why nothing is set or
 * judged by the pointer, if something stands against it.
 * @typedef {{margin: Fraction, deadCentre: Fraction | null, correction: Corrected, open: string}} JobSetup
 */

/**
 * @param {Document} page
 * @param {Document} shared
 * @param {JobRecord} record
 * @param {string} figure
 * @returns {JobSetup}
 */
export function setupFor(page, shared, record, figure) {
  const takes = marginLimit(shared["figures"][figure] ?? {}).sign();
  return {
    margin: takes && record.margin ? readNumber(record.margin, { fractions: true }).value : ZERO,
    deadCentre: record.deadCentre === null ? null : Fraction.of(record.deadCentre),
    correction: correctionOf(page, shared["figures"], record.serial),
    open: pointerOpen(record.pointer),
  };
}

/** The figures of a record by figure and state, as they are asked for. */
const figuresOf = workedOutOnce(
  (/** @type {{page: Document, shared: Document, record: JobRecord}} */ _) =>
    /** @type {Map<string, StepFigure[]>} */ (new Map()),
);

/**
 * A figure of the book for the engine of a job, first in the state that it is read in at a step; without one as it is set
 * on land. What was chosen for the engine changes nothing of that: a running figure is no target while cranking.
 * @param {Document} page
 * @param {Document} shared
 * @param {JobRecord} record
 * @param {string} figure
 * @param {string} [state]
 * @returns {StepFigure[]}
 * @throws {SerialFitsNone} the serial number is in no range of the family
 */
export function stepFigures(page, shared, record, figure, state = "") {
  const figures = figuresOf({ page, shared, record });
  const asked = `${figure} ${state}`;
  const found = figures.get(asked) ?? worked(page, shared, record, figure, state);
  figures.set(asked, found);
  return found;
}

/**
 * @param {Document} page
 * @param {Document} shared
 * @param {JobRecord} record
 * @param {string} figure
 * @param {string} state
 * @returns {StepFigure[]}
 */
function worked(page, shared, record, figure, state) {
  const given = setupFor(page, shared, record, figure);
  const shown = figureRowsOf(page, figure, record.serial).map((one) => {
    const { row } = one;
    const settled = row["problem"] === undefined && !one.depends.length;
    const value = settled ? (row["value"] ?? null) : null;
    const settable = value && isAngle(value) ? figureOf(page, shared["figures"], one) : null;
    return {
      figure,
      safest: shared["figures"][figure]["safest_end"] ?? "",
      state: row["state"] ?? "",
      at: row["at"] ?? {},
      stated: statedFigure(page, shared, one),
      settable,
      value,
      waits: Boolean(settable && given.open),
      ...aimedAt(settable, given),
    };
  });
  const order = [state, ...SCREEN_STATES];
  const first = (/** @type {StepFigure} */ one) =>
    order.indexOf(one.state) + (one.state !== state && one.stated.problem === UNDERIVED ? order.length : 0);
  return shown.sort((one, other) => first(one) - first(other));
}

/**
 * The figure that is set at a step: one with a target in the state that the step reads it in; null if there is none. What
 * was set on land is only checked running: turns of a screw read in two states teach nothing.
 * @param {import("../book/job.js").JobStep} step
 * @param {readonly StepFigure[]} shown
 * @returns {StepFigure | null}
 */
export function setHere({ state }, shown) {
  const aimed = shown.filter(({ target }) => target !== null);
  const here = aimed.find((one) => !state || one.state === state) ?? null;
  return state === State.RUNNING && aimed.some((one) => one.state !== state) ? null : here;
}

/**
 * What to set in words: by the pointer, or where a piston's height is read standing still, by the gauge in the plug hole.
 * @param {StepFigure} shown
 */
export function targetWords({ state, target, value }) {
  const byGauge = state === State.STATIC && value && readQuantity(value).unit !== DEGREE_OF_CRANK;
  return target ? String((byGauge && target.piston) || target.show) : "";
}

/** @param {Figure | null} settable @param {JobSetup} given */
function aimedAt(settable, given) {
  if (!settable) return { target: null, refused: "" };
  if (given.open) return { target: null, refused: `no figure to set by: ${given.open}` };
  try {
    return { target: aim(settable, given), refused: "" };
  } catch (error) {
    const expected = [NotAnAngle, GeometryImpossible, DeadCentreTooFar, MarginTooWide].some(
      (kind) => error instanceof kind,
    );
    if (expected && error instanceof Error) return { target: null, refused: error.message };
    throw error;
  }
}

/**
 * What the book says of a figure in one state, as on the family's page.
 * @param {Document} page
 * @param {Document} shared
 * @param {import("../family/engine-rows.js").FigureRows} one
 * @returns {StatedFigure}
 */
function statedFigure(page, shared, { figure, row, statements, depends }) {
  const kind = shared["figures"][figure];
  const cited = page["figures"].find((/** @type {Document} */ held) => held["id"] === figure)["cited"];
  const problem = depends.length ? "" : (row["problem"] ?? "");
  const settled = !problem && !depends.length;
  const [printed, other] = settled
    ? inUnits(row, cited, "")
    : [SHORT.get(problem) ?? (problem ? "no single number" : "depends on the engine"), ""];
  const sure = settled ? String(row["rests_on"] ?? row["standing"] ?? "") : "";
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
    from: settled && row["standing"] === HowSure.DERIVED ? printedOf(row) : "",
  };
}

/**
 * The signed degrees of a reading of the light; null for anything else, such as a piston depth.
 * @param {Document} value
 */
export function signedAngle(value) {
  const read = isAngle(value) ? readQuantity(value) : null;
  return read?.unit === DEGREE_OF_CRANK ? read.nominal : null;
}

/**
 * Whether a piston depth may be typed: it can be converted to degrees, and is printed or the engine is static.
 * @param {Document} page
 * @param {readonly StepFigure[]} shown
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
export function conditionsInWords(at) {
  return Object.entries(at ?? {})
    .map(([name, value]) => conditionWords(name, value))
    .join(", ");
}

/** @param {string} name @param {any} value */
export function conditionWords(name, value) {
  if (name === Condition.OCTANE) return `octane ${octaneWords(value)}`;
  const words =
    typeof value === "string"
      ? value.replaceAll("-", " ")
      : Object.entries(value)
          .map(([unit, number]) => `${number} ${unit}`)
          .join(" ");
  if (name === Condition.RPM) return `${words} rpm`;
  return name === Condition.GEAR ? words : `${name} ${words}`;
}
