// The box for finding a family, on the start page and at the foot of every other page.

// Every module that these import is named here too, so that all are fetched at once on a slow line.
import "../columns.js";
import { element } from "../dom.js";
import "./alternatives.js";
import "./known-facts.js";
import "./misspelling.js";
import { Narrowing } from "./narrowing.js";
import "./query-text.js";
import "./reasons.js";
import { search } from "./searching.js";
import "./serials.js";
import "./words.js";
import "./index/bit-set.js";
import { Index } from "./index/index.js";
import "./index/number-columns.js";
import "./index/plain-column.js";
import "./index/range-columns.js";
import "./index/word-columns.js";

/** @typedef {import("./searching.js").Hit} Hit */
/** @typedef {import("./narrowing.js").NarrowingKey} NarrowingKey */

const AT_ONCE = 20;
const MOST = 200;
const byName = new Intl.Collator("en", { numeric: true });

/** The box, its results and the choices, in one element. `data-root` is the path from the page to the site's root. */
export class FindingBox {
  /** @param {HTMLElement} home */
  constructor(home) {
    this.root = home.dataset["root"] || "";
    const id = home.id || "finding";
    /** @type {Index|null} */
    this.index = null;
    /** @type {Narrowing|null} */
    this.narrowing = null;
    /** @type {Promise<void>|null} */
    this.loading = null;
    this.shown = AT_ONCE;
    this.box = /** @type {HTMLInputElement} */ (
      element("input", {
        type: "search",
        id: `${id}-box`,
        class: "finding-box",
        autocomplete: "off",
        autocapitalize: "none",
        spellcheck: "false",
        enterkeyhint: "search",
        "aria-describedby": `${id}-hint`,
      })
    );
    this.hint = element(
      "p",
      { id: `${id}-hint`, class: "finding-hint" },
      "Maker, name, power, year, serial number, or what is stamped on it, in any order",
    );
    this.state = element("p", { role: "status", class: "finding-state" });
    this.list = element("ul", { class: "finding-rows" });
    this.more = /** @type {HTMLButtonElement} */ (
      element("button", { type: "button", class: "finding-more", hidden: "" }, "Show more")
    );
    /** @type {Map<NarrowingKey, HTMLSelectElement>} */
    this.choices = new Map();
    const fields = element("div", { class: "finding-fields" });
    const choices = element(
      "details",
      { class: "finding-choices" },
      element("summary", {}, "Or narrow by choice"),
      fields,
    );
    for (const [key, label] of /** @type {[NarrowingKey, string][]} */ ([
      ["maker", "Maker"],
      ["cylinders", "Cylinders"],
      ["ignition", "Ignition"],
      ["years", "Years"],
    ])) {
      const select = /** @type {HTMLSelectElement} */ (element("select", { id: `${id}-${key}` }));
      this.choices.set(key, select);
      fields.append(element("div", {}, element("label", { for: select.id }, label), select));
      select.addEventListener("change", () => this.find());
    }
    this.box.addEventListener("focus", () => this.load());
    this.box.addEventListener("input", () => this.find());
    choices.addEventListener("toggle", () => (this.index ? this.draw() : this.load()));
    this.more.addEventListener("click", () => this.showMore());
    const form = element(
      "form",
      { role: "search", class: "finding" },
      element("label", { for: this.box.id, class: "finding-label" }, "Find your engine"),
      this.box,
      this.hint,
      choices,
      this.state,
      this.list,
      this.more,
    );
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.list.querySelector("a")?.focus();
    });
    form.addEventListener("keydown", (event) => this.moveFocus(event));
    home.append(form);
    home.hidden = false;
    this.list.addEventListener("click", () => this.saveState());
    this.restoreState(choices);
  }

  /** Store the search with the history entry, so that it is there on coming back. */
  saveState() {
    history.replaceState(
      { ...history.state, finding: { words: this.box.value, chosen: this.chosen(), shown: this.shown } },
      "",
    );
  }

  /** @param {HTMLElement} choices */
  restoreState(choices) {
    /** @type {{words: string, chosen: [NarrowingKey, string][], shown: number}|undefined} */
    const asked = history.state?.finding;
    if (!asked) return;
    this.box.value = asked.words;
    for (const [key, value] of asked.chosen) {
      this.choices.get(key)?.replaceChildren(element("option", { value, selected: "" }));
      choices.setAttribute("open", "");
    }
    this.find();
    this.shown = asked.shown;
  }

  /** Fetch the index once; again if that failed. */
  load() {
    this.loading ||= (async () => {
      try {
        const answer = await fetch(`${this.root}finding/index.bin`);
        if (!answer.ok) throw new Error(String(answer.status));
        this.index = await Index.read(await answer.arrayBuffer());
        this.narrowing = new Narrowing(this.index);
        this.draw();
        setTimeout(() => this.index?.warm(), 50);
      } catch {
        this.loading = null;
        this.say(
          "The list of engines could not be loaded: no signal, and no copy on this phone yet. Type again to retry.",
        );
      }
    })();
    return this.loading;
  }

  find() {
    this.hint.hidden = Boolean(this.box.value); // the results take its place
    this.shown = AT_ONCE;
    if (this.index) this.draw();
    else {
      this.say("Fetching the list of engines …");
      this.load();
    }
  }

  showMore() {
    const first = this.shown;
    this.shown += AT_ONCE;
    this.draw();
    /** @type {HTMLElement|null} */ (this.list.children[first]?.querySelector("a"))?.focus();
  }

  /** @param {string} text */
  say(text) {
    if (this.state.textContent !== text) this.state.textContent = text;
  }

  /** Arrow keys move between the box and the rows; Escape returns to the box. @param {KeyboardEvent} event */
  moveFocus(event) {
    const links = [...this.list.querySelectorAll("a")];
    const at = links.indexOf(/** @type {any} */ (document.activeElement));
    if (event.key === "Escape" && at >= 0) this.box.focus();
    else if (event.key === "ArrowDown" && (at >= 0 || event.target === this.box)) (links[at + 1] || links[at])?.focus();
    else if (event.key === "ArrowUp" && at >= 0) (links[at - 1] ?? this.box).focus();
    else return;
    event.preventDefault();
  }

  /** Fill each choice with the number of families that it would leave. @param {number[]} places */
  count(places) {
    const narrowing = /** @type {Narrowing} */ (this.narrowing);
    for (const [key, select] of this.choices) {
      const others = this.chosen().filter(([other]) => other !== key);
      const kept = select.value;
      const counts = narrowing.counts(
        key,
        others.length ? places.filter((place) => narrowing.holdsAll(others, place)) : places,
      );
      if (kept && !counts.has(kept)) counts.set(kept, 0);
      const named = [...counts].map(
        ([value, count]) => /** @type {const} */ ([value, narrowing.inWords(key, value), count]),
      );
      named.sort((a, b) => byName.compare(a[1], b[1]));
      select.replaceChildren(
        element("option", { value: "" }, "any"),
        ...named.map(([value, name, count]) => element("option", { value }, `${name} (${count})`)),
      );
      select.value = kept;
    }
  }

  /** The chosen values. @returns {[NarrowingKey, string][]} */
  chosen() {
    return [...this.choices].filter(([, select]) => select.value).map(([key, select]) => [key, select.value]);
  }

  choicesOpen() {
    return Boolean(this.list.parentElement?.querySelector("details")?.open);
  }

  draw() {
    const { index, narrowing: choices } = this;
    const chosen = this.chosen();
    if (!index || !choices) return;
    const words = this.box.value;
    const narrowing = Boolean(chosen.length) || this.choicesOpen();
    const most = narrowing ? MOST : Math.min(MOST, this.shown + 1);
    const hits = words.trim() ? search(index, words, most) : null;
    const every = hits ? hits.map((hit) => hit.place) : [...Array(index.count).keys()];
    if (narrowing) this.count(every);
    const places = chosen.length ? every.filter((place) => choices.holdsAll(chosen, place)) : every;
    const nothingAsked = !hits && !chosen.length;
    /** @type {Map<number, Hit>} */
    const byPlace = new Map((hits || []).map((hit) => [hit.place, hit]));
    const rows = nothingAsked ? [] : places.slice(0, this.shown);
    this.list.replaceChildren(...rows.map((place) => this.row(place, byPlace.get(place))));
    this.more.hidden = nothingAsked || places.length <= this.shown;
    if (nothingAsked) this.say("");
    else if (!places.length) {
      this.say(
        hits?.length
          ? "Nothing found with these choices; set one back to “any”."
          : "Nothing found. Try fewer words, or the maker and the power.",
      );
    } else {
      const without = hits?.find((hit) => byPlace.has(hit.place) && hit.leftOut)?.leftOut;
      const number =
        hits && hits.length >= most ? `More than ${Math.min(places.length, most) - 1}` : String(places.length);
      this.say(`${without ? `Nothing has all of these words; tried without “${without}”: ` : ""}${number} found`);
    }
  }

  /** @param {number} place @param {Hit} [hit] */
  row(place, hit) {
    const index = /** @type {Index} */ (this.index);
    const [power = "power not given"] = index.power(place);
    const facts = [power, index.yearsInWords(place) || "years not given"].join(" · ");
    const link = element(
      "a",
      { href: `${this.root}families/${index.id(place)}/` },
      element("strong", {}, `${index.makerNames(place)[0]} ${index.name(place)}`),
      " ",
      element("span", {}, facts),
    );
    if (index.hasTwin(place)) {
      const lookFor = index.text("look_for", place);
      const serials = index.serialsInWords(place);
      const apart = [serials && `serials ${serials}`, lookFor && `look for ${lookFor}`].filter(Boolean).join(" · ");
      link.append(" ", element("small", {}, apart));
    }
    const why = hit?.matched.split("; without “")[0];
    if (why && hit && hit.score < 95) link.append(" ", element("small", {}, why));
    return element("li", {}, link);
  }
}

for (const home of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-finding]"))) {
  const finding = new FindingBox(home);
  const folded = home.closest("details");
  if (folded) {
    const enter = () => {
      if (!folded.open) return;
      folded.scrollIntoView({ behavior: "instant" }); // the results need room below it
      finding.box.focus({ preventScroll: true });
    };
    folded.addEventListener("toggle", enter);
    enter();
  } else if ("requestIdleCallback" in window) requestIdleCallback(() => finding.load(), { timeout: 3000 });
  else setTimeout(() => finding.load(), 1000);
}
