/** Compression readings of all cylinders: lowest, highest, the spread with its denominator named, and the book's. */

import { apart } from "../../calc/compression.js";
import { QuantityError } from "../../errors.js";
import { Fraction } from "../../quantity/fraction.js";
import { readQuantity } from "../../quantity/quantity.js";
import { plain } from "../../quantity/spoken.js";
import { convert, unitOf } from "../../quantity/unit.js";
import { State } from "../../vocabulary.js";
import { step } from "../../working.js";
import { atField } from "./field-error.js";
import { listed, NEAREST, READ, TYPED } from "./wording.js";

/** @typedef {import("./wording.js").Size} Size */
/** @typedef {import("../../quantity/quantity.js").Quantity} Quantity */

/**
 * The book's figure that the readings are compared with: its value, as printed, its condition, source and remarks.
 * @typedef {{value: Quantity, printed: string, condition: string, cited: string, remarks: readonly string[]}} BookCompression
 */

/**
 * `readings` in the order of the cylinders; `low` and `high` are the ends of the book's window as typed; `held` has a
 * family's own figure instead; `cylinders` is their number.
 * @typedef {{unit: string, readings: readonly Fraction[], low?: Size | null, high?: Size | null,
 *   held?: {compression?: BookCompression | undefined},
 *   cylinders?: Fraction | null}} CompressionInputs
 */

const [LEAST, MOST] = [60, 180];
const MOST_CYLINDERS = 16;
const GAUGE =
  "gauge, hose, throttle and battery change the number: same gauge, throttle wide open, battery charged, all plugs " +
  "out, the same number of turns for each";
const PRACTICE = "10 to 15 % apart is the usual limit (common practice, no source): check what the percentage is of";

/** @param {readonly (string | number)[]} numbers */
const cylindersWords = (numbers) => `cylinder${numbers.length > 1 ? "s" : ""} ${listed(numbers)}`;

/**
 * @param {CompressionInputs} given
 * @returns {import("./wording.js").Worked}
 */
export function work(given) {
  const { unit: key, readings } = given;
  const cylinders = given.cylinders?.toNumber() ?? 0;
  if (given.cylinders && !(given.cylinders.isWhole() && cylinders)) {
    throw atField(
      "cylinders",
      new QuantityError(`${plain(given.cylinders)} cylinders are none; type a whole number, or leave it empty`),
    );
  }
  const most = cylinders || MOST_CYLINDERS;
  if (readings.length > most) {
    const many = most === 1 ? "1 cylinder" : `${most} cylinders`;
    throw atField(
      "readings",
      new QuantityError(`${readings.length} readings, and ${many} at most: write one reading for each`),
    );
  }
  const unit = unitOf(key);
  const held = given.held?.compression ?? typedWindow(given);
  const say = (/** @type {Fraction | number} */ value) =>
    `${plain(value, key === "bar" || key === "kgf_cm2" ? 2 : 1)} ${unit.symbol}`;
  const [first] = readings;
  const alone = readings.length === 1 && held && first && first.sign() > 0;
  const { lines, steps } = alone
    ? { lines: [`${say(first)}: only one cylinder, nothing to compare it with`], steps: [] }
    : spreadOf(readings, say);
  const remarks = [GAUGE, ...(readings.length > 1 ? [PRACTICE] : [])];
  if (held) {
    const words = againstBook(
      readings.map((one) => convert(one, unit, held.value.unit)),
      held,
    );
    lines.push(words);
    const figure = /** @type {[string, string, string]} */ ([
      `compression, ${held.condition}`,
      held.printed,
      held.cited,
    ]);
    steps.push(
      step(
        "against the book",
        "each reading in the book's unit; both ends of a window count as inside",
        [figure],
        words,
      ),
    );
    remarks.push(...held.remarks);
  }
  if (cylinders && readings.length < cylinders) {
    remarks.push(`${readings.length} readings for ${cylinders} cylinders: measure the others too`);
  }
  const psi = unitOf("psi");
  const strange = numbersOf(readings, (one) => {
    const found = convert(one, unit, psi);
    return found.below(Fraction.of(LEAST)) || found.above(Fraction.of(MOST));
  });
  if (strange.length) {
    remarks.push(
      `${cylindersWords(strange)} outside the usual ${LEAST} to ${MOST} psi: is ${unit.symbol} the unit on the gauge?`,
    );
  }
  return {
    answer: lines,
    steps,
    remarks,
    cautions: [
      "put every plug lead on a grounded gap away from the plug holes, shut the fuel off and open the doors",
      "lever in neutral, propeller off, and nothing near the open flywheel",
    ],
  };
}

/** @param {CompressionInputs} given @returns {BookCompression | null} */
function typedWindow({ low, high }) {
  if (!low && !high) return null;
  if (low && high && low.unit !== high.unit)
    throw atField("high", new QuantityError("choose the same unit for both ends of the window"));
  if (low && high?.value.below(low.value)) {
    throw atField(
      "high",
      new QuantityError(`the window ends below where it begins; type the smaller number first, ${high.text}`),
    );
  }
  const { key } = /** @type {Size} */ (low ?? high).unit;
  let value = readQuantity({ [key]: low ? { at_least: low.text } : { at_most: high?.text } });
  if (low && high) value = readQuantity({ [key]: low.value.equals(high.value) ? low.text : [low.text, high.text] });
  return { value, printed: `${value}`, condition: State.CRANKING, cited: TYPED, remarks: [] };
}

/** @param {readonly Fraction[]} readings @param {(reading: Fraction) => boolean} holds */
const numbersOf = (readings, holds) => readings.flatMap((reading, index) => (holds(reading) ? [index + 1] : []));

/** @param {readonly Fraction[]} readings @param {(value: Fraction | number) => string} say */
function spreadOf(readings, say) {
  const found = apart(readings.map((reading) => reading.toNumber()));
  const [least, most] = [readings.reduce((a, b) => a.least(b)), readings.reduce((a, b) => a.most(b))];
  const [lowest, highest] = [least, most].map((end) => cylindersWords(numbersOf(readings, (one) => one.equals(end))));
  const percents =
    `${plain(found.ofHighest, 1)} % of the highest, ${plain(found.ofMean, 1)} % of the mean, ` +
    `${plain(found.ofLowest, 1)} % of the lowest`;
  const ends = `lowest ${say(found.lowest)}, ${lowest}; highest ${say(found.highest)}, ${highest}; mean ${say(found.mean)}`;
  const inputs = readings.map(
    (one, index) => /** @type {[string, string, string]} */ ([`cylinder ${index + 1}`, say(one), READ]),
  );
  return {
    lines: [
      least.equals(most) ? `all cylinders read ${say(found.mean)}` : ends,
      `${say(most.minus(least))} apart: ${percents}`,
    ],
    steps: [step("spread", "(highest - lowest) / highest, / mean and / lowest", inputs, percents, NEAREST)],
  };
}

/**
 * Which cylinders lie outside the book's figure.
 * @param {readonly Fraction[]} readings in its unit
 * @param {BookCompression} held
 */
function againstBook(readings, { value, printed }) {
  const { low, high } = value;
  if (low && high && low.equals(high)) {
    return `the book says ${printed}: a single number, so nothing can be inside or outside it`;
  }
  const outside = readings.flatMap((one, index) => {
    if (low && one.below(low)) return [`cylinder ${index + 1} (too low)`];
    return high && one.above(high) ? [`cylinder ${index + 1} (too high)`] : [];
  });
  return outside.length ? `outside the book's ${printed}: ${listed(outside)}` : `all inside the book's ${printed}`;
}
