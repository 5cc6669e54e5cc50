/** Compression readings of all cylinders: lowest, highest, and the spread with its denominator named. */

import { apart } from "../calc/compression.js";
import { Fraction } from "../quantity/fraction.js";
import { plain } from "../quantity/spoken.js";
import { convert, unitOf } from "../quantity/unit.js";
import { listed } from "./said.js";

const [LEAST, MOST] = [60, 180];

/**
 * @param {{unit: string, readings: readonly Fraction[]}} given in order of the cylinders
 * @returns {import("./said.js").Worked}
 */
export function work({ unit: key, readings }) {
  const unit = unitOf(key);
  const found = apart(readings.map((reading) => reading.toNumber()));
  const say = (/** @type {Fraction | number} */ value) => `${plain(value, key === "bar" || key === "kgf_cm2" ? 2 : 1)} ${unit.symbol}`;
  const [least, most] = [readings.reduce((a, b) => a.least(b)), readings.reduce((a, b) => a.most(b))];
  const those = (/** @type {(reading: Fraction) => boolean} */ holds) => {
    const numbers = readings.flatMap((reading, index) => (holds(reading) ? [index + 1] : []));
    return numbers.length ? `cylinder${numbers.length > 1 ? "s" : ""} ${listed(numbers)}` : "";
  };
  const percents =
    `${plain(found.ofHighest, 1)} % of the highest, ${plain(found.ofMean, 1)} % of the mean, ` +
    `${plain(found.ofLowest, 1)} % of the lowest`;
  const ends =
    `lowest ${say(found.lowest)}, ${those((one) => one.equals(least))}; ` +
    `highest ${say(found.highest)}, ${those((one) => one.equals(most))}; mean ${say(found.mean)}`;
  const remarks = [
    "gauge, hose, throttle and battery change the number: same gauge, throttle wide open, battery charged, all plugs " +
      "out, the same number of turns for each",
    "10 to 15 % apart is the usual limit (common practice, no source): ask of what",
  ];
  const strange = those((one) => {
    const psi = convert(one, unit, unitOf("psi"));
    return psi.below(Fraction.of(LEAST)) || psi.above(Fraction.of(MOST));
  });
  if (strange) remarks.push(`${strange} outside the usual ${LEAST} to ${MOST} psi: is ${unit.symbol} the unit on the gauge?`);
  return {
    answer: [least.equals(most) ? `all cylinders read ${say(found.mean)}` : ends, `${say(most.minus(least))} apart: ${percents}`],
    steps: [{
      name: "spread",
      formula: "(highest - lowest) / highest, / mean and / lowest",
      inputs: readings.map((reading, index) => [`cylinder ${index + 1}`, say(reading)]),
      result: percents,
    }],
    remarks,
    cautions: [
      "put every plug lead on a grounded gap away from the plug holes, shut the fuel off and air the shed",
      "lever in neutral, propeller off, and nothing near the open flywheel",
    ],
  };
}
