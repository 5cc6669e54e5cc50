/** What the vectors do not reach: defaults, means of pairs, numbers that are none. Prints one JSON object. */

import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

const assets = pathToFileURL(resolve(process.argv[2])).href;
const load = (path) => import(`${assets}/${path}.js`);
const [centre, crank, plates, plug, rim, screw, breaker, coverage] = await Promise.all(
  ["dead-centre", "crank", "plates", "plug-hole", "rim", "screw", "breaker", "coverage"].map((name) =>
    load(`calc/${name}`),
  ),
);
const { Fraction } = await load("quantity/fraction");
const { UNITS } = await load("quantity/unit");
const { readNumber, writeNumber, roundToStep, decimalStep } = await load("quantity/number");
const { plain, angleInWords, spokenAngle } = await load("quantity/spoken");

const refused = (work) => {
  try {
    return work();
  } catch (error) {
    return error.name;
  }
};
const given = JSON.parse(
  await new Promise((done) => {
    let text = "";
    process.stdin.on("data", (part) => (text += part)).on("end", () => done(text));
  }),
);
const out = {
  stop: centre.STOP_JOB_BEYOND,
  standard: centre.deadCentre(31, -27).standard,
  pair: centre.meanDeadCentre([[31, -27]]),
  pairs: centre.meanDeadCentre([
    [31, -27],
    [30.5, -26.75],
  ]),
  none: refused(() => centre.meanDeadCentre([])),
  plate: [plates.openPart(20), plates.airRatio(30, 31), plates.angleForPart(0.0456420322017)],
  hole: [plug.positionOfTravel(2, 30), plug.travelOfPosition(2, 30)],
  rim: [rim.arc(10, 240), rim.angleOfArc(62, 240)],
  coverage: given.freedoms.map((freedom) => coverage.coverageFactor(0.999, freedom)),
  rod: [screw.rodTurnDegrees(1, 30), screw.leverMoved(30, 40, 50, 1)],
  notFinite: [NaN, Infinity, -Infinity].map((bad) => [
    refused(() => crank.pistonPosition(bad, 35, 125)),
    refused(() => rim.chord(10, bad)),
    refused(() =>
      breaker.firstContact([
        [0, bad],
        [1, 0],
      ]),
    ),
    refused(() =>
      screw.nextTurn(
        [
          [0, 1],
          [1, 2],
        ],
        bad,
      ),
    ),
  ]),
  units: Object.fromEntries(
    [...UNITS].map(([key, unit]) => [
      key,
      {
        dimension: unit.dimension,
        symbol: unit.symbol,
        name: unit.name,
        factor: `${unit.factor}`,
        offset: `${unit.offset}`,
        fractions: unit.fractions,
        signed: unit.signed,
      },
    ]),
  ),
  floats: given.floats.map((text) => Fraction.of(Number(text)).toString()),
  numbers: given.fractions.map((text) => Fraction.of(text).toNumber()),
  plain: given.fractions.map((text) => [
    plain(Fraction.of(text)),
    plain(Fraction.of(text), 2),
    angleInWords(Fraction.of(text)),
  ]),
  rounded: given.fractions.map((text) =>
    ["nearest", "down", "up"].flatMap((toward) => [
      roundToStep(Fraction.of(text), Fraction.of("3/8"), toward).toString(),
      writeNumber(Fraction.of(text), Fraction.of("1/100"), toward).text,
    ]),
  ),
  steps: given.fractions.map((text) => decimalStep(Fraction.of(text).size()).toString()),
  read: given.texts.map((text) =>
    refused(() => {
      const { value, step } = readNumber(text, { fractions: true });
      return [`${value}`, `${step}`];
    }),
  ),
  spoken: given.texts.map((text) => refused(() => spokenAngle(text).toString())),
};
console.log(JSON.stringify(out));
