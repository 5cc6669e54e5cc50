/**
 * The choices on a family's page: cranking or running, margin, serial number. What is chosen redraws the page from its
 * document, stands in the address so that it can be shared, and is kept on this phone. Cranking or running is never kept:
 * it begins anew for each engine. The dead-centre reading belongs to a job and has no place here.
 */

import { marginLimit } from "./book/setting.js";
import { StopscrewError } from "./errors.js";
import { Fraction, HALF } from "./quantity/fraction.js";
import { plain } from "./quantity/spoken.js";
import { draw, readTemplate } from "./template.js";
import { view } from "./view.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {{state: string, margin: string, serial: string}} Chosen margin in degrees as text, empty for none */

const STATES = new Map([["cranking", "set while cranking"], ["running", "set running"], ["static", "set standing still"]]);
const LONGEST = 24;
const NOTHING = { state: "", margin: "", serial: "" };

/**
 * What an address or the phone keeps, as far as it is sound: anything else is as if nothing was chosen.
 * @param {URLSearchParams} kept
 * @returns {Chosen}
 */
export function readChosen(kept) {
  const [state, margin, serial] = ["state", "margin", "serial"].map((name) => (kept.get(name) ?? "").trim());
  return {
    state: STATES.has(state ?? "") ? state ?? "" : "",
    margin: /^[0-9]{1,2}(\.5)?$/.test(margin ?? "") && Number(margin) ? margin ?? "" : "",
    serial: (serial ?? "").slice(0, LONGEST),
  };
}

/** As an address keeps it; empty where nothing is chosen. @param {Chosen} chosen */
export function writeChosen(chosen) {
  return new URLSearchParams(Object.entries(chosen).filter(([, value]) => value)).toString();
}

/** Where a choice is kept on this phone; a refused or full storage keeps nothing and says so. */
class Kept {
  /** @param {string} family */
  constructor(family) {
    this.key = `stopscrew-chosen:${family}`;
  }

  read() {
    try {
      return localStorage.getItem(this.key) ?? "";
    } catch {
      return "";
    }
  }

  /** Whether it is kept. @param {string} words */
  write(words) {
    try {
      if (words) localStorage.setItem(this.key, words);
      else localStorage.removeItem(this.key);
      return true;
    } catch {
      return false;
    }
  }
}

/** @param {string} name @param {Readonly<Record<string, string>>} attributes @param {...(Node | string)} inner */
function element(name, attributes, ...inner) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...inner);
  return made;
}

/** One family's page, made to answer to choices. */
export class FamilyPage {
  /**
   * @param {HTMLElement} main the page's `main`, which is drawn anew
   * @param {{page: Document, shared: Document, template: string, root: string}} given
   */
  constructor(main, { page, shared, template, root }) {
    this.main = main;
    this.page = page;
    this.shared = shared;
    this.root = root;
    this.template = readTemplate(template);
    this.kept = new Kept(page["id"]);
    /** @type {Chosen} */
    this.chosen = NOTHING;
    this.told = element("p", { role: "status", "aria-live": "polite", class: "chosen" });
    this.refused = element("p", { role: "alert", class: "hazard" });
    this.form = element("form", { class: "choose", novalidate: "" });
    this.form.append(element("details", {}, element("summary", {}, "Serial number, margin"), ...this.#fields()));
    this.form.addEventListener("submit", (event) => event.preventDefault());
    this.form.addEventListener("change", () => this.choose(this.#typed()));
    const address = new URLSearchParams(location.hash.includes("=") ? location.hash.slice(1) : "");
    const kept = { ...readChosen(new URLSearchParams(this.kept.read())), state: "" };
    this.choose([...address].length ? readChosen(address) : kept, false);
  }

  /** @returns {HTMLElement[]} */
  #fields() {
    const maximum = this.page["figures"].find((/** @type {Document} */ figure) => figure["id"] === "max-advance");
    const states = new Set((maximum?.rows ?? []).map((/** @type {Document} */ row) => row["state"]));
    /** @param {string} name @param {string} words @param {[string, string][]} options */
    const select = (name, words, options) =>
      element("label", {}, words, element("select", { name }, ...options.map(([value, said]) => element("option", { value }, said))));
    const fields = [];
    const sets = [...STATES].filter(([state]) => states.has(state));
    if (sets.length > 1) fields.push(select("state", "Maximum", [["", "as the book has it"], ...sets]));
    const limit = maximum ? marginLimit(this.shared["figures"]["max-advance"]) : Fraction.of(0);
    /** @type {[string, string][]} */
    const margins = [["", "no margin"]];
    for (let margin = HALF; !margin.above(limit); margin = margin.plus(HALF)) {
      margins.push([plain(margin), `${plain(margin)}° late`]);
    }
    if (margins.length > 1) fields.push(select("margin", "Margin", margins));
    fields.push(element("label", {}, "Serial number", element("input", {
      name: "serial", type: "text", maxlength: String(LONGEST), autocomplete: "off", autocapitalize: "characters", spellcheck: "false",
    })));
    return fields;
  }

  /** @returns {Chosen} */
  #typed() {
    const data = new FormData(/** @type {HTMLFormElement} */ (this.form));
    const typed = [...data].flatMap(([name, value]) => (typeof value === "string" ? [[name, value]] : []));
    return readChosen(new URLSearchParams(typed));
  }

  /**
   * Draw the page for a choice. One that the book refuses leaves the page as it was and says why.
   * @param {Chosen} chosen
   * @param {boolean} [byHand]
   */
  choose(chosen, byHand = true) {
    const { state, serial } = chosen;
    let html;
    try {
      const margin = Fraction.of(chosen.margin || "0");
      html = draw(this.template, view(this.page, this.shared, { state, margin, serial }, this.root));
    } catch (error) {
      if (!(error instanceof StopscrewError)) throw error;
      const more = error.candidates.length ? `; it has ${error.candidates.join("; ")}` : "";
      if (!byHand) this.#place();
      this.refused.textContent = error.message + more;
      return;
    }
    this.refused.textContent = "";
    this.chosen = chosen;
    // With nothing chosen the page stands as the server drew it.
    if (byHand || writeChosen(chosen)) this.#show(html);
    else this.#place();
    if (byHand) this.#keep(chosen);
  }

  /** @param {string} html */
  #show(html) {
    const focused = document.activeElement;
    const drawn = new DOMParser().parseFromString(html, "text/html").querySelector("main");
    if (!drawn) return;
    const open = [...this.main.querySelectorAll("section[id] > details[open]")].map((one) => one.parentElement?.id);
    this.main.replaceChildren(...drawn.childNodes);
    for (const id of open) this.main.querySelector(`#${id} > details`)?.setAttribute("open", "");
    this.#place();
    if (focused instanceof HTMLElement && this.form.contains(focused)) focused.focus({ preventScroll: true });
  }

  /** The choices in their place, showing what is chosen. */
  #place() {
    this.main.querySelector("#choices")?.replaceChildren(this.form, this.refused, this.told);
    for (const [name, value] of Object.entries(this.chosen)) {
      const field = this.form.querySelector(`[name=${name}]`);
      if (field instanceof HTMLSelectElement || field instanceof HTMLInputElement) field.value = value;
    }
  }

  /** @param {Chosen} chosen */
  #keep(chosen) {
    const words = writeChosen(chosen);
    history.replaceState(null, "", words ? `#${words}` : location.pathname + location.search);
    const kept = this.kept.write(writeChosen({ ...chosen, state: "" }));
    const [first] = [...this.main.querySelectorAll(".maximum")];
    const said = first?.querySelector(".big, .said")?.textContent?.replace(/\s+/g, " ").trim() ?? "";
    const target = said ? `${first?.querySelector("h2 a")?.textContent}: ${said}. ` : "";
    this.told.textContent = target + (kept ? "" : "This phone does not keep your choice: it stands in the address only.");
  }
}

/** Make the page that is open answer to choices; without its documents it stays as the server drew it. */
export async function begin() {
  const [main, home] = [document.querySelector("main"), document.querySelector("#choices")];
  const root = document.documentElement.dataset["root"] ?? "";
  if (!(main instanceof HTMLElement) || !home) return;
  try {
    const answers = await Promise.all(["page.json", `${root}shared.json`, `${root}assets/family.template`].map((path) => fetch(path)));
    if (answers.some((answer) => !answer.ok)) throw new TypeError("not all of it is there");
    const [page, shared, template] = await Promise.all([answers[0]?.json(), answers[1]?.json(), answers[2]?.text()]);
    new FamilyPage(main, { page, shared, template: template ?? "", root });
  } catch (error) {
    if (!(error instanceof TypeError)) throw error;
    home.textContent = "Serial number and margin can not be chosen now: the page's document could not be fetched.";
  }
}

if (typeof document !== "undefined") void begin();
