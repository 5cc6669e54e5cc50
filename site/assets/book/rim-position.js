/** Where an angle lies on the rim of the flywheel: from a numbered mark, in divisions, by tape and by callipers. */

import { arc, chord, fromNearestMark } from "../calc/rim.js";
import { Fraction } from "../quantity/fraction.js";
import { readNumber, roundToStep } from "../quantity/number.js";
import { millimetres, plainAngle, Quantity, signedQuantity } from "../quantity/quantity.js";
import { plain } from "../quantity/spoken.js";
import { MILLIMETRE } from "../quantity/unit.js";
import { MarksOn, Rotation } from "../vocabulary.js";

/** @typedef {Readonly<Record<string, any>>} Document */

const OWN_MARK = "your own mark at true top dead centre";

/**
 * `degrees` to the `side` of the numbered `mark`; null if no mark has a number: then it is counted from the mechanic's
 * own mark. `turning` is the direction seen from above. `tape` and `callipers` are the distance along and across the rim,
 * if its diameter is known. `toward` is the next numbered mark on that side; where there is none `awayFrom` is the next
 * on the other.
 * @typedef {{mark: Quantity | null, side: "late" | "early", turning: string, degrees: Fraction,
 *   divisions: Fraction | null, tape: Quantity | null, callipers: Quantity | null, pastTheMarks: boolean,
 *   toward: Quantity | null, awayFrom: Quantity | null, words: string}} OnTheRim
 */

/** @param {unknown} raw @returns {string[]} */
const asList = (raw) => (Array.isArray(raw) ? raw : raw === undefined ? [] : [String(raw)]);

/**
 * Where an angle lies on the flywheel; null if it has neither numbers nor a diameter.
 * @param {Document} flywheel as typed in the family's file
 * @param {Fraction} shown as the pointer shows it, for numbered marks; signed degrees
 * @param {Fraction} angle the true one, for the mechanic's own mark
 * @returns {OnTheRim | null}
 */
export function onTheRim(flywheel, shown, angle) {
  const numbered = flywheel["numbered_marks"] ?? {};
  const marks = [
    ...asList(numbered.btdc).map((text) => readNumber(text).value),
    ...asList(numbered.atdc).map((text) => readNumber(text).value.negative()),
  ];
  const diameter = millimetres(flywheel["rim_diameter"]);
  if (!marks.length && !diameter) return null;
  const near = marks.length
    ? fromNearestMark(
        shown.toNumber(),
        marks.map((mark) => mark.toNumber()),
      )
    : null;
  const from = near ? Fraction.of(near.mark) : null;
  const beyond = from ? shown.minus(from) : angle;
  const worth = from && flywheel["division"]?.deg ? readNumber(flywheel["division"].deg).value : null;
  const side = beyond.sign() < 0 ? "late" : "early";
  const far = beyond.size();
  const size = far.toNumber();
  const [ahead, behind] = from && far.sign() ? neighbours(marks, from, side) : [null, null];
  const place = {
    mark: from && plainAngle(from),
    side: /** @type {"late" | "early"} */ (side),
    turning: turningOf(flywheel, side),
    degrees: far,
    divisions: worth?.sign() ? far.over(worth) : null,
    tape: diameter ? tenths(arc(size, diameter), side) : null,
    callipers: diameter ? tenths(chord(size, diameter), side) : null,
    pastTheMarks: near?.extrapolated ?? false,
    toward: ahead && plainAngle(ahead),
    awayFrom: ahead ? null : behind && plainAngle(behind),
  };
  return { ...place, words: wordsOf(place) };
}

/** @param {Omit<OnTheRim, "words">} place */
function wordsOf({ mark, side, turning, degrees, divisions, tape, callipers, pastTheMarks, toward, awayFrom }) {
  const from = mark ? `the mark ${mark}` : OWN_MARK;
  if (!degrees.sign()) return `at ${from}`;
  const place = countedFrom(from, side, toward, awayFrom);
  let far = `${plain(degrees)}° ${place}${turning ? ` (${turning} seen from above)` : ""}`;
  if (divisions) far = `${plain(divisions)} division${divisions.equals(Fraction.of(1)) ? "" : "s"}, ${far}`;
  const rim = tape ? `; ${tape} along the rim by tape, ${callipers} across by callipers` : "";
  return far + rim + (pastTheMarks ? "; past the last number, so counted on from it" : "");
}

/**
 * The next numbered mark on a side of a mark, and the next on its other side; null where there is none.
 * @param {readonly Fraction[]} marks
 * @param {Fraction} mark
 * @param {string} side
 * @returns {[Fraction | null, Fraction | null]}
 */
export function neighbours(marks, mark, side) {
  /** @type {Fraction | null} */
  let earlier = null;
  /** @type {Fraction | null} */
  let later = null;
  for (const one of marks) {
    if (one.above(mark) && !(earlier && one.above(earlier))) earlier = one;
    if (mark.above(one) && !later?.above(one)) later = one;
  }
  return side === "early" ? [earlier, later] : [later, earlier];
}

/**
 * From where and which way to count: toward the next number, so that nobody counts toward the other one.
 * @param {string} mark
 * @param {string} side
 * @param {unknown} toward
 * @param {unknown} awayFrom
 */
export function countedFrom(mark, side, toward, awayFrom) {
  if (toward) return `from ${mark} toward ${toward}, on its ${side} side`;
  return `on the ${side} side of ${mark}${awayFrom ? `, away from ${awayFrom}` : ""}`;
}

/**
 * The way round the rim to a side, in words; as the flywheel turns or against that where the direction, or the flywheel,
 * is not known.
 * @param {Document | undefined} flywheel
 * @param {string} side
 */
export function wayRound(flywheel, side) {
  const turning = flywheel ? turningOf(flywheel, side) : "";
  if (turning) return `${turning} seen from above`;
  const ahead = (side === "early") === (flywheel?.["marks_on"] !== MarksOn.FIXED_SCALE);
  return ahead ? "the way the flywheel turns" : "against the way the flywheel turns";
}

/**
 * The direction of a side, seen from above. On the flywheel an earlier mark lies further ahead, in the direction of
 * rotation; on a fixed scale it lies against it.
 * @param {Document} flywheel
 * @param {string} side
 */
function turningOf({ rotation, marks_on: marksOn }, side) {
  /** @type {string[]} */
  const ways = Object.values(Rotation);
  if (!ways.includes(rotation) || !Object.values(MarksOn).includes(marksOn)) return "";
  const ahead = (side === "early") === (marksOn === MarksOn.FLYWHEEL);
  return ahead ? rotation : (ways.find((way) => way !== rotation) ?? "");
}

/**
 * A distance to a tenth of a millimetre, rounded so that the timing is late.
 * @param {number} size
 * @param {string} side
 */
function tenths(size, side) {
  const value = roundToStep(Fraction.of(size), new Fraction(1n, 1000000n)); // so that the noise of floats does not change the rounding
  return signedQuantity(MILLIMETRE, value, value, new Fraction(1n, 10n), side === "late" ? "up" : "down");
}
