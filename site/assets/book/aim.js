/**
 * From a figure of the book to what the pointer should show on one engine today, and a reading judged against it: the
 * same as `kb.book.setting.aim` and `kb.book.setting.judge`, from a family's own documents.
 */

import { STOP_JOB_BEYOND } from "../calc/dead-centre.js";
import { judgeReading } from "../calc/target.js";
import { DeadCentreTooFar, NotAnAngle } from "../errors.js";
import { Fraction, NOUGHT } from "../quantity/fraction.js";
import { plainAngle, readQuantity } from "../quantity/quantity.js";
import { angleInWords, plain } from "../quantity/spoken.js";
import { TurningIn } from "../vocabulary.js";
import { onTheRim } from "./rim-position.js";
import { runningOf } from "./when-running.js";
import { allowedWindow, byDepthGauge, setting, shownTarget } from "./window.js";

/** @typedef {import("./window.js").Figure} Figure */
/** @typedef {import("./window.js").Setting} Setting */
/** @typedef {Readonly<Record<string, any>>} Document */
export const NOT_READ = "no dead-centre reading was given: the pointer is taken to be right";

/** @typedef {import("./when-running.js").Corrected} Corrected */
/** @typedef {import("./when-running.js").Step} Step */

/**
 * What is chosen and read at the engine.
 * @typedef {{margin?: Fraction, deadCentre?: Fraction | null, correction?: Corrected | undefined, rpm?: Fraction | null}} Given
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
 * @param {Given} [given]
 * @throws {DeadCentreTooFar} the pointer is out by more than 3 degrees
 * @throws {MarginTooWide} the margin is more than the catalogue allows, or the figure takes none
 * @throws {NotAnAngle} the figure is not set by the timing light, or has no one target
 */
export function aim(figure, { margin = NOUGHT, deadCentre = null, correction = undefined, rpm = null } = {}) {
  const pointer = deadCentre ?? NOUGHT;
  requireNearCentre(pointer);
  const found = setting(figure, margin);
  const show = shownTarget(found, pointer);
  if (!show) {
    const what = `${figure.label.toLowerCase()} of ${figure.family} is ${figure.printed}`;
    throw new NotAnAngle(`${what}: ${found.remarks[0]}`);
  }
  const angle = show.minus(pointer);
  const running = runningOf(figure, angle, correction, rpm);
  return {
    show: plainAngle(show),
    window: allowedWindow(found, pointer),
    deadCentre,
    margin: found.margin,
    rim: onTheRim(figure.flywheel ?? {}, show, angle),
    piston: byDepthGauge(figure, found.target),
    running: running.words,
    steps: [...(figure.working ?? []), targetStep(figure, found, deadCentre, show), ...running.steps],
    remarks: [...(figure.remarks ?? []), ...found.remarks, ...(deadCentre ? [] : [NOT_READ])],
  };
}

/**
 * @param {Figure} figure
 * @param {Setting} found
 * @param {Fraction | null} deadCentre
 * @param {Fraction} show
 * @returns {Step}
 */
function targetStep(figure, found, deadCentre, show) {
  const target = found.target ?? NOUGHT;
  const start = target.plus(found.margin);
  const inputs = [figureInput(figure)];
  const aimedAt = (/** @type {string} */ source) =>
    inputs.push({ name: "aimed at", value: angleInWords(start), source });
  if (!found.lone) {
    if (found.high?.equals(start)) aimedAt("the early end");
    else if (found.low?.equals(start)) aimedAt("the late end");
    else aimedAt("the middle of the window");
  } else if (!readQuantity(figure.value ?? {}).high?.equals(start)) {
    aimedAt("through stroke and rod");
  }
  inputs.push(pointerInput(deadCentre));
  if (found.margin.sign()) {
    inputs.push({ name: "margin to the late side", value: `${plain(found.margin)}°`, source: "the mechanic's choice" });
  }
  return {
    name: "what the pointer should show",
    formula: `figure + dead-centre reading${found.margin.sign() ? " - margin" : ""}`,
    inputs,
    result: `${plainAngle(show)}`,
    rounding: target.plus(deadCentre ?? NOUGHT).equals(show) ? "" : "toward late",
  };
}

/** @param {Figure} figure */
const figureInput = ({ label, state, printed, working, cited }) => ({
  name: `${label.toLowerCase()}, ${state}`,
  value: printed,
  source: working?.length ? "worked out above" : (cited ?? ""),
});

/** The dead-centre reading as an input of a working. @param {Fraction | null} deadCentre */
export function pointerInput(deadCentre) {
  if (!deadCentre) return { name: "dead-centre reading", value: "0", source: "not given, taken as right" };
  return { name: "dead-centre reading", value: angleInWords(deadCentre), source: "this engine, this job" };
}

/**
 * What a true cranking angle will be when running, in words; empty for what is never corrected.
 * @param {Figure} figure
 * @param {Fraction} angle signed degrees
 * @param {Corrected | undefined} correction
 */
export const whenRunning = (figure, angle, correction) => runningOf(figure, angle, correction).words;

/**
 * A reading of the pointer held against a figure: inside, or how far out, early or late, and which way to turn.
 * @param {Figure} figure
 * @param {Fraction} reading signed degrees, before top dead centre positive
 * @param {Given} [given]
 * @throws {DeadCentreTooFar | MarginTooWide | NotAnAngle} as `aim`
 */
export function judge(
  figure,
  reading,
  { margin = NOUGHT, deadCentre = null, correction = undefined, rpm = null } = {},
) {
  const pointer = deadCentre ?? NOUGHT;
  requireNearCentre(pointer);
  const found = setting(figure, margin);
  const angle = reading.minus(pointer);
  const verdict = judgeReading(angle, found.low, found.high, found.late, found.early);
  const running = runningOf(figure, angle, correction, rpm);
  const would = verdict.off === "inside" ? "" : String(figure.kind[`if_${verdict.off}`] ?? "");
  return {
    verdict,
    words: verdictWords(verdict),
    angle,
    window: allowedWindow(found, pointer),
    would,
    turn: turnOf(figure.adjusters?.[figure.figure], verdict.off),
    allowed: allowedWords(found),
    running: running.words,
    steps: [...(figure.working ?? []), ...judgedSteps(figure, reading, deadCentre, found, verdict), ...running.steps],
    remarks: [...(figure.remarks ?? []), ...(deadCentre ? [] : [NOT_READ])],
  };
}

/**
 * @param {Figure} figure
 * @param {Fraction} reading
 * @param {Fraction | null} deadCentre
 * @param {Setting} found
 * @param {import("../calc/target.js").Verdict} verdict
 * @returns {Step[]}
 */
function judgedSteps(figure, reading, deadCentre, found, verdict) {
  const angle = angleInWords(reading.minus(deadCentre ?? NOUGHT));
  const allowed = `${plain(found.late)}° late, ${plain(found.early)}° early`;
  return [
    {
      name: "true angle",
      formula: "reading - dead-centre reading",
      result: angle,
      rounding: "",
      inputs: [{ name: "reading", value: angleInWords(reading), source: "this engine" }, pointerInput(deadCentre)],
    },
    {
      name: "verdict",
      formula: "true angle held against the figure",
      result: verdictWords(verdict),
      rounding: "",
      inputs: [
        { name: "true angle", value: angle, source: "" },
        figureInput(figure),
        { name: "allowed beyond it", value: allowed, source: "" },
      ],
    },
  ];
}

/** @param {import("../calc/target.js").Verdict} verdict */
function verdictWords({ off, degrees }) {
  if (off === "inside") return off;
  const number = degrees.below(new Fraction(1n, 1000n)) ? "less than 0.001" : plain(degrees);
  const side = off === "early" ? "early (advanced)" : "late (retarded)";
  return `${number} degree${number === "1" ? "" : "s"} ${side}`;
}

/**
 * What is allowed beyond the printed figure, and why; empty for a window, whose ends are the limits.
 * @param {Setting} found
 */
function allowedWords(found) {
  if (!found.lone) return "";
  if (!found.low) return "it is printed as a limit: nothing is too late, nothing is allowed on the early side";
  const chosen = found.margin.sign() ? ` and the ${plain(found.margin)}° of margin that you chose` : "";
  const early = found.early.sign() ? `${plain(found.early)}°` : "nothing";
  const late = `a lone number: ${plain(found.late)}° on the late side`;
  return `${late}, which is what its last digit leaves open or an eye can read${chosen}; ${early} on the early side`;
}

/**
 * Which way to turn, where the family says what turning in does.
 * @param {Document | undefined} adjuster
 * @param {string} off
 */
function turnOf(adjuster, off) {
  if (off === "inside") return "";
  const wanted = off === "early" ? TurningIn.LATER : TurningIn.EARLIER;
  if (!adjuster) return `make it ${wanted}; its file does not say at which screw`;
  const { part, turning_in: effect, locknut } = adjuster;
  if (effect !== TurningIn.EARLIER && effect !== TurningIn.LATER) {
    return `make it ${wanted} at the ${part}; which way is not known: turn it a little and read again`;
  }
  const lock = locknut === "true" ? "; the reading after the lock nut is tight is the one that counts" : "";
  return `make it ${wanted}: turn the ${part} ${effect === wanted ? "in" : "out"}${lock}`;
}
