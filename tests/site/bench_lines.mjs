/** Works bench aids: a JSON list of [aid, given] on standard input, numbers as exact text; a JSON list out. */

import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

const assets = pathToFileURL(resolve(process.argv[2])).href;
const { Fraction } = await import(`${assets}/quantity/fraction.js`);
const { unitOf } = await import(`${assets}/quantity/unit.js`);
const given = JSON.parse(await new Promise((done) => {
  let text = "";
  process.stdin.on("data", (part) => (text += part)).on("end", () => done(text));
}));

/** {"exact": "1/2"} is a number, {"size": "62", "unit": "mm"} a size, anything else itself. */
const read = (value) => {
  if (Array.isArray(value)) return value.map(read);
  if (value?.exact) return Fraction.of(value.exact);
  return value?.size ? { value: Fraction.of(value.size), text: value.size, unit: unitOf(value.unit) } : value;
};
const told = [];
for (const [aid, typed] of given) {
  const { work } = await import(`${assets}/bench/${aid}.js`);
  try {
    told.push(work(Object.fromEntries(Object.entries(typed).map(([name, value]) => [name, read(value)]))));
  } catch (error) {
    told.push(error.candidates ? { refused: error.name, message: error.message } : { broken: String(error.stack) });
  }
}
console.log(JSON.stringify(told));
