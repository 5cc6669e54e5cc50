/**
 * The choices on a family's page: cranking or running, margin, serial number, units. A choice redraws the page from its
 * document, goes into the address so that it can be shared, and is stored on this phone. The dead-centre reading belongs
 * to a job.
 */

import { MAXIMUM } from "../book/catalogue.js";
import { marginLimit } from "../book/window.js";
import { element } from "../dom.js";
import { StopscrewError } from "../errors.js";
import { Fraction, HALF } from "../quantity/fraction.js";
import { plain } from "../quantity/spoken.js";
import { SET_WORDS } from "../vocabulary.js";
import { inAddress, LONGEST, NOTHING, readChosen, SavedChoices, UNITS, writeChosen } from "./choices.js";
import { draw, readTemplate } from "./template.js";
import { view } from "./view.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./choices.js").Chosen} Chosen */

/** The page of a family, redrawn for choices. */
class FamilyPage {
  /**
   * @param {HTMLElement} main the page's `main`, which is redrawn
   * @param {{page: Document, shared: Document, template: string, root: string}} given
   */
  constructor(main, { page, shared, template, root }) {
    this.main = main;
    this.page = page;
    this.shared = shared;
    this.root = root;
    this.template = readTemplate(template);
    this.kept = new SavedChoices(page["id"]);
    /** @type {Chosen} */
    this.chosen = NOTHING;
    this.told = element("p", { role: "status", "aria-live": "polite", class: "chosen" });
    this.refused = element("p", { role: "alert", class: "hazard" });
    const about = { class: "choose", id: "choose", novalidate: "", hidden: "", "aria-label": "This engine" };
    this.form = element("form", about, ...this.#fields());
    this.form.addEventListener("submit", (event) => event.preventDefault());
    this.form.addEventListener("change", () => this.choose(this.#typed()));
    const address = inAddress(location.hash);
    this.choose(this.#chosenIn(address) ?? this.kept.read(), false);
    // Redrawn, the page has lost the place of a plain link.
    const plain = writeChosen(this.chosen) && !location.hash.includes("=") ? location.hash.slice(1) : "";
    this.#pointTo(address.get("at") ?? plain);
    addEventListener("hashchange", () => this.#follow());
  }

  /**
   * The choices of an address, with the stored units if it names none; null if it has no choices.
   * @param {URLSearchParams} address
   */
  #chosenIn(address) {
    const chosen = readChosen(address);
    return writeChosen(chosen) ? { ...chosen, units: chosen.units || this.kept.read().units } : null;
  }

  /** @returns {HTMLElement[]} */
  #fields() {
    const maximum = this.page["figures"].find((/** @type {Document} */ figure) => figure["id"] === MAXIMUM);
    const states = new Set((maximum?.rows ?? []).map((/** @type {Document} */ row) => row["state"]));
    /** @param {string} name @param {string} words @param {Iterable<readonly [string, string]>} options */
    const select = (name, words, options) =>
      element(
        "label",
        {},
        words,
        element("select", { name }, ...[...options].map(([value, said]) => element("option", { value }, said))),
      );
    const fields = [
      element(
        "label",
        {},
        "Serial number",
        element("input", {
          name: "serial",
          type: "text",
          maxlength: String(LONGEST),
          autocomplete: "off",
          autocapitalize: "characters",
          spellcheck: "false",
        }),
      ),
    ];
    const sets = [...SET_WORDS].filter(([state]) => states.has(state));
    if (sets.length > 1) fields.push(select("state", "Maximum", [["", "as the book has it"], ...sets]));
    const limit = maximum ? marginLimit(this.shared["figures"][MAXIMUM]) : Fraction.of(0);
    /** @type {[string, string][]} */
    const margins = [["", "no margin"]];
    for (let margin = HALF; !margin.above(limit); margin = margin.plus(HALF)) {
      margins.push([plain(margin), `${plain(margin)}° late`]);
    }
    if (margins.length > 1) fields.push(select("margin", "Margin", margins));
    return [...fields, select("units", "Units", UNITS)];
  }

  /** @returns {Chosen} */
  #typed() {
    const data = new FormData(/** @type {HTMLFormElement} */ (this.form));
    const typed = [...data].flatMap(([name, value]) => (typeof value === "string" ? [[name, value]] : []));
    return readChosen(new URLSearchParams(typed));
  }

  /**
   * Draw the page for a choice. If the book refuses it, the page stays as it was and says why.
   * @param {Chosen} chosen
   * @param {boolean} [byHand]
   */
  choose(chosen, byHand = true) {
    const { state, serial, units } = chosen;
    let html;
    try {
      const margin = Fraction.of(chosen.margin || "0");
      html = draw(this.template, view(this.page, this.shared, { state, margin, serial, units }, this.root));
    } catch (error) {
      if (!(error instanceof StopscrewError)) throw error;
      const more = error.candidates.length ? `; it has ${error.candidates.join("; ")}` : "";
      if (!byHand) this.#place();
      this.#open(true);
      this.refused.textContent = error.message + more;
      return;
    }
    this.refused.textContent = "";
    const changed = writeChosen(chosen) !== writeChosen(this.chosen);
    this.chosen = chosen;
    // Without choices the page stays as the server drew it.
    if (byHand || changed) this.#show(html);
    else this.#place();
    if (byHand) this.#keep(chosen);
  }

  /** @param {string} html */
  #show(html) {
    const focused = document.activeElement;
    const drawn = new DOMParser().parseFromString(html, "text/html").querySelector("main");
    if (!drawn) return;
    const open = [...this.main.querySelectorAll("section[id] > details[open]")].map(
      (one) => one.parentElement?.id ?? "",
    );
    this.main.replaceChildren(...drawn.childNodes);
    for (const id of open) document.getElementById(id)?.querySelector("details")?.setAttribute("open", "");
    this.#place();
    if (focused instanceof HTMLElement && this.form.contains(focused)) focused.focus({ preventScroll: true });
  }

  /** Put the form into its place and fill it; links to figures carry the choices along. */
  #place() {
    this.main.querySelector("#choices")?.replaceChildren(this.form, this.refused, this.told);
    for (const word of this.main.querySelectorAll(".engine > .serial, .engine > .state")) {
      const key = element("button", { type: "button", "aria-controls": "choose" });
      key.addEventListener("click", () => this.#open(this.form.hidden, word.className));
      if (word.textContent) word.replaceWith(key);
      key.append(word);
    }
    for (const [name, value] of Object.entries(this.chosen)) {
      const field = this.form.querySelector(`[name=${name}]`);
      if (field instanceof HTMLSelectElement || field instanceof HTMLInputElement) field.value = value;
    }
    const words = writeChosen(this.chosen);
    for (const link of words ? this.main.querySelectorAll('a[href^="#"]') : []) {
      link.setAttribute("href", `#${words}&at=${link.getAttribute("href")?.slice(1)}`);
    }
    this.#open(!this.form.hidden);
  }

  /** Open or close the choices. @param {boolean} open @param {string} [first] the field to go to */
  #open(open, first = "") {
    this.form.hidden = !open;
    for (const key of this.main.querySelectorAll(".engine button")) key.setAttribute("aria-expanded", String(open));
    const field =
      open && first ? (this.form.querySelector(`[name=${first}]`) ?? this.form.querySelector("select")) : null;
    if (field instanceof HTMLElement) field.focus({ preventScroll: true });
  }

  /** @param {Chosen} chosen */
  #keep(chosen) {
    const words = writeChosen(chosen);
    history.replaceState(history.state, "", words ? `#${words}` : location.pathname + location.search);
    const kept = this.kept.write(chosen);
    const [first] = [...this.main.querySelectorAll(".maximum")];
    const said = first?.querySelector(".big, .said")?.textContent?.replace(/\s+/g, " ").trim() ?? "";
    const target = said ? `${first?.querySelector("h2")?.textContent?.replace(/\s+/g, " ").trim()}: ${said}. ` : "";
    this.told.textContent = target + (kept ? "" : "This phone does not store your choice: it is only in the address.");
  }

  /** React to an address followed or typed on the open page. */
  #follow() {
    const address = inAddress(location.hash);
    const chosen = this.#chosenIn(address);
    if (chosen) this.choose(chosen, false);
    this.#pointTo(address.get("at") ?? "");
  }

  /** Show the figure that an address with choices names, as a plain link does. @param {string} id */
  #pointTo(id) {
    for (const row of this.main.querySelectorAll(".pointed")) row.classList.remove("pointed");
    const row = id ? document.getElementById(id) : null;
    if (!row || !this.main.contains(row)) return;
    row.classList.add("pointed");
    row.scrollIntoView();
  }
}

/** Open everything for printing, and close it again afterwards. @param {HTMLElement} main */
function openForPaper(main) {
  /** @type {Element[]} */
  let opened = [];
  addEventListener("beforeprint", () => {
    opened = [...main.querySelectorAll("details:not([open])")];
    for (const one of opened) one.setAttribute("open", "");
  });
  addEventListener("afterprint", () => {
    for (const one of opened.splice(0)) one.removeAttribute("open");
  });
}

/** Start the page; if its documents cannot be fetched, it stays as the server drew it. */
export async function begin() {
  const [main, home] = [document.querySelector("main"), document.querySelector("#choices")];
  const root = document.documentElement.dataset["root"] ?? "";
  if (!(main instanceof HTMLElement) || !home) return;
  openForPaper(main);
  const look = element("link", { rel: "stylesheet", href: `${root}assets/choices.css` });
  const styled = new Promise((done) => {
    for (const when of ["load", "error"]) look.addEventListener(when, done);
  });
  document.head.append(look);
  try {
    const paths = ["page.json", `${root}shared.json`, `${root}assets/family.template`];
    const answers = await Promise.all(paths.map((path) => fetch(path)));
    if (answers.some((answer) => !answer.ok)) throw new TypeError("not all of it is there");
    const [page, shared, template] = await Promise.all([answers[0]?.json(), answers[1]?.json(), answers[2]?.text()]);
    await styled;
    new FamilyPage(main, { page, shared, template: template ?? "", root });
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    home.textContent =
      "Serial number, margin and units cannot be chosen now: the page's document could not be fetched.";
  }
}

if (typeof document !== "undefined") void begin();
