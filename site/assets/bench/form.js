/**
 * The form of a bench aid: reads the fields, fills them in from a family, and shows the source beside each. What is typed
 * stays on the page: it is neither stored nor put into the address.
 */

import { element } from "../dom.js";
import { allOf } from "./choice-keys.js";
import { readAll } from "./field-value.js";

/** @typedef {import("./field-value.js").Raw} Raw */
/** @typedef {import("./field-value.js").Field} Field */
/** @typedef {import("./field-value.js").FieldList} FieldList */
/** @typedef {import("./family-fields.js").Filled} Filled */

/** The fields of each part of a family; a part with no field changed is the family's own. */
const PARTS = Object.entries({
  figure: ["kind", "printed", "other_end", "bound", "state"],
  correction: ["corrections"],
  engine: ["stroke", "rod"],
  flywheel: ["diameter", "marks_before", "marks_after", "division", "rotation", "marks_on"],
  adjusters: ["part", "turning_in", "locknut", "pitch"],
  compression: ["low", "high"],
  said: ["parts"],
});

const FILE = new Set(["engine", "flywheel", "adjusters"]);

export class AidForm {
  /** @param {HTMLFormElement} form */
  constructor(form) {
    this.form = form;
    this.aid = form.dataset["aid"] ?? "";
    this.kinds = JSON.parse(form.dataset["kinds"] ?? "{}");
    /** The content filled in, by the names of the fields. @type {Map<string, Filled>} */
    this.filled = new Map();
    /** The family's own parts. @type {Record<string, any>} */
    this.held = {};
    this.family = "";
    this.#fold();
    form.addEventListener("input", ({ target }) => {
      const field = target instanceof HTMLElement ? this.#nameOf(target) : "";
      this.#note(field);
      this.#fold();
      if (field === "kind") this.empty(["part", "turning_in", "locknut", "pitch"]); // each figure has its own screw
    });
  }

  /** A field or a list by its name. @param {string} name @returns {HTMLElement | null} */
  field(name) {
    return this.form.querySelector(`[data-name="${name}"], [data-list="${name}"]`);
  }

  /** The name of the field or list that an element belongs to. @param {HTMLElement} inner */
  #nameOf(inner) {
    const list = inner.closest("[data-list]");
    const field = list ?? inner.closest("[data-name]");
    return field instanceof HTMLElement ? (field.dataset["list"] ?? field.dataset["name"] ?? "") : "";
  }

  /**
   * The values of the fields, and the family's own parts that were not changed by hand.
   * @returns {Record<string, any>}
   */
  read() {
    const given = readAll(this.#fields());
    const held = Object.fromEntries(
      PARTS.flatMap(([part, names]) =>
        this.held[part] !== undefined && this.#intact(part, names) ? [[part, this.held[part]]] : [],
      ),
    );
    const origins = Object.fromEntries(
      [...this.filled].flatMap(([name]) => (this.#same(name) ? [[name, this.#origin(name)]] : [])),
    );
    return { ...given, kinds: this.kinds, held, origins };
  }

  /** The source of a filled-in field, as the commands give it. @param {string} name */
  #origin(name) {
    const ofFile =
      PARTS.some(([part, names]) => FILE.has(part) && names.includes(name)) ||
      ["order", "cycle", "even"].includes(name);
    return ofFile ? `file of ${this.family}` : (this.filled.get(name)?.origin ?? "");
  }

  /** @param {string} part @param {readonly string[]} names */
  #intact(part, names) {
    const own = names.filter((name) => this.field(name));
    if (part === "figure" && !this.filled.has("printed")) return false;
    return own.every((name) => (this.filled.has(name) ? this.#same(name) : this.#bare(name)));
  }

  /** @returns {(Field | FieldList)[]} */
  #fields() {
    const outer = allOf(this.form, "[data-name], [data-list]").filter(
      (one) => !one.parentElement?.closest("[data-list]"),
    );
    return outer.map((one) => {
      if (!one.dataset["list"]) return fieldOf(one);
      const rows = allOf(one, "[data-row]").map((row) => allOf(row, "[data-name]").map(fieldOf));
      return {
        name: one.dataset["list"],
        kind: "list",
        label: one.dataset["label"] ?? "",
        shape: one.dataset["shape"] ?? "",
        rows,
      };
    });
  }

  /**
   * Fill in the fields that the aid has.
   * @param {Readonly<Record<string, Filled>>} known
   * @returns {string[]} the labels of the fields filled in
   */
  fill(known) {
    const names = Object.keys(known).filter((name) => this.field(name));
    for (const name of names) {
      const filled = known[name];
      if (!filled) continue;
      this.#put(name, filled);
      this.filled.set(name, filled);
      this.#note(name);
    }
    this.#fold();
    return names.map((name) => this.field(name)?.dataset["label"]?.toLowerCase() ?? "");
  }

  /** Undo the filling in of fields. @param {readonly string[]} names */
  empty(names) {
    for (const name of names) {
      if (!this.filled.delete(name)) continue;
      const field = this.field(name);
      for (const box of allOf(field ?? this.form, "input, select")) reset(box);
      this.#note(name);
    }
  }

  /** @param {string} name @param {Filled} filled */
  #put(name, { raw, rows }) {
    const field = this.field(name);
    if (!field) return;
    if (raw) return putRaw(field, raw);
    const lines = allOf(field, "[data-row]");
    for (const [place, line] of lines.entries()) {
      for (const [at, box] of allOf(line, "[data-name]").entries()) putRaw(box, rows?.[place]?.[at] ?? { text: "" });
    }
    return undefined;
  }

  /** Whether a filled-in field is unchanged. @param {string} name */
  #same(name) {
    const [field, filled] = [this.field(name), this.filled.get(name)];
    if (!field || !filled) return false;
    if (filled.raw) return alike(rawOf(field), filled.raw);
    return allOf(field, "[data-row]").every((line, place) =>
      allOf(line, "[data-name]").every((box, at) => alike(rawOf(box), filled.rows?.[place]?.[at] ?? { text: "" })),
    );
  }

  /** Whether a field is as it was when the page loaded. @param {string} name */
  #bare(name) {
    const boxes = allOf(this.field(name) ?? this.form, "input");
    return boxes.every(
      (box) =>
        box instanceof HTMLInputElement && (box.type === "radio" ? box.checked === box.defaultChecked : !box.value),
    );
  }

  /** Show the source beside a field, or that it was changed, with a key that puts it back. @param {string} name */
  #note(name) {
    const [field, filled] = [this.field(name), this.filled.get(name)];
    const note = field?.querySelector(":scope > .from");
    if (!note) return;
    if (!filled) return note.replaceChildren();
    if (this.#same(name)) return note.replaceChildren(`From ${filled.origin}`);
    const back = element("button", { type: "button", class: "back" }, "Put back");
    back.addEventListener("click", () => {
      this.#put(name, filled);
      this.#note(name);
      field?.querySelector("input")?.focus();
      this.form.dispatchEvent(new Event("input"));
    });
    if (!note.querySelector("button")) note.replaceChildren(`Changed by hand; it was from ${filled.origin} `, back);
    return undefined;
  }

  /**
   * Fold the fields of a figure that is filled in; those of one that is not stay open.
   * @param {boolean} filled
   */
  foldFigure(filled) {
    const kind = this.field("kind");
    const group = this.field("printed")?.closest("details");
    if (kind) kind.hidden = true; // chosen by the keys of the panel
    if (group) group.open = !filled;
  }

  /** Show the fields that the chosen way needs, one row of a list beyond those filled in, and the counts of groups. */
  #fold() {
    for (const field of allOf(this.form, "[data-only]")) {
      const [name = "", value = ""] = (field.dataset["only"] ?? "").split("=");
      const chosen = this.form.querySelector(`input[name="${name}"]:checked`);
      field.hidden = !(chosen instanceof HTMLInputElement && chosen.value === value);
    }
    for (const list of allOf(this.form, "[data-list]")) {
      const rows = allOf(list, "[data-row]");
      const last = rows.findLastIndex((row) => allOf(row, "[data-name]").some((box) => rawOf(box).text));
      const own = this.filled.get("cylinders")?.raw?.text;
      const least = Number(own && this.aid === "compression" ? own : list.dataset["least"]);
      for (const [place, row] of rows.entries()) row.hidden = place >= Math.max(least, own ? last + 1 : last + 2);
    }
    for (const group of allOf(this.form, ".group")) {
      const count = allOf(group, "[data-name], [data-list]").filter(
        (one) => !one.hidden && this.filled.has(one.dataset["name"] ?? one.dataset["list"] ?? ""),
      ).length;
      const summary = group.querySelector("summary");
      if (summary) summary.textContent = `${group.dataset["title"]}${count ? ` (${count} filled in)` : ""}`;
    }
  }
}

/** @param {HTMLElement} field @returns {Field} */
function fieldOf(field) {
  const { name = "", kind = "", label = "" } = field.dataset;
  return { name, kind, label, needed: field.dataset["needed"] !== undefined, raw: rawOf(field) };
}

/** @param {HTMLElement} field @returns {Raw} */
function rawOf(field) {
  const box = field.querySelector("input:not([type=radio])");
  const chosen = field.querySelector("input:checked");
  const key = chosen instanceof HTMLInputElement ? chosen.value : "";
  const unit = field.querySelector("select")?.value;
  if (!(box instanceof HTMLInputElement)) return { text: key };
  return { text: box.value, side: key, ...(unit === undefined ? {} : { unit }) };
}

/** @param {HTMLElement} field @param {Raw} raw */
function putRaw(field, { text, unit = "", side = "" }) {
  const box = field.querySelector("input:not([type=radio])");
  const select = field.querySelector("select");
  if (select && [...select.options].some((option) => option.value === unit)) select.value = unit;
  if (box instanceof HTMLInputElement) box.value = text;
  for (const key of allOf(field, "input[type=radio]")) {
    if (key instanceof HTMLInputElement) key.checked = key.value === (box ? side : text);
  }
}

/** @param {Raw} one @param {Raw} other */
const alike = (one, other) =>
  one.text === other.text &&
  (one.side ?? "") === (other.side ?? "") &&
  (one.unit === undefined || other.unit === undefined || one.unit === other.unit);

/** @param {HTMLElement} box */
function reset(box) {
  if (box instanceof HTMLSelectElement) box.selectedIndex = 0;
  else if (box instanceof HTMLInputElement && box.type === "radio") box.checked = box.defaultChecked;
  else if (box instanceof HTMLInputElement) box.value = "";
}
