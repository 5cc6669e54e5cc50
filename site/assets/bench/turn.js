/** The next turn of an adjusting screw from the readings so far: how far, which way, and from which side. */

import { fitLine, lineAt } from "../calc/readings.js";
import { nextTurn } from "../calc/screw.js";
import { QuantityError } from "../errors.js";
import { Fraction, HALF, NOUGHT, floorDivide } from "../quantity/fraction.js";
import { roundToStep } from "../quantity/number.js";
import { plain } from "../quantity/spoken.js";
import { angle, degreesOf, exactly } from "./said.js";

const EIGHTH = new Fraction(1n, 8n);
const FINEST = new Fraction(1n, 64n);
const MOST_MOVE = 0.5; // degrees that the smallest fraction named may move the reading
const FAR = 3; // turns beyond which one goes half way and reads again

/** @typedef {[Fraction, Fraction]} Reading turns in, and signed degrees there */

/**
 * @param {{target: Fraction, maximum: string, works: string, readings: readonly Reading[]}} given in the order taken
 * @returns {import("./said.js").Worked}
 */
export function work({ target, maximum, works, readings }) {
  const late = maximum === "yes";
  const sign = works === "earlier" ? 1 : works === "later" ? -1 : 0;
  const [first] = readings;
  if (!first) throw new QuantityError("type at least one reading");
  const cautions = ["stop the engine before a hand goes near the screw, and keep sleeves and hair away from the open flywheel"];
  if (late) cautions.push("a maximum set too early detonates under load and holes a piston: stay on the late side of it");
  if (readings.length === 1) return { ...firstTrial(first[1], target, sign), cautions };
  const points = readings.map(([turns, reading]) => /** @type {[number, number]} */ ([turns.toNumber(), reading.toNumber()]));
  const found = nextTurn(points, target.toNumber(), sign);
  const line = fitLine(points);
  const step = stepFor(found.slope);
  const toward = !late ? "nearest" : found.slope > 0 ? "down" : "up";
  const turns = roundToStep(exactly(found.turns), step, toward);
  const [stands, now] = readings.at(-1) ?? first;
  const after = lineAt(line, stands.plus(turns).toNumber());
  const part = step.equals(Fraction.of(1)) ? "1 turn" : `1/${step.bottom} turn`;
  const [answer, remarks] = [/** @type {string[]} */ ([]), /** @type {string[]} */ ([])];
  if (!turns.sign()) {
    answer.push(`leave the screw: it reads ${angle(now)}, and the target is ${angle(target)}`);
    remarks.push(`what is left is less than ${part}${late ? " and on the safe side" : ""}: leave it`);
  } else {
    answer.push(`turn the screw ${turnsWords(turns)} ${way(turns)}`, `that is ${clock(turns)}`);
    if (found.fromOneSide) {
      const past = turnsWords(turns.size().plus(HALF));
      answer.push(`backlash: go ${past} ${way(turns)}, then come back 1/2 turn ${way(turns.negative())}`);
    }
    answer.push(`it should then read about ${angle(after, 1)}; the target is ${angle(target)}`);
    remarks.push("in is clockwise on a right-hand thread; come to the target always from the same side");
  }
  remarks.push("tighten the lock nut, then read again: only that reading counts as left");
  const settings = points.map(([setting]) => setting);
  const reach = Math.max(...settings) - Math.min(...settings);
  const far = turns.size().toNumber();
  if (far > FAR || far > 2 * reach) {
    remarks.push("that is far beyond what the readings cover: go half way, read again, and give that reading too");
  }
  if (Math.abs(now.toNumber() - lineAt(line, stands.toNumber())) > 1) {
    remarks.push("the last reading lies more than a degree off the line of all: read it again");
  }
  const rounding = late ? "so that the reading comes out late" : "to the nearest";
  return {
    answer,
    steps: [
      {
        name: "what a turn does",
        formula: "slope of the line of least squares through the readings",
        inputs: readings.map(([setting, reading]) => [`reading at ${settingWords(setting)}`, angle(reading)]),
        result: `${degreesOf(Math.abs(found.slope))} ${found.slope > 0 ? "earlier" : "later"} for each turn in`,
      },
      {
        name: "next turn",
        formula: `(target - the line's reading at no turns) / slope - where the screw stands now, to ${part}, ${rounding}`,
        inputs: [["target", angle(target)], ["the screw stands at", settingWords(stands)]],
        result: turns.sign() ? `${turnsWords(turns)} ${way(turns)}` : "no turn",
      },
    ],
    remarks,
    cautions,
  };
}

/** @param {Fraction} now @param {Fraction} target @param {number} sign */
function firstTrial(now, target, sign) {
  const wanted = target.compare(now);
  const goes = way(Fraction.of(wanted * sign || 1));
  const remarks = ["one reading does not tell what a turn does; two do"];
  if (wanted && !sign) {
    remarks.push("nobody says which way this screw works: if the reading goes the wrong way, that is learned too");
  }
  const answer = wanted
    ? [`turn the screw 1/2 turn ${goes}, read again, and give both readings`, `it reads ${angle(now)}; the target is ${angle(target)}, ${wanted > 0 ? "earlier" : "later"}`]
    : ["leave the screw: it reads what it should", `the target is ${angle(target)}`];
  return {
    answer,
    steps: [{
      name: "first trial",
      formula: "half a turn, to learn what a turn does",
      inputs: /** @type {[string, string][]} */ ([["target", angle(target)], ["reading", angle(now)]]),
      result: wanted ? `1/2 turn ${goes}` : "no turn",
    }],
    remarks,
  };
}

/** The smallest fraction of a turn that is named: an eighth, or finer where that moves the reading far. @param {number} slope */
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

/** The same as minutes of a clock's hand and flats of a hexagon. @param {Fraction} turns */
function clock(turns) {
  const [whole, part] = wholeAndPart(turns);
  const words = whole ? [`${whole} whole turn${whole > 1n ? "s" : ""}`] : [];
  if (part.sign()) words.push(`${plain(part.times(Fraction.of(60)), 1)} minutes of a clock's hand`);
  return `${words.join(" and ")}, or ${plain(turns.times(Fraction.of(6)), 1)} flats of a hexagon`;
}

/** @param {Fraction} turns @returns {[bigint, Fraction]} */
function wholeAndPart(turns) {
  const size = turns.size();
  const whole = floorDivide(size.top, size.bottom);
  return [whole, size.minus(whole ? Fraction.of(whole) : NOUGHT)];
}
