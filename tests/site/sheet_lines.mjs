// The sheets of many jobs: node sheet_lines.mjs <assets>, on standard input the documents and [family, entries] for each.

import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const assets = pathToFileURL(`${process.argv[2]}/`).href;
const { fold } = await import(`${assets}job/record.js`);
const { jobOf } = await import(`${assets}book/job.js`);
const { sheetOf } = await import(`${assets}job/sheet-of.js`);

const { pages, shared, routines, jobs } = JSON.parse(readFileSync(0, "utf8"));
const sheets = jobs.map(([family, entries]) => sheetOf(fold(entries), jobOf(pages[family], routines), pages[family], shared));
console.log(JSON.stringify(sheets));
