/** The pointer of one engine: what it shows at true top dead centre, and when that stops the job. */

import { STOP_JOB_BEYOND } from "../calc/dead-centre.js";
import { DeadCentreTooFar } from "../errors.js";
import { Fraction } from "../quantity/fraction.js";
import { angleInWords } from "../quantity/spoken.js";

export const NOT_READ = "no dead-centre reading given: the pointer is assumed to be right";

/**
 * Stop the job if the pointer is out by more than 3 degrees.
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

/** The dead-centre reading as an input of a working. @param {Fraction | null} deadCentre */
export function pointerInput(deadCentre) {
  if (!deadCentre) return { name: "dead-centre reading", value: "0", source: "not given, assumed to be right" };
  return { name: "dead-centre reading", value: angleInWords(deadCentre), source: "this engine, this job" };
}

/** What is said if the pointer was not read at true top dead centre. @param {Fraction | null} deadCentre */
export const pointerRemarks = (deadCentre) => (deadCentre ? [] : [NOT_READ]);
