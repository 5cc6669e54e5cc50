/**
 * The panel of a bench aid opened from an engine: it fills in what the family's document has, keys choose the figure and
 * the engine, and fields not filled in say why. The address has family, figure, state and serial number, never a reading.
 */

import { MAXIMUM } from "../book/catalogue.js";
import { element } from "../dom.js";
import { SerialFitsNone, StopscrewError } from "../errors.js";
import { State } from "../vocabulary.js";
import { allOf, choiceKeys } from "./choice-keys.js";
import {
  compressionFields,
  correctionFields,
  engineFields,
  figureChoice,
  figureFields,
  figureOfWay,
  premixFields,
} from "./family-fields.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./form.js").AidForm} AidForm */
/** @typedef {import("./family-fields.js").FigureChoice} FigureChoice */
/** @typedef {import("./family-fields.js").FigureWay} FigureWay */
/** @typedef {{figure: string, state: string, serial: string}} EngineAddress */

const FAMILY = /^[a-z0-9-]+\/[a-z0-9-]+$/;
const LONGEST = 24;
const SCREW = ["part", "turning_in", "locknut", "pitch"];
const OF_FIGURE = [
  "kind",
  "printed",
  "other_end",
  "bound",
  "state",
  "rpm",
  "low",
  "high",
  "parts",
  "corrections",
  ...SCREW,
];

export class EnginePanel {
  /**
   * @param {AidForm} form
   * @param {HTMLElement} home where the panel goes
   * @param {string} root the path from the page to the site's root
   * @param {() => void} done called after fields are filled in
   */
  constructor(form, home, root, done) {
    this.done = done;
    this.form = form;
    this.home = home;
    this.root = root;
    const address = new URLSearchParams(location.search);
    this.family = address.get("family") ?? "";
    /** @type {EngineAddress} */
    this.asked = {
      figure: address.get("figure") ?? "",
      state: address.get("state") ?? "",
      serial: (address.get("serial") ?? "").trim().slice(0, LONGEST),
    };
    /** @type {Document} */
    this.page = {};
    /** @type {Document} */
    this.shared = {};
    /** The way chosen by its key. @type {number | null} */
    this.way = null;
  }

  /** Fill in from the engine that the address names; without one, offer to find one. */
  async begin() {
    if (!this.family) return this.#offer(this.home, "Fill in from an engine");
    try {
      if (!FAMILY.test(this.family)) throw new TypeError("no such id");
      const paths = [`families/${this.family}/page.json`, "shared.json"];
      const answers = await Promise.all(paths.map((path) => fetch(this.root + path)));
      if (answers.some((answer) => !answer.ok)) throw new TypeError("it is not there");
      [this.page, this.shared] = await Promise.all(answers.map((answer) => answer.json()));
    } catch {
      this.home.replaceChildren(
        element(
          "p",
          { class: "why", role: "status" },
          "That family's numbers could not be loaded: type them, or find it again.",
        ),
      );
      return this.#offer(this.home, "Fill in from an engine");
    }
    this.form.family = this.page["id"];
    this.#strip();
    this.fill();
    return undefined;
  }

  /** A folded finding box that leads back here with the engine found. @param {HTMLElement} home @param {string} words */
  #offer(home, words) {
    const finder = element("div", { id: "choose-engine", "data-finding": "", "data-root": this.root });
    const box = element("details", { class: "choose-engine" }, element("summary", {}, words), finder);
    finder.addEventListener("click", (event) => {
      const link = event.target instanceof Element ? event.target.closest("a[href]") : null;
      const found = /families\/([a-z0-9-]+\/[a-z0-9-]+)\/$/.exec(link?.getAttribute("href") ?? "")?.[1];
      if (!found || event.ctrlKey || event.metaKey || event.shiftKey) return;
      event.preventDefault();
      location.search = `?${new URLSearchParams({ family: found, ...(this.asked.figure ? { figure: this.asked.figure } : {}) })}`;
    });
    box.addEventListener("toggle", () => import("../find/finding-box.js"), { once: true });
    home.append(box);
  }

  /** Mark invented data, even if the book's other families are real. */
  #strip() {
    const main = this.home.closest("main");
    if (!this.page["invented"] || !main || main.querySelector(".strip")) return;
    main.prepend(element("p", { class: "strip" }, "Invented demonstration data. Set nothing by it"));
  }

  /** The kind of figure that this aid is about. */
  #figure() {
    if (this.form.field("printed")) {
      const named = [this.asked.figure, MAXIMUM].find((one) => Object.hasOwn(this.form.kinds, one));
      return named ?? Object.keys(this.form.kinds)[0] ?? "";
    }
    if (this.form.field("parts")) return "premix";
    return this.form.field("low") ? "compression" : "";
  }

  /** Fill in the fields and show what was filled in. */
  fill() {
    const figure = this.#figure();
    const { serial } = this.asked;
    this.form.empty(OF_FIGURE);
    this.form.held = {
      engine: this.page["engine"],
      flywheel: this.page["flywheel"],
      adjusters: this.page["adjusters"],
    };
    const whys = /** @type {string[]} */ ([]);
    /** @type {readonly string[]} */
    let notes = [];
    /** @type {FigureChoice | null} */
    let choice = null;
    const filled = this.form.fill(engineFields(this.page, figure));
    this.form.fill({ kind: { raw: { text: figure }, origin: "what is chosen above" } });
    try {
      choice =
        figure && Object.hasOwn(this.shared["figures"], figure)
          ? figureChoice(this.page, this.shared, { ...this.asked, figure })
          : null;
      const way = choice && (this.way === null ? choice.chosen : (choice.ways[this.way] ?? null));
      if (way) filled.push(...this.#fillFigure(way, figure));
      else if (choice) whys.push(`${choice.label} is not filled in: ${choice.why}`);
      if (way)
        notes = [
          `${way.printed}, ${way.when}: from ${way.origin}`,
          ...(choice && way === choice.chosen ? choice.remarks : []),
        ];
      this.form.foldFigure(Boolean(way));
      if (this.form.field("corrections") && figure === MAXIMUM) {
        const known = correctionFields(this.page, this.shared, serial);
        this.form.held["correction"] = known.held;
        filled.push(...this.form.fill(known.filled));
        if (known.why && way?.state !== State.STATIC) whys.push(`Correction is not filled in: ${known.why}`);
      }
    } catch (error) {
      if (!(error instanceof StopscrewError)) throw error;
      const more =
        error instanceof SerialFitsNone && error.candidates.length ? `; it has ${error.candidates.join("; ")}` : "";
      whys.push(error.message + more);
    }
    this.#tell(figure, choice, { filled, whys, notes });
    this.done();
  }

  /** @param {FigureWay} way @param {string} figure @returns {string[]} */
  #fillFigure(way, figure) {
    if (figure === "premix") {
      const { filled, said } = premixFields(way);
      this.form.held["said"] = said;
      return this.form.fill(filled);
    }
    if (figure === "compression") {
      const { filled, held } = compressionFields(way);
      this.form.held["compression"] = held;
      return this.form.fill(filled);
    }
    this.form.held["figure"] = figureOfWay(this.page, this.shared, way, figure);
    return this.form.fill(figureFields(way));
  }

  /**
   * @param {string} figure
   * @param {FigureChoice | null} choice
   * @param {{filled: string[], whys: string[], notes: readonly string[]}} said
   */
  #tell(figure, choice, { filled, whys, notes }) {
    const { page, shared, asked } = this;
    const name = `${shared["makers"][page["maker"]] ?? page["maker"]} ${page["name"]}`;
    const many = filled.length === 1 ? "One field is" : `${filled.length} fields are`;
    const told = filled.length
      ? `${many} filled in, each with its source. Check that they are right for your engine.`
      : "Its file has none of these numbers: type them.";
    const inner = [
      element("h2", {}, "From ", element("a", { href: `${this.root}families/${page["id"]}/` }, name)),
      element("p", { class: "filled", role: "status" }, told),
    ];
    if (this.form.field("printed")) {
      const keys = Object.entries(this.form.kinds).map(([value, kind]) => ({
        value,
        words: kind.label,
        chosen: value === figure,
      }));
      inner.push(choiceKeys("which-figure", "Which figure", keys, (value) => this.#ask({ figure: value, state: "" })));
    }
    inner.push(...whys.map((why) => element("p", { class: "why" }, why)));
    if (choice && choice.ways.length > (choice.chosen ? 1 : 0)) {
      const chosen = this.way ?? (choice.chosen ? choice.ways.indexOf(choice.chosen) : -1);
      const keys = choice.ways.map((way, place) => ({
        value: String(place),
        words: way.printed,
        more: way.when,
        chosen: place === chosen,
      }));
      inner.push(
        choiceKeys("which-way", "What holds for yours", keys, (value) => {
          const way = choice?.ways[Number(value)];
          this.#ask(way?.told ? { state: way.state } : {}, Number(value));
          this.#focus(`input[name=which-way][value="${value}"]`);
        }),
      );
    }
    inner.push(...notes.map((note) => element("p", { class: "filled" }, note)));
    inner.push(
      this.#serial(
        asked.serial,
        whys.some((why) => /serial/.test(why)),
      ),
    );
    const cautions = page["cautions"].flatMap((/** @type {string} */ key) =>
      shared["cautions"][key] ? [shared["cautions"][key]] : [],
    );
    if (cautions.length) inner.push(cautionsBox(cautions));
    inner.splice(1, 0, ...apartOf(page).map((words) => element("p", {}, words)));
    const section = element("section", { class: "from-engine", "aria-label": `From ${name}` }, ...inner);
    this.home.replaceChildren(section);
    this.#offer(section, "Another engine");
    section.append(element("p", { class: "links" }, element("a", { href: "./" }, "Without an engine")));
  }

  /** @param {string} serial @param {boolean} open */
  #serial(serial, open) {
    const box = element("input", {
      type: "text",
      id: "serial",
      value: serial,
      maxlength: String(LONGEST),
      autocomplete: "off",
      autocapitalize: "characters",
      spellcheck: "false",
    });
    const use = element("button", { type: "button", class: "use" }, "Use it");
    const take = () => {
      this.#ask({ serial: box instanceof HTMLInputElement ? box.value.trim() : "" });
      this.#focus("#serial");
    };
    use.addEventListener("click", take);
    box.addEventListener("keydown", (event) => {
      if (event.key === "Enter") take();
    });
    const field = element("div", { class: "keys" }, box, use);
    return element(
      "details",
      { class: "serial", ...(open || serial ? { open: "" } : {}) },
      element("summary", {}, serial ? `Serial number ${serial}` : "Serial number not given"),
      element("label", { for: "serial" }, "Serial number"),
      field,
    );
  }

  /** @param {Partial<EngineAddress>} asked @param {number | null} [way] */
  #ask(asked, way = null) {
    this.asked = { ...this.asked, ...asked };
    this.way = way;
    const kept = Object.entries({ family: this.family, ...this.asked }).filter(([, value]) => value);
    history.replaceState(null, "", `?${new URLSearchParams(kept)}`);
    this.fill();
    if (asked.figure) this.#focus("input[name=which-figure]:checked");
  }

  /** @param {string} selector */
  #focus(selector) {
    const [found] = allOf(this.home, selector);
    found?.focus();
  }
}

/** What tells the family from its twins, and the twins; empty without any. @param {Document} page @returns {string[]} */
function apartOf({ twins, look_for }) {
  if (!twins) return [];
  const others = twins.others.map((/** @type {Document} */ { id, made }) => `Another: ${made || id}.`);
  return [[`${twins.made}.`, look_for && `Look for ${look_for}.`, ...others].filter(Boolean).join(" ")];
}

/** @param {readonly Document[]} cautions */
function cautionsBox(cautions) {
  const titles = cautions.map(({ title }) => title).join(" · ");
  const texts = cautions.map(({ severity, title, text }) =>
    element("p", {}, element("strong", {}, `${severity}: ${title}. `), text),
  );
  return element("details", { class: "cautions" }, element("summary", {}, `Before you begin: ${titles}`), ...texts);
}
