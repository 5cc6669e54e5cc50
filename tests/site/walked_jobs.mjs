// Jobs walked from the first step to the end as the screens lead: node walked_jobs.mjs <assets>, on each line of standard
// input the documents and for each job its family and detours, [after, to]: once the first is done the second is opened by hand.
// Answered for each: the steps as they were worked at, what went wrong with the engine on the way, what is still to do.
// The engine here knows nothing of the log: a stop is in from the step that uses it until its line is ticked.

import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";
import { safest } from "./safest_reading.mjs";

const assets = pathToFileURL(`${process.argv[2]}/`).href;
const { eachFigure, jobOf } = await import(`${assets}book/job.js`);
const { holds, readingUndone } = await import(`${assets}job/dangers.js`);
const { firstAgain, furthestStep, pointerUndone } = await import(`${assets}job/gates.js`);
const { newEntry, newId } = await import(`${assets}job/log/entries.js`);
const { fold, staleSteps } = await import(`${assets}job/log/record.js`);
const { untickedLines } = await import(`${assets}job/log/undone.js`);
const { cylindersToRead } = await import(`${assets}job/reading/each-cylinder.js`);
const { stepFigures } = await import(`${assets}job/step-figure.js`);
const { barOf, nextOf } = await import(`${assets}job/way.js`);

let [pages, shared, routines] = [];
const MOST = 400;

class Mechanic {
  #work = null;
  wrong = [];
  worked = [];
  engine = { stop: "out", ignition: "live", plugs: "in" };

  constructor(family, detours) {
    this.page = pages[family];
    this.job = jobOf(this.page, routines);
    this.detours = new Map(detours);
    const serial = this.page.fits.find(({ serials }) => serials?.from)?.serials.from ?? "";
    const begin = { maker: this.page.maker, data_of: "", serial, year: "", state: "", margin: "" };
    this.entries = [
      newEntry(newId(), "begin", { ...begin, family, name: this.page.name, invented: true, routine: this.job.routine }),
    ];
  }

  /** The job as it stands, folded once for each entry. */
  get work() {
    this.#work ??= { job: this.job, record: fold(this.entries), page: this.page, shared };
    return this.#work;
  }

  add(kind, said) {
    this.#work = null;
    this.entries.push(newEntry(this.entries[0].job, kind, said));
  }

  walk() {
    let here = this.job.steps[0].id;
    for (let count = 0; here !== "end"; count += 1) {
      if (count > MOST) throw new Error(`no end: ${this.worked.slice(-20).join(", ")}`);
      const step = this.job.steps.find(({ id }) => id === here);
      const bar = barOf(this.work, step);
      if (bar?.opens) this.add("opened", { step: here });
      else if (bar) here = bar.at;
      else here = this.workAt(step);
    }
    const { record } = this.work;
    const undone = this.job.steps.filter(({ id }) => !record.done.includes(id)).map(({ id }) => id);
    const { why } = furthestStep(this.work);
    return { worked: this.worked, wrong: this.wrong, stale: staleSteps(this.job, record), undone, why };
  }

  /** Work at a step as its screen says, and go where it leads. */
  workAt(step) {
    const { id } = step;
    const [led] = step.gate.length ? [] : firstAgain(this.job, step, staleSteps(this.job, this.work.record));
    if (led) return led;
    this.worked.push(id);
    this.turn(step);
    if (step.puts_in.includes("piston-stop")) this.engine.stop = "in";
    for (const line of untickedLines(this.job, step, this.work.record)) this.tick(step, line);
    if (id === "dead-centre") this.add("dead-centre", { reads: "0", stops: ["29", "-29"] });
    if (pointerUndone(this.job, step, this.work.record)) this.add("pointer", { answer: "stays" });
    const stale = staleSteps(this.job, this.work.record).includes(id);
    const first = !this.work.record.done.includes(id);
    if (step.records.includes("as-left")) for (const one of eachFigure(step)) this.read(one);
    const shut = readingUndone(this.work, step, stale) || holds(this.work, step, []).map(({ words }) => words)[0];
    if (shut) throw new Error(`${id}: ${shut}`);
    const [again] = firstAgain(this.job, step, staleSteps(this.job, this.work.record));
    if (again) return again;
    this.add("done", { step: id, ...(stale && step.figures.length ? { stood: true } : {}) });
    if (step.ignition) this.engine.ignition = step.ignition;
    if (step.figures.includes("plug-torque")) this.engine.plugs = "in";
    const detour = this.detours.get(id);
    this.detours.delete(id);
    return detour ?? nextOf(this.work, step, first);
  }

  tick(step, line) {
    this.add("tick", { step: step.id, tick: line, on: true });
    if (line.includes("piston stop")) this.engine.stop = "out";
    if (step.id === "before-plugs") this.engine.ignition = "live";
    if (line === "every plug out") this.engine.plugs = "out";
  }

  /** What the flywheel does to the engine when this step turns it. */
  turn({ id, turned }) {
    const { stop, ignition, plugs } = this.engine;
    if (turned === "by-starter" && stop === "in") this.wrong.push(`${id}: cranked into the stop`);
    const light = this.job.steps.some((step) => step.ignition === "live");
    if (turned === "by-starter" && ignition === "dead" && light) this.wrong.push(`${id}: cranked with a dead ignition`);
    if (turned === "by-hand" && ignition === "live") this.wrong.push(`${id}: turned by hand, ignition live`);
    if (turned && plugs === "in") this.wrong.push(`${id}: turned with the plugs in`);
  }

  /** Note each figure as printed, those of a running engine once it runs. */
  read({ id, figure }) {
    const runs = id === "start" || this.work.record.done.includes("start");
    for (const shown of stepFigures(this.page, shared, this.work.record, figure)) {
      if (!shown.value || "mark" in shown.value || "code" in shown.value) continue;
      if (shown.state === "running" && !runs && figure !== "premix") continue;
      const { cylinder, ...conditions } = shown.at;
      const value = safest(shown, shared.figures[figure]);
      const said = { step: id, figure, when: "left", value, state: shown.state, conditions };
      const each = cylindersToRead(this.page, figure);
      for (const one of each.length ? each : [cylinder])
        this.add("reading", { ...said, ...(one ? { cylinder: one } : {}) });
    }
  }
}

function walked([family, detours]) {
  const mechanic = new Mechanic(family, detours);
  try {
    return mechanic.walk();
  } catch (error) {
    return { error: `${error.stack}`, worked: mechanic.worked, wrong: mechanic.wrong };
  }
}

for await (const line of createInterface({ input: process.stdin })) {
  const asked = JSON.parse(line);
  ({ pages, shared, routines } = asked);
  console.log(JSON.stringify(asked.jobs.map(walked)));
}
