/**
 * From a figure of the book to what the pointer should show on one engine today, and a reading judged against it: the
 * same as `kb.book.aim` and `kb.book.judge`, from a family's own documents.
 */

import { correctionAt, runningFromCranking } from "../calc/correction.js";
import { STOP_JOB_BEYOND } from "../calc/dead-centre.js";
import { judgeReading } from "../calc/target.js";
import { DeadCentreTooFar, NotAnAngle } from "../errors.js";
import { Fraction, NOUGHT } from "../quantity/fraction.js";
import { readNumber } from "../quantity/number.js";
import { plainAngle } from "../quantity/quantity.js";
import { angleInWords, plain } from "../quantity/spoken.js";
import { onTheRim } from "./rim-place.js";
import { allowedWindow, byDepthGauge, setting, shownTarget } from "./setting.js";

/** @typedef {import("./setting.js").Figure} Figure */
/** @typedef {import("./setting.js").Setting} Setting */
/** @typedef {Readonly<Record<string, any>>} Document */

export const NOT_READ = "no dead-centre reading was given: the pointer is taken to be right";

/**
 * The correction of the same engine: its value as typed and the conditions it holds in, or why there is none.
 * @typedef {{value: Document, conditions: string} | {unknown: string}} Corrected
 */

/**
 * Stop the job when the pointer is out by more than 3 degrees.
 * @param {Fraction} pointer what it shows at true top dead centre, signed degrees
 * @throws {DeadCentreTooFar}
 */
export function requireNearCentre(pointer) {
  if (pointer.size().above(Fraction.of(STOP_JOB_BEYOND))) {
    throw new DeadCentreTooFar(
      `the pointer shows ${angleInWords(pointer)} at true top dead centre; beyond ${STOP_JOB_BEYOND} degrees stop, ` +
        "and look at the flywheel key and whether this is the right flywheel and cylinder",
    );
  }
}

/**
 * What the pointer should show for a figure.
 * @param {Figure} figure
 * @param {{margin?: Fraction, deadCentre?: Fraction | null, correction?: Corrected}} [given]
 * @throws {DeadCentreTooFar} the pointer is out by more than 3 degrees
 * @throws {MarginTooWide} the margin is more than the catalogue allows, or the figure takes none
 * @throws {NotAnAngle} the figure is not set by the timing light, or has no one target
 */
export function aim(figure, { margin = NOUGHT, deadCentre = null, correction = undefined } = {}) {
  const pointer = deadCentre ?? NOUGHT;
  requireNearCentre(pointer);
  const found = setting(figure, margin);
  const show = shownTarget(found, pointer);
  if (!show) {
    const what = `${figure.label.toLowerCase()} of ${figure.family} is ${figure.printed}`;
    throw new NotAnAngle(`${what}: ${found.remarks[0]}`);
  }
  const angle = show.minus(pointer);
  return {
    show: plainAngle(show),
    window: allowedWindow(found, pointer),
    deadCentre,
    margin: found.margin,
    rim: onTheRim(figure.flywheel ?? {}, show, angle),
    piston: byDepthGauge(figure, found.target),
    running: whenRunning(figure, angle, correction),
    remarks: [...found.remarks, ...(deadCentre ? [] : [NOT_READ])],
  };
}

/**
 * What a true cranking angle will be when running, in words; empty for all but a maximum that is read cranking, since
 * nothing else is ever corrected.
 * @param {Figure} figure
 * @param {Fraction} angle signed degrees
 * @param {Corrected | undefined} correction
 */
export function whenRunning({ figure, state }, angle, correction) {
  if (figure !== "max-advance" || state !== "cranking" || !correction) return "";
  if ("unknown" in correction) return correction.unknown;
  return pointsOf(correction.value)
    .map(([rpm, degrees]) => {
      const at = rpm ? `${plain(rpm)} rpm` : correction.conditions;
      const value = plainAngle(runningFromCranking(angle, degrees), undefined, new Fraction(1n, 10n));
      return at ? `${value} at ${at}` : `${value}`;
    })
    .join(", ");
}

/** @param {Document} value @returns {[Fraction | null, Fraction][]} */
function pointsOf(value) {
  const rows = value["by_rpm"] ?? [value];
  const points = rows.map((/** @type {Document} */ row) => {
    const [earlier, later] = [row["cranking_earlier"], row["cranking_later"]];
    const degrees = readNumber(earlier ?? later).value;
    return [row["rpm"] && value["by_rpm"] ? readNumber(row["rpm"]).value : null, earlier ? degrees : degrees.negative()];
  });
  return points.map((/** @type {[Fraction | null, Fraction]} */ [rpm]) => [rpm, correctionAt(points, rpm)]);
}

/**
 * A reading of the pointer held against a figure: inside, or how far out, early or late, and which way to turn.
 * @param {Figure} figure
 * @param {Fraction} reading signed degrees, before top dead centre positive
 * @param {{margin?: Fraction, deadCentre?: Fraction | null, correction?: Corrected}} [given]
 * @throws {DeadCentreTooFar | MarginTooWide | NotAnAngle} as `aim`
 */
export function judge(figure, reading, { margin = NOUGHT, deadCentre = null, correction = undefined } = {}) {
  const pointer = deadCentre ?? NOUGHT;
  requireNearCentre(pointer);
  const found = setting(figure, margin);
  const angle = reading.minus(pointer);
  const verdict = judgeReading(angle, found.low, found.high, found.late, found.early);
  const would = verdict.off === "inside" ? "" : String(figure.kind[`if_${verdict.off}`] ?? "");
  return {
    verdict,
    words: verdictWords(verdict),
    angle,
    window: allowedWindow(found, pointer),
    would,
    turn: turnOf(figure.adjusters?.[figure.figure], verdict.off),
    allowed: allowedWords(found),
    running: whenRunning(figure, angle, correction),
    remarks: deadCentre ? [] : [NOT_READ],
  };
}

/** @param {import("../calc/target.js").Verdict} verdict */
function verdictWords({ off, degrees }) {
  if (off === "inside") return off;
  const number = degrees.below(new Fraction(1n, 1000n)) ? "less than 0.001" : plain(degrees);
  const side = off === "early" ? "early (advanced)" : "late (retarded)";
  return `${number} degree${number === "1" ? "" : "s"} ${side}`;
}

/** What is allowed beyond the printed figure, and why; empty for a window, whose ends are the limits. @param {Setting} found */
function allowedWords(found) {
  if (!found.lone) return "";
  if (!found.low) return "it is printed as a limit: nothing is too late, nothing is allowed on the early side";
  const chosen = found.margin.sign() ? ` and the ${plain(found.margin)}° of margin that you chose` : "";
  const early = found.early.sign() ? `${plain(found.early)}°` : "nothing";
  const late = `a lone number: ${plain(found.late)}° on the late side`;
  return `${late}, which is what its last digit leaves open or an eye can read${chosen}; ${early} on the early side`;
}

/** Which way to turn, where the family says what turning in does. @param {Document | undefined} adjuster @param {string} off */
function turnOf(adjuster, off) {
  if (off === "inside") return "";
  const wanted = off === "early" ? "later" : "earlier";
  if (!adjuster) return `make it ${wanted}; its file does not say at which screw`;
  const { part, turning_in: effect, locknut } = adjuster;
  if (effect !== "earlier" && effect !== "later") {
    return `make it ${wanted} at the ${part}; which way is not known: turn it a little and read again`;
  }
  const lock = locknut === "true" ? "; the reading after the lock nut is tight is the one that counts" : "";
  return `make it ${wanted}: turn the ${part} ${effect === wanted ? "in" : "out"}${lock}`;
}
