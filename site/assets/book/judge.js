/** A reading against a figure: inside, or how far out, early or late; the same as `kb.book.setting.judge`. */

import { judgeReading } from "../calc/target.js";
import { ZERO } from "../quantity/fraction.js";
import { angleInWords, plain } from "../quantity/spoken.js";
import { FALSE_LATE_IN_SHORT, TurningIn } from "../vocabulary.js";
import { figureInput } from "./aim.js";
import { pointerInput, pointerRemarks, requireNearCentre } from "./pointer.js";
import { maximumWords, verdictWords } from "./verdict-words.js";
import { runningOf } from "./when-running.js";
import { allowedWindow, setting } from "./window.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./window.js").Figure} Figure */
/** @typedef {import("./window.js").Setting} Setting */
/** @typedef {import("../working.js").Step} Step */
/** @typedef {import("../quantity/fraction.js").Fraction} Fraction */

/**
 * Judge a reading of the pointer against a figure: inside, or how far out, early or late, and which way to turn.
 * @param {Figure} figure
 * @param {Fraction} reading signed degrees, before top dead centre positive
 * @param {import("./aim.js").EngineOnTheStand} [given]
 * @throws {DeadCentreTooFar | MarginTooWide | NotAnAngle} as `aim`
 */
export function judge(figure, reading, { margin = ZERO, deadCentre = null, correction = undefined, rpm = null } = {}) {
  const pointer = deadCentre ?? ZERO;
  requireNearCentre(pointer);
  const found = setting(figure, margin);
  const angle = reading.minus(pointer);
  const verdict = judgeReading(angle, found.low, found.high, found.late, found.early);
  const running = runningOf(figure, angle, correction, rpm);
  const words = found.isLimit ? maximumWords(verdict, found, angle, pointer) : verdictWords(verdict);
  const would = verdict.off === "inside" ? "" : String(figure.kind[`if_${verdict.off}`] ?? "");
  return {
    verdict,
    words,
    angle,
    window: allowedWindow(found, pointer),
    would,
    turn: turnOf(figure.adjusters?.[figure.figure], verdict.off, found.isLimit),
    allowed: allowedWords(found),
    running: running.words,
    steps: [...(figure.working ?? []), ...judgedSteps(figure, reading, deadCentre, found, words), ...running.steps],
    remarks: [...(figure.remarks ?? []), ...pointerRemarks(deadCentre)],
  };
}

/**
 * @param {Figure} figure
 * @param {Fraction} reading
 * @param {Fraction | null} deadCentre
 * @param {Setting} found
 * @param {string} words
 * @returns {Step[]}
 */
function judgedSteps(figure, reading, deadCentre, found, words) {
  const angle = angleInWords(reading.minus(deadCentre ?? ZERO));
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
      formula: "true angle compared with the figure",
      result: words,
      rounding: "",
      inputs: [
        { name: "true angle", value: angle, source: "" },
        figureInput(figure),
        { name: "allowed beyond it", value: allowed, source: "" },
      ],
    },
  ];
}

/**
 * How far beyond the printed figure is allowed, and why; empty for a window, whose ends are the limits.
 * @param {Setting} found
 */
function allowedWords(found) {
  if (!found.lone) return "";
  if (!found.low) return "it is printed as a limit: no reading is too late, and none may be earlier";
  const chosen = found.margin.sign() ? ` and the ${plain(found.margin)}° of margin that you chose` : "";
  const early = found.early.sign() ? `${plain(found.early)}°` : "nothing";
  const late = `a lone number: ${plain(found.late)}° on the late side`;
  return `${late}, for the rounding of its last digit or the reading by eye${chosen}; ${early} on the early side`;
}

/**
 * Which way to turn, if the family says what turning in does. A maximum is not made earlier on one reading, which may be
 * falsely late.
 * @param {Document | undefined} adjuster
 * @param {string} off
 * @param {boolean} isLimit
 */
function turnOf(adjuster, off, isLimit) {
  if (off === "inside") return "";
  if (isLimit && off === "late") {
    return `make nothing earlier on one reading: see to ${FALSE_LATE_IN_SHORT}; then read again`;
  }
  const wanted = off === "early" ? TurningIn.LATER : TurningIn.EARLIER;
  if (!adjuster) return `make it ${wanted}; the file does not say with which screw`;
  const { part, turning_in: effect, locknut, holes } = adjuster;
  if (holes) return `make it ${wanted}: put the ${part} into another hole, and read again`;
  if (effect !== TurningIn.EARLIER && effect !== TurningIn.LATER) {
    return `make it ${wanted} at the ${part}; direction unknown: turn it a little and read again`;
  }
  const lock = locknut === "true" ? "; the reading after the lock nut is tight is the one that counts" : "";
  return `make it ${wanted}: turn the ${part} ${effect === wanted ? "in" : "out"}${lock}`;
}
