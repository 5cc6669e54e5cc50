// Words in short as the leaf of a job has them: node leaf_words.mjs <assets>, on standard input [words, most] for each.

import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const { clipped, inShort } = await import(`${pathToFileURL(process.argv[2])}/job/output/leaf.js`);

const given = JSON.parse(readFileSync(0, "utf8"));
console.log(JSON.stringify(given.map(([words, most]) => [clipped(words, most), inShort(words)])));
