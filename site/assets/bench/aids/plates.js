/**
 * How much the air of two throttle plates differs for a difference in opening, and how little it matters near full.
 */

import { airRatio, openPart } from "../../calc/plates.js";
import { GeometryImpossible, QuantityError } from "../../errors.js";
import { Fraction, ONE } from "../../quantity/fraction.js";
import { plain } from "../../quantity/spoken.js";
import { step } from "../../working.js";
import { atField } from "./field-error.js";
import { ABOVE, degreesOf, NEAREST, READ, TAKEN, TYPED } from "./wording.js";

const CLOSED = Fraction.of(10);
const SHAFT = new Fraction(1n, 5n);
const WIDE = Fraction.of(60);
const FIELDS = ["first_plate", "second_plate"];
const FULL = Fraction.of(90);
const FORMULA = "the area that plate and shaft leave free, over that of the bore";

/** @param {number} ratio */
const times = (ratio) => `${plain(ratio, 3)} times`;

/** @param {number} part */
const percent = (part) => `${plain(part * 100, 2)} %`;

/**
 * @param {{first_plate: Fraction, second_plate: Fraction, counted: string, closed: Fraction | null, shaft: Fraction | null}} given
 * @returns {import("./wording.js").Worked}
 */
export function work({ first_plate: first, second_plate: second, counted, closed, shaft }) {
  const [shut, ratio] = [closed ?? CLOSED, shaft ?? SHAFT];
  if (!shut.below(FULL)) {
    throw atField(
      "closed",
      new QuantityError(`a plate does not close at ${degreesOf(shut)}; write from 0 to under 90, such as 10`),
    );
  }
  const opening = counted === "closed";
  const angles = [first, second].map((one) => (opening ? one.plus(shut) : one));
  for (const [place, plate] of angles.entries()) requireOpen(FIELDS[place] ?? "", plate, shut, opening);
  if (!ratio.below(ONE)) {
    throw atField(
      "shaft",
      new GeometryImpossible(`a shaft is 0 to under 1 of the bore, not ${plain(ratio)}; write a share such as 0.2`),
    );
  }
  const [one = first, other = second] = angles;
  const [less, more] = [one.least(other), one.most(other)];
  const [closedAt, share] = [shut.toNumber(), ratio.toNumber()];
  const ratioOfAir = airRatio(less.toNumber(), more.toNumber(), closedAt, share);
  const parts = angles.map((plate) => percent(openPart(plate.toNumber(), closedAt, share)));
  const which = other.below(one) ? "first" : "second";
  const apart = more.minus(less);
  const answer = [
    apart.sign()
      ? `the ${which} plate lets through ${times(ratioOfAir)} the air of the other, ${plain((ratioOfAir - 1) * 100, 1)} % more`
      : "both plates let the same air through",
    `open: ${parts[0]} of the bore at the first, ${parts[1]} at the second`,
  ];
  /** @type {[string, string, string][]} */
  const given = [
    ["plate closes at", degreesOf(shut), closed ? TYPED : TAKEN],
    ["shaft over bore", plain(ratio), shaft ? TYPED : TAKEN],
  ];
  const names = ["first", "second"];
  const plates = angles.map(
    (plate, place) =>
      /** @type {[string, string, string]} */ ([`${names[place]} plate, from square`, degreesOf(plate), READ]),
  );
  const steps = [step("open part of each", FORMULA, [...plates, ...given], parts.join(" and "), NEAREST)];
  if (apart.sign()) {
    const open = parts.map(
      (part, place) => /** @type {[string, string, string]} */ ([`${names[place]} plate, open`, part, ABOVE]),
    );
    steps.push(
      step(
        "air of the wider over the other",
        "open part of one over that of the other",
        open,
        times(ratioOfAir),
        NEAREST,
      ),
    );
  }
  const wider = WIDE.plus(apart);
  if (apart.sign() && !wider.above(FULL) && less.below(WIDE)) {
    const wide = times(airRatio(WIDE.toNumber(), wider.toNumber(), closedAt, share));
    answer.push(`the same ${degreesOf(apart)} further open, at ${degreesOf(WIDE)} and ${degreesOf(wider)}: ${wide}`);
    const both = /** @type {[string, string, string]} */ ([
      "plates, from square",
      `${degreesOf(WIDE)} and ${degreesOf(wider)}`,
      "for comparison",
    ]);
    steps.push(step("the same difference near full", FORMULA, [both, ...given], wide, NEAREST));
  }
  return {
    answer,
    steps,
    cautions: [],
    remarks: [
      "by open area, with the same pressure at both: the idle passages are not counted",
      "formula: Heywood, Internal Combustion Engine Fundamentals (1988), eq. 7.18, from memory",
      "near closed a degree matters: bring the plates level there, then look at full throttle",
    ],
  };
}

/** @param {string} field @param {Fraction} plate from square @param {Fraction} shut @param {boolean} opening */
function requireOpen(field, plate, shut, opening) {
  const told = degreesOf(opening ? plate.minus(shut) : plate);
  if (plate.equals(shut)) {
    throw atField(
      field,
      new QuantityError(`a plate at ${told} is shut: no air passes it to compare with; open it a little`),
    );
  }
  if (plate.above(shut) && !plate.above(FULL)) return;
  if (opening)
    throw atField(
      field,
      new QuantityError(`a plate cannot open by ${told}; write up to ${degreesOf(FULL.minus(shut))}`),
    );
  throw atField(
    field,
    new QuantityError(
      `a plate that closes at ${degreesOf(shut)} does not stand at ${told} from square across the bore; write more than ` +
        "that and up to 90, or choose that it is counted from where the plate closes",
    ),
  );
}
