/** What the timing light should show for a printed figure on this engine today, and where that is on the rim. */

import { aim } from "../book/aim.js";
import { NOUGHT } from "../quantity/fraction.js";
import { plain } from "../quantity/spoken.js";
import { angle } from "./said.js";
import { typedFigure } from "./typed-figure.js";

/** @typedef {import("../quantity/fraction.js").Fraction} Fraction */

export const MAXIMUM_CAUTION =
  "a maximum set too early detonates under load and holes a piston: stay on the late side of it";
export const CRANKING_CAUTION =
  "before cranking: all plugs out, every lead on a grounded gap away from the holes, fuel off, propeller off";

/**
 * @param {{kind: string, printed: Fraction, other_end: Fraction | null, margin: Fraction | null,
 *   dead_centre: Fraction | null, diameter: import("./said.js").Size | null}} given
 * @returns {import("./said.js").Worked}
 */
export function work(given) {
  const figure = typedFigure(given);
  const margin = given.margin ?? NOUGHT;
  const found = aim(figure, { margin, deadCentre: given.dead_centre });
  /** @type {[string, string][]} */
  const inputs = [["figure", figure.printed], ["dead-centre reading", given.dead_centre ? angle(given.dead_centre) : "0, taken as right"]];
  if (found.margin.sign()) inputs.push(["margin to the late side", `${plain(found.margin)}°, your choice`]);
  const answer = [`set it to ${found.show} on the light, printed ${figure.printed}`];
  if (found.window) answer.push(`right between ${found.window}`);
  if (found.rim) answer.push(`on the rim: ${found.rim.words}`);
  return {
    answer,
    steps: [{
      name: "what the pointer should show",
      formula: `figure + dead-centre reading${found.margin.sign() ? " - margin" : ""}, rounded toward late`,
      inputs,
      result: String(found.show),
    }],
    remarks: [...found.remarks, "the figure's own state holds: a cranking figure is set cranking, a running figure running"],
    cautions: given.kind === "maximum" ? [CRANKING_CAUTION, MAXIMUM_CAUTION] : [CRANKING_CAUTION],
  };
}
