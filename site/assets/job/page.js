/** The Jobs page: draws the screen that the address names; what is noted goes to the log, and screens are drawn from it. */

import { element } from "../dom.js";
import { StopscrewError } from "../errors.js";
import { SavedChoices } from "../family/choices.js";
import { Documents } from "./documents.js";
import { forgetHalfTyped } from "./half-typed.js";
import { lastStepOf } from "./last-step.js";
import { newEntry, newId } from "./log/entries.js";
import { openJobLog } from "./log/job-log.js";
import { canSpeak } from "./reading/speech.js";
import { ScreenOn } from "./screen-on.js";
import { engineForm, lastInitials, settableStates } from "./screens/engine-form.js";
import { jobListScreen } from "./screens/job-list.js";
import { usualMargin } from "./screens/margin-question.js";
import { Workspace } from "./workspace.js";

/** @typedef {(Node | null)[]} ScreenParts */

/** All that a begun job needs; a job is begun without it, so that the first form need not wait for it on a slow line. */
const screensOfJob = () => import("./screens/of-job.js");

class JobPage {
  /** @type {Workspace | null} */
  #workspace = null;
  #route = "\0";
  #turn = 0;
  /** Draws the current screen. @type {() => ScreenParts | Promise<ScreenParts>} */
  #draw = () => [];

  /**
   * @param {{home: HTMLElement, title: HTMLElement, root: string, log: import("./log/job-log.js").JobLog}} given
   */
  constructor({ home, title, root, log }) {
    this.title = title;
    this.root = root;
    this.log = log;
    this.documents = new Documents(root);
    this.screenOn = new ScreenOn();
    this.problem = element("p", { class: "refused", role: "alert" });
    this.screen = element("div", { id: "screen" });
    this.told = element("p", { class: "told", role: "status", "aria-live": "polite" });
    home.replaceChildren(this.problem, this.told, this.screen);
    this.told.addEventListener("click", () => this.tell("")); // a tap dismisses the message
    for (const name of ["input", "change"]) this.screen.addEventListener(name, () => this.#workspace?.halfTyped.keep());
    addEventListener("hashchange", () => void this.show());
    log.onChange((job) => void this.changed(job));
    addEventListener("pageshow", (event) => event.persisted && void this.show());
  }

  /** A job changed, here or in another window. @param {string} job */
  async changed(job) {
    this.problem.textContent = this.log.problem;
    const workspace = this.#workspace;
    if (!workspace || workspace.record.id !== job) {
      if (!workspace) await this.redraw();
      return;
    }
    if (workspace.adding) return; // it redraws by itself
    const before = workspace.entries.length;
    await workspace.refresh();
    if (!workspace.entries.length) {
      this.#workspace = null;
      forgetHalfTyped(job);
      location.hash = "#";
    } else if (workspace.entries.length !== before) await this.redraw();
  }

  /** @param {string} job */
  async #deskOf(job) {
    if (this.#workspace?.record.id === job) return this.#workspace;
    const entries = await this.log.entriesOf(job);
    if (!entries.length)
      throw new StopscrewError("this job is not on this phone; was it removed, or begun on another one?");
    const begin = entries.find((entry) => entry.kind === "begin");
    const documents = await this.documents.family(begin?.kind === "begin" ? begin.family : "");
    return new Workspace({
      log: this.log,
      entries,
      ...documents,
      root: this.root,
      canSpeak: canSpeak(),
      redraw: (focus) => void this.redraw(focus),
      tell: (words, isDrawn) => this.tell(words, isDrawn),
    });
  }

  /** @param {string} words @param {boolean} [isDrawn] whether the screen shows as much: then it is only for the ear */
  tell(words, isDrawn = false) {
    this.told.textContent = "";
    this.told.classList.toggle("heard", isDrawn);
    requestAnimationFrame(() => {
      this.told.textContent = words;
    });
  }

  /** Draw the screen that the address names. */
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
    void this.screenOn.want(this.#workspace !== null);
    await this.redraw();
    if (moved && turn > 1) {
      scrollTo({ top: 0, behavior: "instant" });
      this.title.focus({ preventScroll: true });
    }
  }

  /** @param {string} route @returns {Promise<[string, () => ScreenParts | Promise<ScreenParts>]>} */
  async #screenFor(route) {
    if (route.startsWith("new=")) return this.#beginning(route.slice(4));
    if (!route) {
      this.#workspace = null;
      const jobFor = async (/** @type {{family: string}} */ { family }) => (await this.documents.family(family)).job;
      return [
        "Jobs",
        async () => jobListScreen(this.log, await this.log.jobs(), this.root, jobFor, (words) => this.tell(words)),
      ];
    }
    const [id = "", asked = ""] = route.split("/");
    const workspace = await this.#deskOf(id);
    this.#workspace = workspace;
    const { screenOfJob } = await screensOfJob();
    return screenOfJob(workspace, asked || lastStepOf(workspace), () => this.show());
  }

  /** @param {string} family @returns {Promise<[string, () => ScreenParts]>} */
  async #beginning(family) {
    this.#workspace = null;
    const { page, shared, job } = await this.documents.family(family);
    const maker = shared["makers"][page["maker"]] ?? page["maker"];
    const { serial, margin } = new SavedChoices(page["id"]).read(); // as chosen on the family's page, except the state
    const kept = margin || usualMargin(shared);
    const typed = { serial, year: "", by: lastInitials(), margin: kept, state: settableStates(page)[0] ?? "" };
    return [
      `Begin: ${[`${maker} ${page["name"]}`, page["twins"]?.made].filter(Boolean).join(", ")}`,
      () => [
        element(
          "details",
          {},
          element("summary", {}, `${job.name}, ${job.steps.length} steps`),
          element("p", {}, job.about),
        ),
        page["twins"] && page["look_for"] ? element("p", {}, `Look for ${page["look_for"]}`) : null,
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
          await this.log.appendAll([newEntry(id, "begin", begin), newEntry(id, "engine", { by })]);
          history.replaceState(null, "", `#${id}/${job.steps[0]?.id ?? "end"}`);
          await this.show();
        }),
      ],
    ];
  }

  /**
   * Draw the same screen again: scroll position, focus and opened parts stay as they are.
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
    const opened = new Map([...this.screen.querySelectorAll("details")].map((one) => [foldOf(one), one.open]));
    const same = this.screen.dataset["route"] === this.#route;
    this.screen.dataset["route"] = this.#route;
    this.screen.replaceChildren(...parts.filter((part) => part !== null));
    this.problem.textContent = this.log.problem;
    this.#workspace?.halfTyped.keep();
    if (same) {
      for (const one of this.screen.querySelectorAll("details")) one.open = opened.get(foldOf(one)) ?? one.open;
    }
    const to = focus ?? active;
    const place = to && same ? document.getElementById(to) : null;
    place?.focus({ preventScroll: true });
    if (focus && place === this.title) return scrollTo({ top: 0, behavior: "instant" });
    // The box, its keys and the button that notes it are in view together, as far as they fit.
    for (const one of focus && place ? [document.getElementById("store"), place] : [])
      one?.scrollIntoView({ block: "nearest", behavior: "instant" });
    return undefined;
  }
}

/** What a part that unfolds is known by when it is drawn anew. @param {HTMLDetailsElement} part */
const foldOf = (part) => part.dataset["fold"] || (part.querySelector("summary")?.textContent ?? "");

/** The route in an address; a damaged one names no screen, and the page says so. @param {string} hash */
function routeOf(hash) {
  try {
    return decodeURIComponent(hash.slice(1));
  } catch {
    return hash.slice(1);
  }
}

/** Start the page. */
async function begin() {
  const [home, title] = [document.getElementById("job"), document.getElementById("job-title")];
  if (!home || !title) return;
  const log = await openJobLog();
  await new JobPage({ home, title, root: document.documentElement.dataset["root"] ?? "", log }).show();
  await screensOfJob(); // while there is a line
}

if (typeof document !== "undefined") void begin();
