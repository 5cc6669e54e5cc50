/** The page of jobs: what the address asks for is drawn; what is noted goes to the log and comes back from it. */

import { element } from "../dom.js";
import { StopscrewError } from "../errors.js";
import { Kept } from "../family/choices.js";
import { Documents } from "./documents.js";
import { nameOf, reach } from "./gates.js";
import { keepAt, lastAt } from "./last-step.js";
import { newEntry, newId } from "./log/entries.js";
import { openKept } from "./log/job-log.js";
import { canSpeak } from "./reading/speech.js";
import { stepsShown } from "./screens/all-steps.js";
import { endShown } from "./screens/end.js";
import { engineForm, lastBy, statesOf } from "./screens/engine-form.js";
import { listShown } from "./screens/job-list.js";
import { shutShown, stepShown } from "./screens/step.js";
import { Desk } from "./workspace.js";

/** @typedef {(Node | null)[]} Parts */

class JobPage {
  /** @type {Desk | null} */
  #desk = null;
  #route = "\0";
  #turn = 0;
  /** What is drawn now, to draw it again. @type {() => Parts | Promise<Parts>} */
  #draw = () => [];

  /**
   * @param {{home: HTMLElement, title: HTMLElement, root: string, kept: import("./log/job-log.js").Kept}} given
   */
  constructor({ home, title, root, kept }) {
    this.title = title;
    this.root = root;
    this.kept = kept;
    this.documents = new Documents(root);
    this.problem = element("p", { class: "refused", role: "alert" });
    this.screen = element("div", { id: "screen" });
    this.told = element("p", { class: "told", role: "status", "aria-live": "polite" });
    home.replaceChildren(this.problem, this.told, this.screen);
    this.told.addEventListener("click", () => this.tell("")); // what was told may be tapped away
    addEventListener("hashchange", () => void this.show());
    kept.onChange((job) => void this.changed(job));
    addEventListener("pageshow", (event) => event.persisted && void this.show());
  }

  /** Something was added to a job, here or in another window. @param {string} job */
  async changed(job) {
    this.problem.textContent = this.kept.problem;
    const desk = this.#desk;
    if (!desk || desk.record.id !== job) {
      if (!desk) await this.redraw();
      return;
    }
    const before = desk.entries.length;
    await desk.refresh();
    if (!desk.entries.length) location.hash = "#";
    else if (desk.entries.length !== before) await this.redraw();
  }

  /** @param {string} job */
  async #deskOf(job) {
    if (this.#desk?.record.id === job) return this.#desk;
    const entries = await this.kept.entriesOf(job);
    if (!entries.length)
      throw new StopscrewError("this job is not on this phone; was it removed, or begun on another one?");
    const begin = entries.find((entry) => entry.kind === "begin");
    const documents = await this.documents.family(begin?.kind === "begin" ? begin.family : "");
    return new Desk({
      kept: this.kept,
      entries,
      ...documents,
      root: this.root,
      canSpeak: canSpeak(),
      redraw: (focus) => void this.redraw(focus),
      tell: (words) => this.tell(words),
    });
  }

  /** @param {string} words */
  tell(words) {
    this.told.textContent = "";
    requestAnimationFrame(() => {
      this.told.textContent = words;
    });
  }

  /** Draw what the address asks for. */
  async show() {
    this.#turn += 1;
    const turn = this.#turn;
    const route = routeOf(location.hash);
    const moved = route !== this.#route;
    this.#route = route;
    if (moved) this.told.textContent = "";
    try {
      const [title, draw] = await this.#screenFor(route);
      if (turn !== this.#turn) return;
      this.title.textContent = title;
      document.title = `${title} · Jobs`;
      this.#draw = draw;
    } catch (error) {
      if (!(error instanceof StopscrewError)) throw error;
      if (turn !== this.#turn) return;
      this.title.textContent = "Jobs";
      const more = error.candidates.length ? ` (${error.candidates.join(", ")})` : "";
      this.#draw = () => [
        element("p", { class: "refused", role: "alert" }, error.message + more),
        element("p", {}, element("a", { class: "as-key", href: "#" }, "All jobs")),
      ];
    }
    await this.redraw();
    if (moved && turn > 1) {
      scrollTo({ top: 0, behavior: "instant" });
      this.title.focus({ preventScroll: true });
    }
  }

  /** @param {string} route @returns {Promise<[string, () => Parts | Promise<Parts>]>} */
  async #screenFor(route) {
    if (route.startsWith("new=")) return this.#beginning(route.slice(4));
    if (!route) {
      this.#desk = null;
      const jobFor = async (/** @type {{family: string}} */ { family }) => (await this.documents.family(family)).job;
      return [
        "Jobs",
        async () => listShown(this.kept, await this.kept.jobs(), this.root, jobFor, (words) => this.tell(words)),
      ];
    }
    const [id = "", asked = ""] = route.split("/");
    const desk = await this.#deskOf(id);
    this.#desk = desk;
    return this.#ofJob(desk, asked || lastAt(desk));
  }

  /** @param {Desk} desk @param {string} where @returns {[string, () => Parts]} */
  #ofJob(desk, where) {
    const { job, record } = desk;
    const engine = `${record.maker} ${record.name}`;
    if (where === "steps") return [`${engine}: all steps`, () => [this.#head(desk), ...stepsShown(desk)]];
    if (where === "engine") return [`${engine}: the engine`, () => [this.#head(desk), this.#engine(desk)]];
    if (where === "end") {
      keepAt(record.id, where);
      return [`${engine}: the end`, () => [this.#head(desk), ...endShown(desk)]];
    }
    const place = job.steps.findIndex((step) => step.id === where);
    const step = job.steps[place];
    if (!step) throw new StopscrewError(`this job has no step “${nameOf(where.slice(0, 40))}”`);
    const go = (/** @type {string} */ next) => {
      location.hash = `#${record.id}/${next}`;
    };
    keepAt(record.id, where);
    return [
      capital(nameOf(step.id)),
      () => {
        const { last, why, step: shut } = reach(job, desk.record);
        return [this.#head(desk), ...(place > last ? shutShown(desk, why, shut) : stepShown(desk, step, go))];
      },
    ];
  }

  /** Which engine it is, on every screen of its job. @param {Desk} desk */
  #head({ record, shared }) {
    const older =
      record.dataOf && record.dataOf !== shared["date"]
        ? ` · begun with data of ${record.dataOf}, shown are those of ${shared["date"]}`
        : "";
    return element(
      "p",
      { class: "engine" },
      `${record.maker} ${record.name}, ${record.serial ? `serial ${record.serial}` : "serial not given"}${older}`,
    );
  }

  /** @param {Desk} desk */
  #engine(desk) {
    const { serial, year, by, margin, state } = desk.record;
    const typed = desk.draft("engine", () => ({ serial, year, by, margin, state }));
    return engineForm(typed, desk.page, desk.shared, "Keep this", async (engine) => {
      await desk.append("engine", engine);
      desk.forget("engine");
      location.hash = `#${desk.record.id}/steps`;
    });
  }

  /** @param {string} family @returns {Promise<[string, () => Parts]>} */
  async #beginning(family) {
    this.#desk = null;
    const { page, shared, job } = await this.documents.family(family);
    const maker = shared["makers"][page["maker"]] ?? page["maker"];
    const { serial, margin } = new Kept(page["id"]).read(); // as chosen on the family's page; how it is set begins anew
    const typed = { serial, year: "", by: lastBy(), margin, state: statesOf(page)[0] ?? "" };
    return [
      `Begin: ${maker} ${page["name"]}`,
      () => [
        element("p", { class: "engine" }, `${job.name}, ${job.steps.length} steps`),
        element("p", {}, job.about),
        engineForm(typed, page, shared, "Begin the job", async (engine) => {
          const id = newId();
          const { by, ...known } = engine;
          const begin = {
            family: page["id"],
            name: page["name"],
            maker,
            invented: Boolean(page["invented"]),
            data_of: shared["date"],
            routine: job.routine,
            ...known,
          };
          await this.kept.appendAll([newEntry(id, "begin", begin), newEntry(id, "engine", { by })]);
          history.replaceState(null, "", `#${id}/${job.steps[0]?.id ?? "end"}`);
          await this.show();
        }),
      ],
    ];
  }

  /**
   * Draw the same screen again: the eye, the keyboard and what was opened stay where they are.
   * @param {string} [focus]
   */
  async redraw(focus) {
    const turn = this.#turn;
    const parts = await this.#draw();
    if (turn !== this.#turn) return;
    const active =
      document.activeElement instanceof HTMLElement && this.screen.contains(document.activeElement)
        ? document.activeElement.id
        : "";
    const opened = new Map(
      [...this.screen.querySelectorAll("details")].map((one) => [
        one.querySelector("summary")?.textContent ?? "",
        one.open,
      ]),
    );
    const same = this.screen.dataset["route"] === this.#route;
    this.screen.dataset["route"] = this.#route;
    this.screen.replaceChildren(...parts.filter((part) => part !== null));
    this.problem.textContent = this.kept.problem;
    if (same) {
      for (const one of this.screen.querySelectorAll("details"))
        one.open = opened.get(one.querySelector("summary")?.textContent ?? "") ?? one.open;
    }
    const to = focus ?? active;
    const place = to && same ? document.getElementById(to) : null;
    place?.focus({ preventScroll: true });
    // The box, its keys and what stores it are seen together, as far as they fit.
    for (const one of focus && place ? [document.getElementById("store"), place] : [])
      one?.scrollIntoView({ block: "nearest", behavior: "instant" });
  }
}

/** What an address asks for; one that was spoilt on its way leads nowhere, and says so. @param {string} hash */
function routeOf(hash) {
  try {
    return decodeURIComponent(hash.slice(1));
  } catch {
    return hash.slice(1);
  }
}

/** @param {string} words */
const capital = (words) => words.slice(0, 1).toUpperCase() + words.slice(1);

/** Make the page work. */
async function begin() {
  const [home, title] = [document.getElementById("job"), document.getElementById("job-title")];
  if (!home || !title) return;
  const kept = await openKept();
  await new JobPage({ home, title, root: document.documentElement.dataset["root"] ?? "", kept }).show();
}

if (typeof document !== "undefined") void begin();
