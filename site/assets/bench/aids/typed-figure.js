/**
 * A figure typed at the bench or filled in from a family, in the shape of the book's figures; and its correction. A part
 * filled in and not changed is the family's own, to the last digit.
 */

import { MAXIMUM } from "../../book/catalogue.js";
import { correctionWords, pointsOf } from "../../book/when-running.js";
import { correctionAt, crankingFromRunning, runningFromCranking } from "../../calc/correction.js";
import { NoCorrectionKnown, QuantityError, Refusal } from "../../errors.js";
import { Fraction } from "../../quantity/fraction.js";
import { readNumber } from "../../quantity/number.js";
import { readQuantity, signedQuantity } from "../../quantity/quantity.js";
import { plain } from "../../quantity/spoken.js";
import { DEGREE_OF_CRANK } from "../../quantity/unit.js";
import { State } from "../../vocabulary.js";
import { step } from "../../working.js";
import { atField } from "./field-error.js";
import { TYPED } from "./wording.js";

/** @typedef {import("./wording.js").Size} Size */
/** @typedef {import("../../book/window.js").Figure} Figure */
/** @typedef {import("../../book/when-running.js").Corrected} Corrected */
/** @typedef {Readonly<Record<string, any>>} Document */

/**
 * A typed number with its side and unit: degrees, or mm or in of piston travel.
 * @typedef {{text: string, value: Fraction, side: "btdc" | "atdc" | "tdc", unit: string}} Printed
 */
/**
 * One line of a correction: so much earlier or later, at one speed or at all.
 * @typedef {{rpm: Fraction | null, text: string, side: string}} CorrectionLine
 */

/**
 * The parts of the family that were not changed by hand: the figure, its correction, engine,
 * flywheel and adjuster.
 * @typedef {{figure?: Figure | undefined, correction?: Corrected | undefined, engine?: Document | undefined,
 *   flywheel?: Document | undefined, adjusters?: Document | undefined}} FamilyParts
 */

/**
 * @typedef {{kinds: Document, kind: string, printed: Printed | null, other_end: Printed | null, bound: string, state: string,
 *   set: string, rpm: Fraction | null, corrections: readonly CorrectionLine[], margin: Fraction | null, dead_centre: Fraction | null,
 *   diameter: Size | null, marks_before: readonly string[], marks_after: readonly string[], division: string, rotation: string,
 *   marks_on: string, stroke: Size | null, rod: Size | null, part: string, turning_in: string, locknut: string,
 *   pitch?: Size | null, held?: FamilyParts, origins?: import("./wording.js").Origins}} FigureInputs
 */

/**
 * The figure with all that a target needs, and the correction.
 * @param {FigureInputs} given
 * @returns {{figure: Figure, correction: Corrected | undefined}}
 */
export function typedFigure(given) {
  const { held = {} } = given;
  const correction = held.correction ?? typedCorrection(given.corrections);
  const figure = held.figure ?? printedFigure(given);
  const whole = { ...figure, ...partsOf(given) };
  const wanted = given.set || whole.state;
  return { figure: wanted === whole.state ? whole : inState(whole, wanted, correction, given), correction };
}

/** @param {FigureInputs} given @returns {Figure} */
function printedFigure({ kinds, kind: id, printed, other_end: other, bound, state }) {
  if (!printed) throw atField("printed", new QuantityError("type the printed figure, and choose before or after"));
  const kind = kinds[id];
  const value = typedValue(printed, other, bound);
  return {
    figure: id,
    label: kind.label,
    family: "this engine",
    state,
    printed: `${readQuantity(value)}`,
    value,
    kind,
    cited: TYPED,
  };
}

/** @param {Printed} printed @param {Printed | null} other @param {string} bound @returns {Document} */
function typedValue(printed, other, bound) {
  const one = (/** @type {Printed} */ { side, text, unit }) => ({
    [side]: side === "tdc" || unit === "crank_deg" ? text : { [lengthOf(unit)]: text },
  });
  if (!other) {
    if (!bound || printed.side === "tdc") return one(printed);
    const limit = { [bound]: printed.text };
    return { [printed.side]: printed.unit === "crank_deg" ? limit : { [lengthOf(printed.unit)]: limit } };
  }
  if (bound)
    throw atField("bound", new QuantityError("a window has two ends: choose “as it stands”, or empty the other end"));
  if (printed.unit !== other.unit) throw atField("other_end", new QuantityError("choose the same unit for both ends"));
  if (printed.value.equals(other.value))
    throw atField("other_end", new QuantityError("both ends are the same: leave the other end empty"));
  const [early, late] = printed.value.above(other.value) ? [printed, other] : [other, printed];
  if (early.side !== late.side) return { from: one(early), to: one(late) };
  const texts = (early.side === "btdc" ? [late, early] : [early, late]).map(({ text }) => text);
  return { [early.side]: early.unit === "crank_deg" ? texts : { [lengthOf(early.unit)]: texts } };
}

/** @param {string} unit of piston travel */
const lengthOf = (unit) => (unit === "piston_in" ? "in" : "mm");

/** @param {FigureInputs} given */
function partsOf({
  held = {},
  diameter,
  marks_before: before,
  marks_after: after,
  division,
  rotation,
  marks_on: marksOn,
  ...given
}) {
  const { stroke, rod, part, turning_in: works, locknut, kind } = given;
  const size = (/** @type {Size | null} */ one) => (one ? { [one.unit.key]: one.text } : undefined);
  const flywheel = {
    numbered_marks: { btdc: before, atdc: after },
    rotation,
    marks_on: marksOn,
    ...(diameter ? { rim_diameter: size(diameter) } : {}),
    ...(division ? { division: { deg: division } } : {}),
  };
  const engine = stroke && rod ? { stroke: size(stroke), rod: size(rod) } : {};
  const adjuster = part || works ? { [kind]: { part: part || "screw", turning_in: works, locknut } } : {};
  return { engine: held.engine ?? engine, flywheel: held.flywheel ?? flywheel, adjusters: held.adjusters ?? adjuster };
}

/**
 * The typed correction: one line is a constant, several are a table.
 * @param {readonly CorrectionLine[]} rows
 * @returns {Corrected | undefined}
 */
function typedCorrection(rows) {
  const [first, ...more] = rows;
  if (!first) return undefined;
  const one = (/** @type {CorrectionLine} */ { side, text }) => ({ [`cranking_${side}`]: text });
  if (!more.length) {
    return { value: one(first), conditions: first.rpm ? `${plain(first.rpm)} rpm` : "", cited: TYPED };
  }
  const table = rows.map((row) => {
    if (!row.rpm)
      throw atField(
        "corrections",
        new QuantityError("a correction of several lines is a table: type the speed of each"),
      );
    return { rpm: row.rpm, ...one(row) };
  });
  table.sort((a, b) => a.rpm.compare(b.rpm));
  return {
    value: { by_rpm: table.map((row) => ({ ...row, rpm: `${plain(row.rpm)}` })) },
    conditions: "",
    cited: TYPED,
  };
}

/**
 * A maximum converted to another state by the correction, as the book does it.
 * @param {Figure} figure
 * @param {string} wanted
 * @param {Corrected | undefined} correction
 * @param {FigureInputs} given
 * @returns {Figure}
 */
function inState(figure, wanted, correction, { rpm, corrections }) {
  const { state } = figure;
  if (figure.figure !== MAXIMUM || state === State.STATIC || wanted === State.STATIC) {
    throw atField(
      "set",
      new NoCorrectionKnown(
        "the correction holds for the maximum alone, between cranking and running: set this one as the page says",
      ),
    );
  }
  if (!correction || "unknown" in correction) {
    throw atField(
      "corrections",
      new NoCorrectionKnown(
        `the maximum is known ${state}, not ${wanted}, and no sourced correction leads from one to the other; find out whether ` +
          "the timing reads earlier or later while cranking, and by how much",
      ),
    );
  }
  const points = pointsOf(correction.value);
  const only = corrections.length === 1 ? corrections[0]?.rpm : null;
  if (wanted === State.CRANKING && only && !rpm?.equals(only)) {
    const speed = rpm ? `${plain(rpm)} rpm` : "a speed not stated";
    throw atField(
      "rpm",
      new NoCorrectionKnown(`the correction applies at ${plain(only)} rpm, the running maximum at ${speed}`),
    );
  }
  const value = readQuantity(figure.value ?? {});
  const { low, high } = value;
  if (value.unit !== DEGREE_OF_CRANK || !low || !high) {
    throw atField(
      "printed",
      new NoCorrectionKnown(`the maximum is printed as ${value}, and is not converted; type degrees`),
    );
  }
  const degrees = atSpeed(points, rpm);
  const convert = wanted === State.CRANKING ? crankingFromRunning : runningFromCranking;
  const [later, earlier] = [convert(low, degrees), convert(high, degrees)];
  const finest = stepsOf(correction.value).reduce((one, other) => one.least(other), value.step);
  const result = signedQuantity(DEGREE_OF_CRANK, later, earlier, finest, "down");
  const rounded = !(result.low?.equals(later) && result.high?.equals(earlier));
  const sign = (wanted === State.CRANKING) === degrees.sign() >= 0 ? "+" : "-";
  const cited = "cited" in correction ? (correction.cited ?? "") : "";
  const working = step(
    `${wanted} maximum`,
    `${state} reading ${sign} correction`,
    [
      [`${state} reading`, `${value}`, figure.cited ?? ""],
      ["correction", correctionWords(degrees), cited],
    ],
    `${result}`,
    rounded ? `to ${plain(result.step, 9)}°, toward late` : "",
  );
  return {
    ...figure,
    state: wanted,
    printed: `${result}`,
    value: signedValue(result),
    working: [...(figure.working ?? []), working],
  };
}

/** @param {import("../../calc/correction.js").Point[]} points @param {Fraction | null} rpm */
function atSpeed(points, rpm) {
  try {
    return correctionAt(points, rpm);
  } catch (error) {
    throw error instanceof Refusal ? atField("rpm", error) : error;
  }
}

/** For each number of a correction, one unit in its last place. @param {Document} value @returns {Fraction[]} */
function stepsOf(value) {
  return (value["by_rpm"] ?? [value]).map(
    (/** @type {Document} */ row) =>
      readNumber(row["cranking_earlier"] ?? row["cranking_later"], { fractions: true }).step,
  );
}

/**
 * An angle as typed in a family's file.
 * @param {import("../../quantity/quantity.js").Quantity} angle
 * @returns {Document}
 */
function signedValue({ numbers, sides }) {
  const [one = "0", other] = numbers.map(({ text }) => text);
  const [side = "tdc", last] = sides;
  if (last) return { from: { [side]: one }, to: { [last]: other } };
  return { [side]: other === undefined ? one : [one, other] };
}

/** The figure as printed, with its state, or how it was worked out. @param {Figure} figure */
export function printedWords({ printed, state, working }) {
  const [from] = working?.at(-1)?.inputs ?? [];
  const when = state ? `, ${state}` : "";
  return from
    ? `worked out ${printed}${when}, from ${from.value} ${from.name.replace(" reading", "")}`
    : `printed ${printed}${when}`;
}
