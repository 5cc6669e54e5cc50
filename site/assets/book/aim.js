/** From a figure to what the pointer should show on one engine today; the same as `kb.book.setting.aim`. */

import { NotAnAngle } from "../errors.js";
import { ZERO } from "../quantity/fraction.js";
import { plainAngle, readQuantity } from "../quantity/quantity.js";
import { angleInWords, plain } from "../quantity/spoken.js";
import { pointerInput, pointerRemarks, requireNearCentre } from "./pointer.js";
import { onTheRim } from "./rim-position.js";
import { runningOf } from "./when-running.js";
import { allowedWindow, byDepthGauge, setting, shownTarget } from "./window.js";

/** @typedef {import("./window.js").Figure} Figure */
/** @typedef {import("./window.js").Setting} Setting */
/** @typedef {import("../quantity/fraction.js").Fraction} Fraction */
/** @typedef {import("./when-running.js").Corrected} Corrected */
/** @typedef {import("../working.js").Step} Step */

/**
 * The margin chosen, the dead-centre reading, the correction and the speed of one engine.
 * @typedef {{margin?: Fraction, deadCentre?: Fraction | null, correction?: Corrected | undefined,
 *   rpm?: Fraction | null}} EngineOnTheStand
 */

/**
 * What the pointer should show for a figure.
 * @param {Figure} figure
 * @param {EngineOnTheStand} [given]
 * @throws {DeadCentreTooFar} the pointer is out by more than 3 degrees
 * @throws {MarginTooWide} the margin is more than the catalogue allows, or the figure takes none
 * @throws {NotAnAngle} the figure is not set by the timing light, or has no one target
 */
export function aim(figure, { margin = ZERO, deadCentre = null, correction = undefined, rpm = null } = {}) {
  const pointer = deadCentre ?? ZERO;
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
    remarks: [...(figure.remarks ?? []), ...found.remarks, ...pointerRemarks(deadCentre)],
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
  const target = found.target ?? ZERO;
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
    rounding: target.plus(deadCentre ?? ZERO).equals(show) ? "" : "toward late",
  };
}

/** @param {Figure} figure */
export const figureInput = ({ label, state, printed, working, cited }) => ({
  name: `${label.toLowerCase()}, ${state}`,
  value: printed,
  source: working?.length ? "worked out above" : (cited ?? ""),
});
