/** Where each cylinder fires on one flywheel, and what the pointer shows when another cylinder stands at its figure. */

import { firingAngles, onMarksOfTheFirst } from "../calc/cylinders.js";
import { QuantityError } from "../errors.js";
import { Fraction } from "../quantity/fraction.js";
import { angle, degreesOf, listed } from "./said.js";

const MOST = 16;

/**
 * @param {{order: string, cycle: string, even: string, figure: Fraction | null}} given
 * @returns {import("./said.js").Worked}
 */
export function work({ order: typed, cycle, even, figure }) {
  const texts = typed.split(/[^0-9]+/).filter(Boolean);
  if (!texts.length || texts.length > MOST) {
    throw new QuantityError("write the cylinders in the order in which they fire, such as 1-3-2");
  }
  const typedOrder = texts.map(Number);
  if (!typedOrder.includes(1)) {
    throw new QuantityError(`the order ${typedOrder.join("-")} has no cylinder 1; write such as 1-3-2`);
  }
  if (figure?.size().above(Fraction.of(180))) {
    throw new QuantityError(`${angle(figure)} is more than half a turn; write up to 180 before or after`);
  }
  const start = typedOrder.indexOf(1);
  const order = [...typedOrder.slice(start), ...typedOrder.slice(0, start)];
  const four = cycle === "four-stroke";
  const evenFire = even === "true" ? true : even === "false" ? false : null;
  const places = firingAngles(order, evenFire, four);
  const words = order.join("-");
  const every = degreesOf(Fraction.of(four ? 720 : 360).over(Fraction.of(order.length)));
  const answer = order.length > 1 ? [`${words}, ${cycle}: a spark every ${every} of the crank`] : [];
  for (const cylinder of [...order].sort((one, other) => one - other)) {
    const after = places.get(cylinder) ?? 0;
    const centre = `cylinder ${cylinder}: top dead centre ${after ? `${degreesOf(after)} after cylinder 1's` : "at the mark 0"}`;
    const shown = figure && onMarksOfTheFirst(figure.toNumber(), cylinder, order, evenFire, four);
    answer.push(figure && shown !== null ? `${centre}; at its ${angle(figure)} the pointer shows ${angle(shown)}` : centre);
  }
  const remarks = ["the numbers on the flywheel are taken to count from cylinder 1's top dead centre"];
  if (order.length > 1) remarks.push("this holds only for an engine that fires at even distances");
  for (const place of [...new Set(places.values())].sort((one, other) => one - other)) {
    const sharing = [...places].filter(([, at]) => at === place).map(([cylinder]) => cylinder);
    if (sharing.length > 1) {
      remarks.push(`cylinders ${listed(sharing.sort((one, other) => one - other))} share one place: put the light on the lead you mean`);
    }
  }
  return {
    answer,
    steps: [{
      name: "top dead centres after cylinder 1",
      formula: `place in the order x ${four ? 720 : 360} / cylinders, whole turns taken off`,
      inputs: [["order", words], ["cycle", cycle], ["fires at even distances", "yes"]],
      result: [...places].sort(([one], [other]) => one - other).map(([cylinder, at]) => `${cylinder}: ${degreesOf(at)}`).join(", "),
    }],
    remarks,
    cautions: [],
  };
}
