/** The next turn of an adjusting screw from the readings so far: how far, which way, and from which side. */

import { aim } from "../../book/aim.js";
import { fitLine, lineAt } from "../../calc/readings.js";
import { nextTurn } from "../../calc/screw.js";
import { QuantityError, ReadingsContradict } from "../../errors.js";
import { Fraction, floorDivide, HALF, ONE, ZERO } from "../../quantity/fraction.js";
import { roundToStep } from "../../quantity/number.js";
import { plain } from "../../quantity/spoken.js";
import { FALSE_LATE_IN_SHORT, SafestEnd, TurningIn } from "../../vocabulary.js";
import { step } from "../../working.js";
import { atField } from "./field-error.js";
import { typedFigure } from "./typed-figure.js";
import { angle, degreesOf, exactly, originOf, READ, TYPED } from "./wording.js";

const EIGHTH = new Fraction(1n, 8n);
const FINEST = new Fraction(1n, 64n);
const MOST_MOVE = 0.5; // degrees by which the smallest fraction named may move the reading
const FAR = Fraction.of(3); // turns after which it is read again, and twice what the readings cover
const READABLE = HALF; // degrees that an eye can read
const FORMULA = "(target - the line's reading at no turns) / slope - the screw's present position";
const FORMULA_LATE =
  "(target - the earliest reading here) / slope; half of it toward earlier, until one degree is left";
const AGREE = ONE; // degrees by which readings at one place may differ

const EARLIER = `before it is made earlier, see that it is not a false late reading: ${FALSE_LATE_IN_SHORT}; and read it twice`;

/** @typedef {import("../../working.js").Step} Step */
/** @typedef {readonly [Fraction, Fraction]} ScrewReading turns in, and signed degrees read */
/**
 * @typedef {import("./typed-figure.js").FigureInputs & {target: Fraction | null,
 *   readings: readonly ScrewReading[]}} NextTurnInputs readings in the order taken
 */

/**
 * The target: signed degrees as the pointer shows them, the source, the steps and remarks. With `late` the reading must not
 * come out early, as for a maximum: the turn is rounded late, and never goes past the target on its early side.
 * @typedef {{shown: Fraction, source: string, late: boolean, steps: readonly Step[], remarks: readonly string[]}} ScrewTarget
 */

/**
 * The screw; `sign` is the direction in which turning it in moves the reading: +1 earlier, 0 unknown.
 * @typedef {{part: string, sign: number, inputs: [string, string, string][], locknut: boolean}} AdjustingScrew
 */

/**
 * @param {NextTurnInputs} given
 * @returns {import("./wording.js").Worked}
 */
export function work(given) {
  const { readings } = given;
  const target = targetOf(given);
  const screw = screwOf(given);
  const [first] = readings;
  if (!first) throw atField("readings", new QuantityError("type at least one reading, with 0 turns"));
  const cautions = [
    "stop the engine before a hand goes near the screw, and keep sleeves and hair away from the open flywheel",
  ];
  if (target.late)
    cautions.push("a maximum set too early detonates under load and holes a piston: stay on the late side of it");
  return {
    ...(readings.every(([turns]) => turns.equals(first[0]))
      ? firstTrial(readings, target, screw)
      : fromReadings(readings, target, screw)),
    cautions,
  };
}

/** @param {NextTurnInputs} given @returns {ScrewTarget} */
function targetOf(given) {
  const { target, printed, held } = given;
  if (target && printed && !held?.figure) {
    throw atField(
      "target",
      new QuantityError("type the target, or the printed figure that it comes of: one of the two"),
    );
  }
  if (target)
    return {
      shown: target,
      source: TYPED,
      late: given.kinds[given.kind].safest_end === SafestEnd.LATER,
      steps: [],
      remarks: [],
    };
  if (!printed && !held?.figure)
    throw atField("target", new QuantityError("type the target, or the printed figure that it comes of"));
  const { figure, correction } = typedFigure(given);
  const found = aim(figure, { margin: given.margin ?? ZERO, deadCentre: given.dead_centre, correction });
  return {
    shown: found.show.nominal ?? ZERO,
    source: `${figure.label.toLowerCase()} of ${figure.family}`,
    late: figure.kind["safest_end"] === SafestEnd.LATER,
    steps: found.steps.filter(({ name }) => !name.startsWith("when running")),
    remarks: found.remarks,
  };
}

/** @param {NextTurnInputs} given @returns {AdjustingScrew} */
function screwOf({ part, turning_in: works, pitch, locknut, origins }) {
  /** @type {[string, string, string][]} */
  const inputs = [];
  if (works) inputs.push(["turning in makes it", works, originOf(origins, "turning_in")]);
  if (pitch) inputs.push(["pitch of the screw", `${pitch.text} ${pitch.unit.key}`, originOf(origins, "pitch")]);
  const sign = works === TurningIn.EARLIER ? 1 : works === TurningIn.LATER ? -1 : 0;
  return { part: part ? `the ${part}` : "the screw", sign, inputs, locknut: locknut !== "false" };
}

/** @typedef {Omit<import("./wording.js").Worked, "cautions">} TurnAnswer */

/** @param {readonly ScrewReading[]} readings @param {ScrewTarget} target @param {AdjustingScrew} screw @returns {TurnAnswer} */
function fromReadings(readings, target, screw) {
  const { late, shown } = target;
  const now = readsNow(readings, target);
  const points = readings.map(
    ([turns, reading]) => /** @type {[number, number]} */ ([turns.toNumber(), reading.toNumber()]),
  );
  const found = nextTurn(points, shown.toNumber(), screw.sign);
  const line = fitLine(points);
  const finest = stepFor(found.slope);
  const [stands = ZERO] = readings.at(-1) ?? [];
  const wanted = turnsTo(found, now, target, finest);
  const { earlier, halfway } = wanted;
  const reach = reachOf(readings, finest);
  const isFar = wanted.turns.size().above(reach);
  const turns = isFar ? (wanted.turns.sign() > 0 ? reach : reach.negative()) : wanted.turns;
  const turnsBack = found.fromOneSide === (turns.sign() > 0 === found.turns > 0);
  const comeBack = turns.sign() !== 0 && turnsBack && !isFar && !(late && earlier); // a maximum is never passed early
  const after = late ? now.toNumber() + found.slope * turns.toNumber() : lineAt(line, stands.plus(turns).toNumber());
  const part = finest.equals(Fraction.of(1)) ? "1 turn" : `1/${finest.bottom} turn`;
  const [answer, remarks] = [/** @type {string[]} */ ([]), [...target.remarks]];
  if (!turns.sign()) {
    answer.push(`on target, leave it: it reads ${angle(now)}, the target is ${angle(shown)}`);
  } else {
    answer.push(`turn ${screw.part} ${turnsWords(turns)} ${way(turns)}`, `that is ${clock(turns)}`);
    if (comeBack) {
      const past = turnsWords(turns.size().plus(HALF));
      answer.push(`backlash: go ${past} ${way(turns)}, then come back 1/2 turn ${way(turns.negative())}`);
    }
    answer.push(`it should then read about ${angle(after, 1)}; the target is ${angle(shown)}`);
    remarks.push("in is clockwise on a right-hand thread; always approach the target from the same side");
  }
  if (halfway) answer.push("half the way first: what a turn does is known by a screw with play, and may be more");
  if (isFar) answer.push("that far only, then read again: what a turn does is known from little");
  remarks.push(
    `${screw.locknut ? "tighten the lock nut, then read again" : "read again after the last touch"}: only that reading counts as left`,
  );
  if (!turns.sign()) remarks.push(`the rest is less than ${part}${late ? " and on the safe side" : ""}: leave it`);
  if (late && earlier) remarks.push(EARLIER);
  if (Math.abs(now.toNumber() - lineAt(line, stands.toNumber())) > 1) {
    remarks.push("the last reading is more than a degree off the line through all of them: read it again");
  }
  const steps = [
    ...target.steps,
    step(
      "what a turn does",
      "slope of the least-squares line through the readings",
      readingInputs(readings),
      `${degreesOf(Math.abs(found.slope))} ${found.slope > 0 ? "earlier" : "later"} for each turn in`,
    ),
    step(
      "next turn",
      late ? FORMULA_LATE : FORMULA,
      [["target", angle(shown), target.source], ["the screw is at", settingWords(stands), READ], ...screw.inputs],
      turns.sign() ? `${turnsWords(turns)} ${way(turns)}` : "no turn",
      `to ${part}, ${late ? "so that the reading comes out late" : "to the nearest"}` +
        (isFar ? ", and no more than twice what the readings cover" : ""),
    ),
  ];
  return { big: turns.sign() ? `${turnsWords(turns)} ${way(turns)}` : "leave it", answer, steps, remarks };
}

/** @param {readonly ScrewReading[]} readings @returns {[string, string, string][]} */
const readingInputs = (readings) =>
  readings.map(([setting, reading]) => [`reading at ${settingWords(setting)}`, angle(reading), READ]);

/**
 * What it reads where the screw stands: the last reading; of a maximum the earliest of those in a row there.
 * @param {readonly ScrewReading[]} readings
 * @param {{late: boolean}} target
 * @throws {ReadingsContradict} those in a row there differ by more than a degree
 */
export function readsNow(readings, { late }) {
  const [stands = ZERO] = readings.at(-1) ?? [];
  const before = readings.findLastIndex(([turns]) => !turns.equals(stands));
  const here = readings.slice(before + 1).map(([, reading]) => reading);
  const [last = ZERO, ...others] = here.reverse();
  const [latest, earliest] = [
    others.reduce((one, other) => one.least(other), last),
    others.reduce((one, other) => one.most(other), last),
  ];
  if (earliest.minus(latest).above(AGREE)) {
    throw new ReadingsContradict(
      "the readings at one place differ by more than a degree: is something loose, or did your eye move? Read it again",
    );
  }
  return late ? earliest : last;
}

/**
 * How many turns may be advised at once: what a turn does, known from little, may be much more.
 * @param {readonly ScrewReading[]} readings
 * @param {Fraction} finest
 */
function reachOf(readings, finest) {
  const places = readings.map(([turns]) => turns);
  const [least = ZERO, most = ZERO] = [
    places.reduce((one, other) => one.least(other)),
    places.reduce((one, other) => one.most(other)),
  ];
  const covered = most.minus(least);
  return finest.most(roundToStep(FAR.least(covered.plus(covered)), finest, "down"));
}

/**
 * Whether a reading is on target; of a maximum also on its safe side by no more than an eye can read.
 * @param {Fraction} now
 * @param {ScrewTarget} target
 */
const isReached = (now, { late, shown }) =>
  now.equals(shown) || (late && now.below(shown) && !shown.minus(now).above(READABLE));

/**
 * The turns to the target by the line; of a maximum by its reading, and toward earlier half the way while more than a
 * degree is left.
 * @param {import("../../calc/screw.js").NextTurn} found
 * @param {Fraction} now
 * @param {ScrewTarget} target
 * @param {Fraction} finest
 * @returns {{turns: Fraction, earlier: boolean, halfway: boolean}}
 */
function turnsTo(found, now, target, finest) {
  const { late, shown } = target;
  const toward = !late ? "nearest" : found.slope > 0 ? "down" : "up";
  const whole = exactly(late ? shown.minus(now).toNumber() / found.slope : found.turns);
  const turns = isReached(now, target) ? ZERO : roundToStep(whole, finest, toward);
  const earlier = turns.sign() !== 0 && turns.sign() > 0 === found.slope > 0;
  const halfway = late && earlier && shown.minus(now).above(AGREE);
  if (!halfway) return { turns, earlier, halfway };
  return { turns: roundToStep(turns.times(HALF), finest, turns.sign() > 0 ? "down" : "up"), earlier, halfway };
}

/**
 * The first turn, which shows what a turn does; of a maximum it goes later, wherever that is known.
 * @param {readonly ScrewReading[]} readings
 * @param {ScrewTarget} target
 * @param {AdjustingScrew} screw
 * @returns {TurnAnswer}
 */
function firstTrial(readings, target, screw) {
  const { late, shown, source, steps, remarks: said } = target;
  const now = readsNow(readings, target);
  const wanted = isReached(now, target) ? 0 : shown.compare(now);
  const safely = late && wanted > 0;
  const goes = way(Fraction.of((late ? -1 : wanted) * screw.sign || 1));
  const remarks = [...said, "readings at one place do not show what a turn does; at two they do"];
  if (wanted && !screw.sign) {
    remarks.push("which way this screw works is not known: if the reading goes the wrong way, turn it the other way");
  }
  if (safely) remarks.push(EARLIER);
  const answer = wanted
    ? [
        `turn ${screw.part} 1/2 turn ${goes}, read again, and give both readings`,
        `it reads ${angle(now)}; the target is ${angle(shown)}, ${wanted > 0 ? "earlier" : "later"}`,
      ]
    : ["on target, leave it", `the target is ${angle(shown)}`];
  if (safely && screw.sign) {
    answer.push("this first turn goes later, on the safe side, only to learn what a turn does");
  }
  const trial = step(
    "first trial",
    "half a turn, to learn what a turn does",
    [["target", angle(shown), source], ...readingInputs(readings), ...screw.inputs],
    wanted ? `1/2 turn ${goes}` : "no turn",
  );
  return { big: wanted ? `1/2 turn ${goes}` : "leave it", answer, steps: [...steps, trial], remarks };
}

/**
 * The smallest fraction of a turn that is named: an eighth, or finer if that moves the reading far.
 * @param {number} slope
 */
function stepFor(slope) {
  let step = EIGHTH;
  while (Math.abs(slope) * step.toNumber() > MOST_MOVE && step.above(FINEST)) step = step.times(HALF);
  return step;
}

/** @param {Fraction} turns */
const way = (turns) => (turns.sign() > 0 ? "in" : "out");

/** @param {Fraction} turns */
const settingWords = (turns) => (turns.sign() ? `${turnsWords(turns)} ${way(turns)}` : "the start");

/** A number of turns as a fraction, without its direction: `1 1/4 turns`. @param {Fraction} turns */
function turnsWords(turns) {
  const [whole, part] = wholeAndPart(turns);
  if (part.bottom > 64n) return `${plain(turns)} turns`;
  const words = [...(whole ? [`${whole}`] : []), ...(part.sign() ? [`${part}`] : [])].join(" ") || "0";
  return `${words} turn${turns.size().above(Fraction.of(1)) ? "s" : ""}`;
}

/** Turns as minutes on a clock face and flats of a hexagon. @param {Fraction} turns */
function clock(turns) {
  const [whole, part] = wholeAndPart(turns);
  const words = whole ? [`${whole} whole turn${whole > 1n ? "s" : ""}`] : [];
  if (part.sign()) words.push(`${plain(part.times(Fraction.of(60)), 1)} minutes on a clock face`);
  return `${words.join(" and ")}, or ${plain(turns.times(Fraction.of(6)), 1)} flats of a hexagon`;
}

/** @param {Fraction} turns @returns {[bigint, Fraction]} */
function wholeAndPart(turns) {
  const size = turns.size();
  const whole = floorDivide(size.top, size.bottom);
  return [whole, size.minus(whole ? Fraction.of(whole) : ZERO)];
}
