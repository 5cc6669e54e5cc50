/** The list of jobs on this phone: how far each is; starting, importing, exporting and removing one. */

import { element } from "../../dom.js";
import { StopscrewError } from "../../errors.js";
import { key, refusal } from "../controls.js";
import { stepName } from "../gates.js";
import { forgetHalfTyped } from "../half-typed.js";
import { localDate } from "../local-date.js";
import { exportFileName, exportText, importText } from "../log/job-file.js";
import { overrideWords, staleSteps, standingOverrides } from "../log/record.js";

/** @typedef {import("../log/job-log.js").JobLog} JobLog */
/** @typedef {import("../log/record.js").JobRecord} JobRecord */
/** @typedef {import("../../book/job.js").Job} Job */

const LARGEST = 4_000_000;

/**
 * @param {JobLog} log
 * @param {readonly JobRecord[]} jobs
 * @param {string} root
 * @param {(record: JobRecord) => Promise<Job>} jobFor the steps of a job
 * @param {(words: string) => void} say
 */
export function jobListScreen(log, jobs, root, jobFor, say) {
  return [
    element(
      "p",
      { class: "keys" },
      element("a", { class: "as-key main-key", href: root || "./" }, "New job: find the engine"),
    ),
    element(
      "p",
      {},
      "Start a job on the engine's page, with “Work through the job”. Everything you note stays on this phone.",
    ),
    jobs.length
      ? element("ul", { class: "jobs" }, ...jobs.map((record) => row(log, record, jobFor, say)))
      : element("p", { class: "said" }, element("strong", {}, "No job on this phone yet.")),
    importing(log, say),
  ];
}

/**
 * @param {JobLog} log
 * @param {JobRecord} record
 * @param {(record: JobRecord) => Promise<Job>} jobFor
 * @param {(words: string) => void} say
 */
function row(log, record, jobFor, say) {
  const stands = element("p", { class: "stands" }, "…");
  void jobFor(record)
    .then((job) => {
      const known = new Set(job.steps.map((step) => step.id));
      const done = new Set(record.done.filter((step) => known.has(step)));
      const next = job.steps.find((step) => !done.has(step.id));
      const stale = staleSteps(job, record).length;
      const where = record.closed
        ? `closed ${localDate(record.closed)}`
        : next
          ? `next: ${stepName(next.id)}`
          : "every step done";
      stands.textContent = `${done.size} of ${job.steps.length} done${stale ? `, ${stale} to check again` : ""}; ${where}`;
    })
    .catch((/** @type {unknown} */ error) => {
      const why = error instanceof Error ? error.message : error;
      stands.textContent = `${record.done.length} steps done; its steps cannot be shown: ${why}`;
    });
  const name = `${record.maker} ${record.name}`;
  const sure = element(
    "div",
    { class: "keys sure", hidden: true },
    element(
      "p",
      {},
      `Remove the job on ${name}, ${record.serial || "serial not given"}, from this phone for good? ` +
        "Export it first if you want to keep it.",
    ),
    key(
      "Yes, remove it",
      async () => {
        await log.remove(record.id);
        forgetHalfTyped(record.id);
        say(`The job on ${name} is removed`);
      },
      { class: "alarm", id: `sure-${record.id}` },
    ),
    key("No, keep it", () => {
      sure.hidden = true;
      document.getElementById(`remove-${record.id}`)?.focus();
    }),
  );
  return element(
    "li",
    {},
    element(
      "a",
      { href: `#${record.id}` },
      element("strong", {}, name),
      element("span", {}, record.serial ? `serial ${record.serial}` : "serial not given"),
      element("span", {}, `begun ${localDate(record.began)}`),
    ),
    ...standingOverrides(record).map((one) =>
      element("p", { class: "override" }, element("strong", {}, "Override: "), overrideWords(one)),
    ),
    stands,
    element(
      "div",
      { class: "keys" },
      key(
        "Export",
        async () => {
          const { shareFile } = await import("../output/share.js");
          say(
            (await shareFile(exportFileName(record), exportText(await log.entriesOf(record.id)), "application/json"))
              .words,
          );
        },
        { class: "small-key", id: `export-${record.id}`, "aria-label": `Export the job on ${name}` },
      ),
      key(
        "Remove",
        () => {
          sure.hidden = false;
          sure.querySelector("button")?.focus();
        },
        { id: `remove-${record.id}`, class: "small-key", "aria-label": `Remove the job on ${name}` },
      ),
    ),
    sure,
  );
}

/** @param {JobLog} log @param {(words: string) => void} say */
function importing(log, say) {
  const refused = refusal("");
  const box = element("input", { type: "file", id: "import", accept: ".json,application/json,text/plain" });
  box.addEventListener("change", async () => {
    const file = box instanceof HTMLInputElement ? box.files?.[0] : null;
    if (!file) return;
    refused.textContent = "";
    try {
      if (file.size > LARGEST)
        throw new StopscrewError("this file is far larger than any job; choose one that was exported here");
      const { added } = await log.appendAll(importText(await file.text()));
      say(
        added
          ? `Imported: ${added} ${added === 1 ? "entry" : "entries"} that this phone did not have`
          : "Nothing new: this phone already has all of that job",
      );
    } catch (error) {
      if (!(error instanceof StopscrewError)) throw error;
      refused.textContent = `Not imported: ${error.message}`;
    }
    if (box instanceof HTMLInputElement) box.value = "";
  });
  return element(
    "section",
    { class: "field" },
    element("h2", {}, "A job from another phone"),
    element("label", { for: "import" }, "The file that was exported there"),
    box,
    refused,
  );
}
