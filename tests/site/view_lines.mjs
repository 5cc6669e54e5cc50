/**
 * Draws families with choices: {"template", "shared", "pages", "cases": [[page, {state, margin, serial, units}]]} on standard
 * input; a JSON list of what was drawn, or of the refusal and its words.
 */

import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

const assets = pathToFileURL(resolve(process.argv[2])).href;
const { draw, readTemplate } = await import(`${assets}/family/template.js`);
const { view } = await import(`${assets}/family/view.js`);
const { Fraction } = await import(`${assets}/quantity/fraction.js`);
const given = JSON.parse(
  await new Promise((done) => {
    let text = "";
    process.stdin.on("data", (part) => (text += part)).on("end", () => done(text));
  }),
);
const template = readTemplate(given.template);
const told = given.cases.map(([number, { state, margin, serial, units }]) => {
  try {
    return draw(
      template,
      view(given.pages[number], given.shared, { state, margin: Fraction.of(margin), serial, units }),
    );
  } catch (error) {
    return error.candidates ? [error.name, error.message, error.candidates] : [String(error.stack)];
  }
});
console.log(JSON.stringify(told));
