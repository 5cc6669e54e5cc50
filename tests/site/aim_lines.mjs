/**
 * Aims and judges figures of page documents: {"pages", "kinds", "asked": [[page, figure, state, conditions, serial]], "cases":
 * [[asked, margin, pointer, reading, rpm]]} on standard input; a JSON list of what came of each, or the refusal.
 */

import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

const assets = pathToFileURL(resolve(process.argv[2])).href;
const { aim } = await import(`${assets}/book/aim.js`);
const { judge } = await import(`${assets}/book/judge.js`);
const { correctionOf, figureOf, figureRowsOf } = await import(`${assets}/family/figure-of-row.js`);
const { Fraction } = await import(`${assets}/quantity/fraction.js`);

const given = JSON.parse(
  await new Promise((done) => {
    let text = "";
    process.stdin.on("data", (part) => (text += part)).on("end", () => done(text));
  }),
);
const { pages, kinds } = given;
const words = (quantity) => (quantity ? String(quantity) : null);
const tried = (work) => {
  try {
    return work();
  } catch (error) {
    return error.candidates ? { refused: error.name, message: error.message } : { broken: String(error.stack) };
  }
};
const figures = given.asked.map(([number, figure, state, conditions, serial]) => {
  const page = pages[number];
  const told = figureRowsOf(page, figure, serial).find(
    ({ row, depends }) => !depends.length && row.value && row.state === state && (row.conditions ?? "") === conditions,
  );
  return { figure: told && figureOf(page, kinds, told), correction: correctionOf(page, kinds, serial) };
});
const exact = (text) => (text === null ? null : Fraction.of(text));
const told = given.cases.map(([number, margin, pointer, reading, rpm]) => {
  const { figure, correction } = figures[number];
  const choices = { margin: Fraction.of(margin), deadCentre: exact(pointer), correction, rpm: exact(rpm) };
  return {
    aim: tried(() => {
      const { show, window, margin: kept, rim, piston, running, steps, remarks } = aim(figure, choices);
      return {
        show: words(show),
        window: words(window),
        margin: `${kept}`,
        rim: rim?.words ?? null,
        piston: words(piston),
        running,
        steps,
        remarks,
      };
    }),
    judge: tried(() => {
      const {
        words: said,
        window,
        would,
        turn,
        allowed,
        running,
        steps,
        remarks,
      } = judge(figure, Fraction.of(reading), choices);
      return { words: said, window: words(window), would, turn, allowed, running, steps, remarks };
    }),
  };
});
console.log(JSON.stringify(told));
