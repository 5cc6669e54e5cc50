/**
 * Draws for as long as it is asked: a line of JSON in, {"template", "view"}; a line of JSON out, {"drawn"} or
 * {"refused"}.
 */

import { resolve } from "node:path";
import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";

const { draw, readTemplate } = await import(pathToFileURL(resolve(process.argv[2], "family/template.js")).href);
for await (const line of createInterface({ input: process.stdin })) {
  const { template, view } = JSON.parse(line);
  let answer;
  try {
    answer = { drawn: draw(readTemplate(template), view) };
  } catch (error) {
    answer = error.name === "TemplateError" ? { refused: error.message } : { broken: String(error.stack) };
  }
  console.log(JSON.stringify(answer));
}
