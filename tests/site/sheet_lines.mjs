// The sheets of many jobs, each with its report: node sheet_lines.mjs <assets>, on standard input the documents and
// [family, entries] for each.

import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const assets = pathToFileURL(`${process.argv[2]}/`).href;
const { fold } = await import(`${assets}job/log/record.js`);
const { jobOf } = await import(`${assets}book/job.js`);
const { missingFrom, reportOf } = await import(`${assets}job/output/report.js`);
const { sheetOf } = await import(`${assets}job/output/sheet.js`);

const { pages, shared, routines, jobs } = JSON.parse(readFileSync(0, "utf8"));
const sheets = jobs.map(([family, entries]) => {
  const record = fold(entries);
  const page = pages[family];
  const asked = { by: "mk", on: "2026-11-28", shared, page };
  const report = { report: reportOf(record, asked), lacks: missingFrom(record, asked).map((one) => one.text) };
  return { ...sheetOf(record, jobOf(page, routines), page, shared), ...report };
});
console.log(JSON.stringify(sheets));
