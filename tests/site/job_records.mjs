/**
 * Jobs' records, files and reports: {"shared", "folds": [[entry...]...], "files": [text...], "values": [any...],
 * "exports": [[entry...]...], "reports": [{entries, by, on, page}...]} on standard input; the same keys answered, as JSON.
 */

import { resolve } from "node:path";
import { text } from "node:stream/consumers";
import { pathToFileURL } from "node:url";

const assets = pathToFileURL(resolve(process.argv[2])).href;
const { readEntry } = await import(`${assets}/job/log/entries.js`);
const { exportText, importText } = await import(`${assets}/job/log/job-file.js`);
const { fold, inOrder } = await import(`${assets}/job/log/record.js`);
const { missingFrom, reportOf, reportPath, reportYaml } = await import(`${assets}/job/output/report.js`);
const { readValue } = await import(`${assets}/job/log/report-value.js`);
const {
  shared,
  folds = [],
  files = [],
  values = [],
  exports: exported = [],
  reports = [],
} = JSON.parse(await text(process.stdin));

/** @param {() => any} work */
function told(work) {
  try {
    return work();
  } catch (error) {
    return { error: [error.name, error.message] };
  }
}

/** Maps and sets as JSON has them. */
const plain = (said) =>
  JSON.parse(
    JSON.stringify(said, (_, value) =>
      value instanceof Map ? Object.fromEntries(value) : value instanceof Set ? [...value].sort() : value,
    ),
  );

const answer = {
  folds: folds.map((entries) => told(() => plain(fold(entries)))),
  files: files.map((file) => told(() => importText(file))),
  values: values.map((value) => told(() => readValue(value))),
  exports: exported.map((entries) =>
    told(() => {
      const file = exportText(entries);
      const back = importText(file);
      return {
        file,
        back,
        same: JSON.stringify(back) === JSON.stringify(inOrder(entries).map(readEntry)),
        again: exportText(back) === file,
      };
    }),
  ),
  reports: reports.map(({ entries, by, on, page }) =>
    told(() => {
      const record = fold(entries);
      const asked = { by, on, shared, page };
      const document = reportOf(record, asked);
      return {
        document,
        yaml: reportYaml(document),
        path: reportPath(record, document),
        lacks: missingFrom(record, asked),
      };
    }),
  ),
};
answer.polluted = ["polluted", "toJSON"].some((key) => key in {});
console.log(JSON.stringify(answer));
