/**
 * A bench aid opened from an engine: what its family knows is filled in, the figure and the engine are chosen by keys, and
 * what is not filled in says why. The address holds family, figure, state and serial number, never a reading.
 */

import { element } from "../dom.js";
import { SerialFitsNone, StopscrewError } from "../errors.js";
import { State } from "../vocabulary.js";
import { allOf, keysOf } from "./choice-keys.js";
import {
  choiceOf,
  compressionKnown,
  correctionKnown,
  figureKnown,
  heldFigure,
  partsKnown,
  premixKnown,
} from "./family-fields.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./form.js").Form} Form */
/** @typedef {import("./family-fields.js").Choice} Choice */
/** @typedef {import("./family-fields.js").Way} Way */
/** @typedef {{figure: string, state: string, serial: string}} Asked */

const FAMILY = /^[a-z0-9-]+\/[a-z0-9-]+$/;
const LONGEST = 24;
const MAXIMUM = "max-advance";
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

export class Engine {
  /**
   * @param {Form} form
   * @param {HTMLElement} home where the engine is told and chosen
   * @param {string} root leads from the page to the site's root
   * @param {() => void} done what is to be done when something was filled in
   */
  constructor(form, home, root, done) {
    this.done = done;
    this.form = form;
    this.home = home;
    this.root = root;
    const address = new URLSearchParams(location.search);
    this.family = address.get("family") ?? "";
    /** @type {Asked} */
    this.asked = {
      figure: address.get("figure") ?? "",
      state: address.get("state") ?? "",
      serial: (address.get("serial") ?? "").trim().slice(0, LONGEST),
    };
    /** @type {Document} */
    this.page = {};
    /** @type {Document} */
    this.shared = {};
    /** The way that was chosen by its key. @type {number | null} */
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
          "The numbers of that family could not be read here: type them, or find it again.",
        ),
      );
      return this.#offer(this.home, "Fill in from an engine");
    }
    this.form.family = this.page["id"];
    this.#strip();
    this.fill();
    return undefined;
  }

  /** A folded box that finds an engine, and leads back here with it. @param {HTMLElement} home @param {string} words */
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

  /** Invented data says so, also where the book's other families are not. */
  #strip() {
    const main = this.home.closest("main");
    if (!this.page["invented"] || !main || main.querySelector(".strip")) return;
    main.prepend(element("p", { class: "strip" }, "Invented demonstration data. Set nothing by it"));
  }

  /** Which kind of figure this aid is about. */
  #figure() {
    if (this.form.field("printed")) {
      const named = [this.asked.figure, MAXIMUM].find((one) => Object.hasOwn(this.form.kinds, one));
      return named ?? Object.keys(this.form.kinds)[0] ?? "";
    }
    if (this.form.field("parts")) return "premix";
    return this.form.field("low") ? "compression" : "";
  }

  /** Fill in for what is asked, and tell it. */
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
    /** @type {Choice | null} */
    let choice = null;
    const filled = this.form.fill(partsKnown(this.page, figure));
    this.form.fill({ kind: { raw: { text: figure }, origin: "what is chosen above" } });
    try {
      choice =
        figure && Object.hasOwn(this.shared["figures"], figure)
          ? choiceOf(this.page, this.shared, { ...this.asked, figure })
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
        const known = correctionKnown(this.page, this.shared, serial);
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

  /** @param {Way} way @param {string} figure @returns {string[]} */
  #fillFigure(way, figure) {
    if (figure === "premix") {
      const { filled, said } = premixKnown(way);
      this.form.held["said"] = said;
      return this.form.fill(filled);
    }
    if (figure === "compression") {
      const { filled, held } = compressionKnown(way);
      this.form.held["compression"] = held;
      return this.form.fill(filled);
    }
    this.form.held["figure"] = heldFigure(this.page, this.shared, way, figure);
    return this.form.fill(figureKnown(way));
  }

  /**
   * @param {string} figure
   * @param {Choice | null} choice
   * @param {{filled: string[], whys: string[], notes: readonly string[]}} said
   */
  #tell(figure, choice, { filled, whys, notes }) {
    const { page, shared, asked } = this;
    const name = `${shared["makers"][page["maker"]] ?? page["maker"]} ${page["name"]}`;
    const many = filled.length === 1 ? "One field is" : `${filled.length} fields are`;
    const told = filled.length
      ? `${many} filled in, each says where from. Look whether it is right for your engine.`
      : "Its file tells none of these numbers: type them.";
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
      inner.push(keysOf("which-figure", "Which figure", keys, (value) => this.#ask({ figure: value, state: "" })));
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
        keysOf("which-way", "What holds for yours", keys, (value) => {
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

  /** @param {Partial<Asked>} asked @param {number | null} [way] */
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

/** @param {readonly Document[]} cautions */
function cautionsBox(cautions) {
  const titles = cautions.map(({ title }) => title).join(" · ");
  const texts = cautions.map(({ severity, title, text }) =>
    element("p", {}, element("strong", {}, `${severity}: ${title}. `), text),
  );
  return element("details", { class: "cautions" }, element("summary", {}, `Before you begin: ${titles}`), ...texts);
}
