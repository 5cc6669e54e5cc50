// The tags of many jobs, and the codes of their words: node tag_lines.mjs <assets>, the jobs on standard input.

import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const assets = pathToFileURL(`${process.argv[2]}/`).href;
const { fold } = await import(`${assets}job/log/record.js`);
const { tagOf, LARGEST, ROOM } = await import(`${assets}job/output/cowl-tag.js`);
const { codeOf } = await import(`${assets}job/output/qr-code.js`);

const { pages, shared, jobs } = JSON.parse(readFileSync(0, "utf8"));

/** @param {number} length @param {number} largest */
function fits(length, largest) {
  try {
    return codeOf("m".repeat(length), largest).size > 0;
  } catch {
    return false;
  }
}

const tags = jobs.map(([family, entries]) => {
  const tag = tagOf(fold(entries), pages[family], shared);
  return { ...tag, code: codeOf(tag.text, LARGEST) };
});
console.log(JSON.stringify({ tags, room: ROOM, fits: [fits(ROOM, LARGEST), fits(ROOM + 1, LARGEST)] }));
