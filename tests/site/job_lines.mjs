/**
 * Orders of work: {"routines", "pages", "done": [[page, [step, ...], [place of one only checked, ...]], ...]} on
 * standard input; {"jobs", "stale", "again"} as JSON, of a refusal its name, words and candidates; "again" is what a
 * record with those steps done shows as stale.
 */

import { resolve } from "node:path";
import { text } from "node:stream/consumers";
import { pathToFileURL } from "node:url";

const assets = pathToFileURL(resolve(process.argv[2])).href;
const { jobOf, staleAfter } = await import(`${assets}/book/job.js`);
const { staleSteps } = await import(`${assets}/job/log/record.js`);
const { routines, pages, done } = JSON.parse(await text(process.stdin));

/** @param {() => any} work */
function told(work) {
  try {
    return work();
  } catch (error) {
    return { error: [error.name, error.message, error.candidates] };
  }
}

/** Empty texts and lists left out, as Python tells a step. */
const bare = (step) => Object.fromEntries(Object.entries(step).filter(([, said]) => said === true || said.length));
const jobs = pages.map((page) => told(() => jobOf(page, routines)));
const stale = done.map(([number, steps]) => told(() => staleAfter(jobs[number], steps)));
const bareRecord = { found: new Map(), left: new Map(), opened: new Map(), ticks: new Map(), centred: { since: "" } };
const again = done.map(([number, steps, stood]) =>
  staleSteps(jobs[number], { ...bareRecord, done: steps, doneTimes: steps.map(String), stood: new Set(stood) }),
);
console.log(
  JSON.stringify({ again, jobs: jobs.map((job) => (job.steps ? { ...job, steps: job.steps.map(bare) } : job)), stale }),
);
