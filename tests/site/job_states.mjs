// How jobs stand on their screens: node job_states.mjs <assets>, on each line of standard input the documents and
// [family, entries] for each job; for each its pointer, what each figure is set to, what keeps each step from being
// done, what is stale, each reading with its verdict, what the coach says of the maximum, its tag and its report.

import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";

const assets = pathToFileURL(`${process.argv[2]}/`).href;
const { eachFigure, jobOf } = await import(`${assets}book/job.js`);
const { holds, readingUndone } = await import(`${assets}job/dangers.js`);
const { furthestStep, pointerUndone } = await import(`${assets}job/gates.js`);
const { fold, goneSteps, overrideWords, staleSteps, standingOverrides } = await import(`${assets}job/log/record.js`);
const { tagOf } = await import(`${assets}job/output/cowl-tag.js`);
const { sheetOf } = await import(`${assets}job/output/sheet.js`);
const { missingFrom, reportOf, reportYaml } = await import(`${assets}job/output/report.js`);
const { firstDraft, unitsOf } = await import(`${assets}job/reading/reading-form.js`);
const { draggedWords, lockedLast } = await import(`${assets}job/reading/last-reading.js`);
const { askedCauses } = await import(`${assets}job/reading/false-late.js`);
const { coachFor } = await import(`${assets}job/reading/screw-coach.js`);
const { verdictOn } = await import(`${assets}job/reading/verdict.js`);
const { asksWhich, pageForJob, plateMisfit, strangePlate } = await import(`${assets}job/twins.js`);
const { setHere, stepFigures, valueWords } = await import(`${assets}job/step-figure.js`);

const stateOf = ({ pages, shared, routines }, [family, entries]) => {
  const record = fold(entries);
  const job = jobOf(pages[family], routines);
  const page = pageForJob(pages[family], record);
  const told = {
    asksWhich: asksWhich(pages[family], record),
    misfit: plateMisfit(pages[family], record),
    strange: strangePlate(pages[family], record, "stamp"),
  };
  if (told.misfit) return told; // no step opens, and no figure is asked for
  const figures = job.steps.flatMap((step) => step.figures);
  const shown = new Map(figures.map((figure) => [figure, stepFigures(page, shared, record, figure)]));
  const each = (work) => Object.fromEntries(job.steps.map((step) => [step.id, work(step)]).filter(([, said]) => said));
  const looks = [];
  const readings = [...record.found.values(), ...record.left.values()].flat().map((reading) => {
    const { off, look, sign, words, more } = verdictOn(reading, shown.get(reading.figure) ?? [], {
      page,
      shared,
      record,
    });
    looks.push([look, sign, words, more]);
    return [reading.figure, reading.when, valueWords(reading.value), off, words];
  });
  const [, , , lastOff] = readings.findLast(([figure, when]) => figure === "max-advance" && when === "left") ?? [];
  const chosen = figures.map((figure) => {
    const [step, kind] = [
      job.steps.flatMap(eachFigure).find((one) => one.figure === figure),
      shared["figures"][figure],
    ];
    return firstDraft({ record }, step, kind, shown.get(figure), unitsOf(kind), null).typed.side;
  });
  const work = { job, record, page, shared };
  const first = shown.get("max-advance")?.find((one) => one.target);
  const coach = first ? coachFor({ ...work, book: pages[family] }, first) : null;
  const causes = askedCauses(work, first?.state ?? "", record.turns.get("max-advance") ?? []);
  const asked = { by: "mk", on: "2026-11-28", shared, page };
  return {
    pointer: record.pointer,
    ...told,
    reads: record.deadCentre,
    turns: [...record.turns.keys()],
    targets: Object.fromEntries(
      [...shown].flatMap(([figure, [first]]) =>
        first?.settable ? [[figure, first.target ? String(first.target.show) : first.refused]] : [],
      ),
    ),
    aims: each((step) => {
      const own = step.figures.map((figure) => stepFigures(page, shared, record, figure, step.state));
      const here = own.map((shown) => setHere(step, shown)).find(Boolean);
      return here ? `${here.state} ${here.target.show}` : step.state;
    }),
    undone: each((step) => pointerUndone(job, step, record)),
    sides: chosen.filter(Boolean),
    locked: lockedLast(record, "max-advance", "cranking")?.value ?? null,
    dragged: draggedWords(record, "max-advance", "cranking", lastOff ?? ""),
    gone: goneSteps(job, record),
    unread: each((step) => readingUndone(work, step, staleSteps(job, record).includes(step.id))),
    held: each((step) =>
      holds(work, step, staleSteps(job, record))
        .map(({ words }) => words)
        .join("; "),
    ),
    furthest: job.steps[furthestStep(work).last]?.id,
    stale: staleSteps(job, record),
    readings,
    looks,
    coach: coach && { ...coach, advised: coach.advised && String(coach.advised), steps: coach.steps.length },
    causes: causes.map(({ cause, ruledOut }) => [cause, ruledOut ?? null]),
    tag: tagOf(record, page, shared).lines,
    sheet: sheetOf(record, job, page, shared).worst,
    ticks: job.steps.flatMap(({ id, gate }) => gate.map((line) => [id, line])),
    overrides: standingOverrides(record).map(overrideWords),
    report: reportOf(record, asked),
    yaml: reportYaml(reportOf(record, asked)),
    lacks: missingFrom(record, asked).map((one) => one.text),
  };
};

for await (const line of createInterface({ input: process.stdin })) {
  const asked = JSON.parse(line);
  console.log(JSON.stringify(asked.jobs.map((job) => stateOf(asked, job))));
}
