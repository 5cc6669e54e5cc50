/** A figure as a setting of the timing light: its true window in degrees, what is allowed, where to aim. */

import { crankDegrees, degreesPerLength, pistonPosition } from "../calc/crank.js";
import { indicatedTarget } from "../calc/target.js";
import { MarginTooWide, NotAnAngle } from "../errors.js";
import { Fraction, HALF, ZERO } from "../quantity/fraction.js";
import { readNumber, roundToStep } from "../quantity/number.js";
import { millimetres, plainAngle, Quantity, readQuantity, signedQuantity } from "../quantity/quantity.js";
import { plain } from "../quantity/spoken.js";
import { convert, DEGREE_OF_CRANK, PISTON_MM } from "../quantity/unit.js";
import { AimPoint, SafestEnd, SIDES } from "../vocabulary.js";

/** @typedef {import("../quantity/unit.js").Unit} Unit */
/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {{throwLength: number, rod: number}} Crank in millimetres */

const READABLE = HALF;
const FINEST = new Fraction(1n, 1000000000n);

/** The steps to which a target is rounded: half a degree, which an eye can read, or finer if that leaves the window. */
const STEPS = [READABLE, new Fraction(1n, 10n), new Fraction(1n, 100n), new Fraction(1n, 1000n)];

/**
 * A figure in true signed degrees, before top dead centre positive. `low` and `high` are the printed ends, later and
 * earlier; one may be open. `late` and `early` are how far beyond them a reading is still allowed. `target` is where to
 * aim, margin included; `margin` the part of the margin for which there is room; `isLimit` whether it is a maximum,
 * whose late side is the safe one.
 * @typedef {{low: Fraction | null, high: Fraction | null, late: Fraction, early: Fraction, target: Fraction | null,
 *   margin: Fraction, lone: boolean, isLimit: boolean, remarks: readonly string[]}} Setting
 */

/**
 * A figure of the book: its id, label, family, value as typed, kind in the catalogue, and the engine's document; `cited`
 * is the place of its value, `working` how it was derived, `remarks` go with it.
 * @typedef {{figure: string, label: string, family: string, state: string, printed: string, value?: Document,
 *   kind: Document, engine?: Document, flywheel?: Document, adjusters?: Document, cited?: string,
 *   working?: import("../working.js").Step[], remarks?: readonly string[]}} Figure
 */

/**
 * The crank of an engine, if its stroke and rod are known and possible.
 * @param {Document | undefined} engine
 * @returns {Crank | null}
 */
export function crankOf(engine) {
  const [stroke, rod] = [millimetres(engine?.["stroke"]), millimetres(engine?.["rod"])];
  if (stroke === null || rod === null || !(0 < stroke / 2 && stroke / 2 < rod)) return null;
  return { throwLength: stroke / 2, rod };
}

/** Whether a kind of figure is a maximum, which is never set earlier than printed. @param {Document} kind */
const isMaximum = (kind) => kind["safest_end"] === SafestEnd.LATER;

/**
 * A figure as a setting, with a margin in degrees to the late side of a maximum.
 * @param {Figure} figure
 * @param {Fraction} margin
 * @returns {Setting}
 * @throws {NotAnAngle} the figure is not set by the timing light
 * @throws {MarginTooWide} the margin is more than the catalogue allows, or the figure takes none
 */
export function setting(figure, margin) {
  const { kind } = figure;
  const isLimit = isMaximum(kind);
  const [value, crank] = angleOf(figure);
  const [low = null, high = null] = [value.low, value.high].map((end) => inDegrees(value, crank, end));
  requireMargin(kind, margin);
  const limit = low === null && isLimit; // printed as "at most": a limit, nothing is too late
  if (high === null || !(limit || low?.equals(high))) return inWindow(low, high, kind, margin);
  const step = crank ? Fraction.of(stepDegrees(value, crank)) : value.step;
  const half = limit ? ZERO : step.times(HALF).most(READABLE);
  const remarks = isLimit ? ["a single printed maximum is a limit: never set it earlier"] : [];
  if (margin.sign()) remarks.push(`${plain(margin)}° of margin to the late side is your choice, not the book's`);
  const ends = { low, high, late: half.plus(margin), early: isLimit ? ZERO : half };
  return { ...ends, target: high.minus(margin), margin, lone: true, isLimit, remarks };
}

/** @param {Figure} figure @returns {[Quantity, Crank | null]} */
function angleOf({ value: typed, label, family, printed, engine }) {
  const what = `${label.toLowerCase()} of ${family} is ${printed}`;
  const sided = typed && [...SIDES, "from"].some((key) => key in typed);
  const value = sided ? readQuantity(typed) : null;
  if (!value) throw new NotAnAngle(`${what}: not set by the timing light`);
  if (value.unit === DEGREE_OF_CRANK) return [value, null];
  const crank = crankOf(engine);
  if (crank) return [value, crank];
  throw new NotAnAngle(`${what}, and its file does not state stroke and rod: set it by the depth gauge`);
}

/** @param {Quantity} value @param {Crank | null} crank @param {Fraction | null} end */
function inDegrees(value, crank, end) {
  if (!crank || !end) return end;
  const depth = convert(end.size(), value.unit, PISTON_MM).toNumber();
  const angle = Fraction.of(crankDegrees(depth, crank.throwLength, crank.rod));
  return roundToStep(end.sign() < 0 ? angle.negative() : angle, FINEST);
}

/** @param {Quantity} value @param {Crank} crank */
function stepDegrees(value, crank) {
  const ends = [value.low, value.high].flatMap((end) => (end ? [end.size()] : []));
  const [depth, step] = [ends.reduce((one, other) => one.least(other)), value.step].map((size) =>
    convert(size, value.unit, PISTON_MM).toNumber(),
  );
  return degreesPerLength(Math.max(depth ?? 0, step ?? 0), crank.throwLength, crank.rod) * (step ?? 0);
}

/**
 * @param {Fraction | null} low
 * @param {Fraction | null} high
 * @param {Document} kind
 * @param {Fraction} margin
 * @returns {Setting}
 */
function inWindow(low, high, kind, margin) {
  const ends = { low, high, late: ZERO, early: ZERO };
  const bare = { ...ends, target: null, margin: ZERO, lone: false, isLimit: isMaximum(kind) };
  if (!low || !high) return { ...bare, remarks: ["a bound, not a window: there is no single target"] };
  /** @type {Map<string, Fraction>} */
  const starts = new Map([
    [AimPoint.EARLY_END, high],
    [AimPoint.MIDDLE, low.plus(high).times(HALF)],
    [AimPoint.LATE_END, low],
  ]);
  const start = starts.get(kind["aim"]);
  if (!start) return { ...bare, remarks: ["the catalogue does not say where in its window to aim"] };
  const kept = margin.least(start.minus(low));
  if (kept.equals(margin)) return { ...bare, target: start.minus(kept), margin: kept, remarks: [] };
  const remark = kept.sign()
    ? "the margin stops at the printed window's late end"
    : "the target is the printed window's late end, which leaves no room for a margin";
  return { ...bare, target: low, margin: kept, remarks: [remark] };
}

/**
 * The largest margin to the late side, in degrees; 0 if the figure takes none.
 * @param {Document} kind
 */
export function marginLimit(kind) {
  return kind["margin_limit"] ? readNumber(kind["margin_limit"].deg).value : ZERO;
}

/** @param {Document} kind @param {Fraction} margin */
function requireMargin(kind, margin) {
  const limit = marginLimit(kind);
  if (margin.sign() && !limit.sign()) {
    throw new MarginTooWide(`${kind["label"].toLowerCase()} takes no margin: it is set in the middle of its window`);
  }
  if (margin.sign() < 0 || margin.above(limit)) {
    throw new MarginTooWide(`a margin of ${plain(margin)} degrees is too wide; it may be 0 to ${plain(limit)} degrees`);
  }
}

/**
 * The target as shown by a pointer that reads `pointer` at true top dead centre: rounded toward late, to half a degree,
 * or finer if that would leave the window on its late side, or take more than half of the way there where neither side
 * is the safe one, else to the next step inside.
 * @param {Setting} found
 * @param {Fraction} pointer
 */
export function shownTarget(found, pointer) {
  if (!found.target) return null;
  const end = found.low?.minus(found.late);
  const latest = end && !found.isLimit ? end.plus(found.target).times(HALF) : end;
  for (const step of STEPS) {
    const rounded = indicatedTarget(found.target, pointer, ZERO, step);
    if (!latest || !rounded.minus(pointer).below(latest)) return rounded;
  }
  const exact = found.target.plus(pointer);
  const earliest = found.high?.plus(found.early);
  const inside = STEPS.slice(1).map((step) => roundToStep(exact, step, "up"));
  return inside.find((one) => !earliest || !one.minus(pointer).above(earliest)) ?? exact;
}

/**
 * The readings of the pointer for which a setting is right; the ends are rounded inward, to at most a fifth of it.
 * @param {Setting} found
 * @param {Fraction} pointer
 */
export function allowedWindow(found, pointer) {
  if (!found.low || !found.high) return null;
  const low = found.low.minus(found.late).plus(pointer);
  const high = found.high.plus(found.early).plus(pointer);
  const fits = (/** @type {Fraction} */ step) => !Fraction.of(5).times(step).above(high.minus(low));
  const step = STEPS.slice(1).find(fits) ?? new Fraction(1n, 1000n);
  const [later, earlier] = [roundToStep(low, step, "up"), roundToStep(high, step, "down")];
  return later.above(earlier) ? plainAngle(high) : plainAngle(later, earlier);
}

/**
 * The target for the depth gauge, which does not depend on the pointer: in the printed unit, or in hundredths of a
 * millimetre, rounded toward late.
 * @param {Figure} figure
 * @param {Fraction | null} target
 */
export function byDepthGauge({ engine, value: typed }, target) {
  const crank = crankOf(engine);
  if (!crank || !target) return null;
  const printed = typed ? readQuantity(typed) : null;
  const asPrinted = printed?.unit.dimension === "piston-position" ? printed : null;
  const [unit, step] = asPrinted ? [asPrinted.unit, asPrinted.step] : [PISTON_MM, new Fraction(1n, 100n)];
  const below = Fraction.of(pistonPosition(target.size().toNumber(), crank.throwLength, crank.rod));
  const depth = convert(below, PISTON_MM, unit);
  const position = roundToStep(target.sign() < 0 ? depth.negative() : depth, new Fraction(1n, 1000000n));
  return signedQuantity(unit, position, position, step, "down");
}
