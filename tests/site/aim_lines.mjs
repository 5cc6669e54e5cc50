/** Aims and judges what it is given on its standard input, a JSON list; prints what came of each, or the refusal. */

import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

const assets = pathToFileURL(resolve(process.argv[2])).href;
const { aim, judge } = await import(`${assets}/book/aim.js`);
const { Fraction } = await import(`${assets}/quantity/fraction.js`);

const given = JSON.parse(await new Promise((done) => {
  let text = "";
  process.stdin.on("data", (part) => (text += part)).on("end", () => done(text));
}));
const words = (quantity) => (quantity ? String(quantity) : null);
const tried = (work) => {
  try {
    return work();
  } catch (error) {
    return error.candidates ? { refused: error.name, message: error.message } : { broken: String(error.stack) };
  }
};
const told = given.cases.map(([number, margin, pointer, reading]) => {
  const { figure, correction } = given.figures[number];
  const choices = { margin: Fraction.of(margin), deadCentre: pointer === null ? null : Fraction.of(pointer), correction };
  return {
    aim: tried(() => {
      const { show, window, margin: kept, rim, piston, running, remarks } = aim(figure, choices);
      return {
        show: words(show), window: words(window), margin: `${kept}`, rim: rim?.words ?? null, piston: words(piston),
        running, remarks,
      };
    }),
    judge: tried(() => {
      const found = judge(figure, Fraction.of(reading), choices);
      const { words: said, window, would, turn, allowed, running } = found;
      return { words: said, window: words(window), would, turn, allowed, running };
    }),
  };
});
console.log(JSON.stringify(told));
