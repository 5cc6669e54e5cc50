/**
 * Every error that the site's arithmetic raises on purpose: the same names as in `kb.errors`, so that a refusal means
 * the same here as on the command line.
 */

/** The root of the tree. */
export class StopscrewError extends Error {
  /**
   * @param {string} message what is wrong, and what to type instead
   * @param {readonly string[]} candidates what may be meant, as text to type
   */
  constructor(message, candidates = []) {
    super(message);
    this.name = new.target.name;
    this.candidates = candidates;
  }
}

/** A value that cannot be read, converted or compared. */
export class QuantityError extends StopscrewError {}
/** Not a number by our own grammar. */
export class NumberNotPlain extends QuantityError {}
/** The first end of a window lies beyond the second. */
export class WindowInverted extends QuantityError {}
/** No such unit key. */
export class UnknownUnit extends QuantityError {}
/** Two quantities of different dimensions. */
export class UnitsNotComparable extends QuantityError {}
/** No such crank, rod, rim or piston position. */
export class GeometryImpossible extends QuantityError {}
/** Not a finite number. */
export class NotFinite extends QuantityError {}
/** Readings from which no next step follows: they contradict each other, or do not move. */
export class ReadingsContradict extends QuantityError {}

/** No answer, and why. */
export class LookUpError extends StopscrewError {}
/** No range of the family holds that serial number. */
export class SerialFitsNone extends LookUpError {}
/** No figure is published. */
export class FigureUnknown extends LookUpError {}
/** A source says that it does not state the figure. */
export class FigureNotStated extends LookUpError {}
/** A source says that the figure does not apply. */
export class FigureDoesNotApply extends LookUpError {}
/** The figure is known, but not in that state. */
export class StateNotFound extends LookUpError {}
/** The figure is known in several states. */
export class StateNeeded extends LookUpError {}
/** Nothing is known under that condition. */
export class ConditionNotFound extends LookUpError {}
/** The figure differs by a condition that was not given. */
export class ConditionNeeded extends LookUpError {}
/** The book has no order of work for a family. */
export class RoutineNotFound extends LookUpError {}
/** A job has no step of that id. */
export class StepNotFound extends LookUpError {}
/** The figure differs by serial number. */
export class SerialNeeded extends LookUpError {}
/** The figure differs by year of manufacture. */
export class YearNeeded extends LookUpError {}

/** Known, and must not be given as one number. */
export class Refusal extends StopscrewError {}
/** Originals disagree and no end is the safe one. */
export class FigureDisputed extends Refusal {}
/** Every statement of the figure was found wrong. */
export class FigureWithdrawn extends Refusal {}
/** Nothing sourced leads from one state to the other. */
export class NoCorrectionKnown extends Refusal {}
/** The pointer is out by more than 3 degrees at true top dead centre: stop and look at the flywheel first. */
export class DeadCentreTooFar extends Refusal {}
/** A margin beyond the catalogue's limit, or on a figure that takes none. */
export class MarginTooWide extends Refusal {}
/** The figure is not set by the timing light, or has no one target. */
export class NotAnAngle extends Refusal {}
/** The cylinders do not fire at even intervals, or that is unknown. */
export class OddFire extends Refusal {}
/** A value beyond the rows of a table. */
export class Extrapolation extends Refusal {}
