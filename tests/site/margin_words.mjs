// What the question of the margin says: node margin_words.mjs <assets>, on standard input the shared document and
// [page, typed] for each; for each whether it is asked, its words, and the margin chosen beforehand.

import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const assets = pathToFileURL(`${process.argv[2]}/`).href;
const { marginTold, usualMargin } = await import(`${assets}job/screens/margin-question.js`);

const { shared, asked } = JSON.parse(readFileSync(0, "utf8"));
console.log(
  JSON.stringify(asked.map(([page, typed]) => ({ ...marginTold(page, shared, typed), usual: usualMargin(shared) }))),
);
