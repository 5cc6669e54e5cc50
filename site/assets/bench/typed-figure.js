/** A figure that was typed at the bench, in the shape in which the book has one. */

import { QuantityError } from "../errors.js";
import { Fraction } from "../quantity/fraction.js";
import { plainAngle } from "../quantity/quantity.js";

/** @typedef {import("./said.js").Size} Size */

/**
 * What the page printed: a maximum (a limit that is never set earlier, aimed at by its early end) or another setting
 * (aimed at the middle of its window).
 * @param {{kind: string, printed: Fraction, other_end: Fraction | null, diameter?: Size | null}} given
 * @returns {import("../book/setting.js").Figure}
 */
export function typedFigure({ kind, printed, other_end: otherEnd, diameter = null }) {
  const maximum = kind === "maximum";
  if (otherEnd?.equals(printed)) throw new QuantityError("both ends are the same: leave the other end empty");
  const [low, high] = otherEnd ? [printed.least(otherEnd), printed.most(otherEnd)] : [printed, printed];
  const label = maximum ? "maximum spark advance" : "setting";
  return {
    figure: "typed",
    label,
    family: "this engine",
    state: "",
    printed: plainAngle(low, high).toString(),
    value: otherEnd ? { from: typedEnd(high), to: typedEnd(low) } : typedEnd(printed),
    kind: {
      label,
      safest_end: maximum ? "later" : "none",
      aim: maximum ? "early-end" : "middle",
      ...(maximum ? { margin_limit: { deg: "2" } } : {}),
      ...(maximum ? { if_early: "detonation, and a holed piston", if_late: "less power, and heat" } : {}),
    },
    flywheel: diameter ? { rim_diameter: { [diameter.unit.key]: diameter.text } } : {},
  };
}

/** @param {Fraction} degrees */
function typedEnd(degrees) {
  const shown = plainAngle(degrees, degrees, new Fraction(1n, 1000000000n));
  return { [shown.sides[0] ?? "tdc"]: shown.numbers[0]?.text ?? "0" };
}
