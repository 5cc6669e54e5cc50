/** Where each cylinder fires on one flywheel, and what the pointer shows when another cylinder stands at its figure. */

import { wayRound } from "../../book/rim-position.js";
import { firingAngles, onMarksOfTheFirst } from "../../calc/cylinders.js";
import { arc } from "../../calc/rim.js";
import { QuantityError } from "../../errors.js";
import { Fraction } from "../../quantity/fraction.js";
import { Cycle } from "../../vocabulary.js";
import { step } from "../../working.js";
import { atField } from "./field-error.js";
import { angle, degreesOf, length, listed, millimetresOf, NEAREST, originOf, TYPED } from "./wording.js";

/** @typedef {import("../../working.js").InputEntry} InputEntry */

/**
 * @typedef {{order: string, cycle: string, even: string, figure: Fraction | null,
 *   diameter: import("./wording.js").Size | null, held?: import("./typed-figure.js").FamilyParts,
 *   origins?: import("./wording.js").Origins}} CylindersInputs
 */

const MOST = 16;

/**
 * @param {CylindersInputs} given
 * @returns {import("./wording.js").Worked}
 */
export function work({ order: typed, cycle, even, figure, diameter, held, origins }) {
  const order = orderFromOne(typed);
  if (figure?.size().above(Fraction.of(180))) {
    throw atField(
      "figure",
      new QuantityError(`${angle(figure)} is more than half a turn; write up to 180 before or after`),
    );
  }
  const four = cycle === Cycle.FOUR_STROKE;
  const evenFire = even === "true" ? true : even === "false" ? false : null;
  const places = firingAngles(order, evenFire, four);
  const words = order.join("-");
  const interval = Fraction.of(four ? 720 : 360).over(Fraction.of(order.length));
  const rounding = interval.isWhole() ? "" : NEAREST;
  const inTurn = [...order].sort((one, other) => one - other);
  const shown = new Map(
    inTurn.map((one) => [one, onMarksOfTheFirst(figure?.toNumber() ?? 0, one, order, evenFire, four)]),
  );
  const answer = order.length > 1 ? [`${words}, ${cycle}: a spark every ${degreesOf(interval)} of the crank`] : [];
  for (const cylinder of inTurn) {
    const after = places.get(cylinder) ?? 0;
    let line = `cylinder ${cylinder}: top dead centre ${after ? `${degreesOf(after)} after cylinder 1's` : "at the mark 0"}`;
    if (diameter && after) {
      const along = length(arc(after, millimetresOf(diameter)));
      line += `, ${along} along the rim from its mark, ${wayRound(held?.flywheel, "late")}`;
    }
    if (figure) line += `; at its ${angle(figure)} the pointer shows ${angle(shown.get(cylinder) ?? 0)}`;
    answer.push(line);
  }
  /** @type {InputEntry[]} */
  const inputs = [
    ["order", words, originOf(origins, "order")],
    ["cycle", cycle, originOf(origins, "cycle")],
    ["fires at even intervals", "yes", originOf(origins, even ? "even" : "order")],
  ];
  const steps = [
    step(
      "top dead centres after cylinder 1",
      `place in the order x ${four ? 720 : 360} / cylinders, whole turns subtracted`,
      inputs,
      inTurn.map((one) => `${one}: ${degreesOf(places.get(one) ?? 0)}`).join(", "),
      rounding,
    ),
  ];
  if (figure) {
    const of = /** @type {InputEntry} */ (["figure of each cylinder", angle(figure), TYPED]);
    steps.push(
      step(
        "what the pointer shows",
        "figure - degrees after cylinder 1, whole turns subtracted",
        [of, ...inputs],
        inTurn.map((one) => `${one}: ${angle(shown.get(one) ?? 0)}`).join(", "),
        rounding,
      ),
    );
  }
  return { answer, steps, remarks: remarksOn(places), cautions: [] };
}

/** The order beginning with cylinder 1, from which the marks are counted. @param {string} typed */
function orderFromOne(typed) {
  const texts = typed.split(/[^0-9]+/).filter(Boolean);
  if (!texts.length)
    throw atField("order", new QuantityError("write the cylinders in the order in which they fire, such as 1-3-2"));
  if (texts.length > MOST)
    throw atField("order", new QuantityError(`${texts.length} cylinders are too many; write such as 1-3-2`));
  const order = texts.map(Number);
  if (!order.includes(1)) {
    throw atField("order", new QuantityError(`the order ${order.join("-")} has no cylinder 1; write such as 1-3-2`));
  }
  const start = order.indexOf(1);
  return [...order.slice(start), ...order.slice(0, start)];
}

/** @param {ReadonlyMap<number, number>} places */
function remarksOn(places) {
  const remarks = ["the numbers on the flywheel are taken to count from cylinder 1's top dead centre"];
  if (places.size > 1) remarks.push("this holds only for an engine that fires at even intervals");
  for (const place of [...new Set(places.values())].sort((one, other) => one - other)) {
    const sharing = [...places].filter(([, after]) => after === place).map(([cylinder]) => cylinder);
    if (sharing.length > 1) {
      remarks.push(
        `cylinders ${listed(sharing.sort((one, other) => one - other))} fire at the same place: put the light on the lead you mean`,
      );
    }
  }
  return remarks;
}
