/**
 * A bench aid's page: reads what is typed, works it out, and shows answer, working and cautions; errors in words, with
 * what to type. What is typed stays on the page: nothing of it goes into the address or is kept.
 */

import { QuantityError, StopscrewError } from "../errors.js";
import { Fraction } from "../quantity/fraction.js";
import { readNumber } from "../quantity/number.js";
import { unitOf } from "../quantity/unit.js";

/** @typedef {import("./said.js").Worked} Worked */

const FAMILY = /^[a-z0-9-]+\/[a-z0-9-]+$/;

/** @param {string} name @param {...(Node | string)} inner */
function element(name, ...inner) {
  const made = document.createElement(name);
  made.append(...inner);
  return made;
}

/** A number as fingers type it: a comma for the point, nothing before the point. @param {string} text */
function asPlain(text) {
  const pointed = text.trim().replace(",", ".");
  return pointed.startsWith(".") ? `0${pointed}` : pointed;
}

/**
 * What one field holds: nothing where it is empty.
 * @param {HTMLElement} field
 */
function valueOf(field) {
  const { kind = "", label = "" } = field.dataset;
  const box = field.querySelector("input:not([type=radio]), select");
  const typed = box instanceof HTMLInputElement || box instanceof HTMLSelectElement ? box.value : "";
  if (kind === "choice") {
    const chosen = field.querySelector("input:checked");
    return chosen instanceof HTMLInputElement ? chosen.value : "";
  }
  if (kind === "words") return typed.trim();
  const text = asPlain(typed);
  if (!text) return null;
  const { value } = said(label, () => readNumber(text, { fractions: true }));
  if (kind === "number") return value;
  if (kind === "size") {
    const unit = field.querySelector("select");
    return { value, text, unit: unitOf(unit?.value ?? "mm") };
  }
  const side = field.querySelector("input:checked");
  if (!(side instanceof HTMLInputElement)) {
    if (!value.sign()) return value;
    throw new QuantityError(`${label}: choose one of the two keys beside ${text}`);
  }
  return ["before", "in"].includes(side.value) ? value : value.negative();
}

/** @template T @param {string} label @param {() => T} read @returns {T} */
function said(label, read) {
  try {
    return read();
  } catch (error) {
    if (error instanceof StopscrewError) throw new QuantityError(`${label}: ${error.message}`);
    throw error;
  }
}

/**
 * What all fields hold, by name. Fields of one list stand under the list's name, empty rows left out; a row of two is
 * a pair.
 * @param {HTMLFormElement} form
 */
export function typedIn(form) {
  /** @type {Record<string, any>} */
  const given = {};
  for (const field of fieldsOf(form, ":scope > [data-name]")) {
    const { name = "", label = "" } = field.dataset;
    const value = valueOf(field);
    if (field.dataset["needed"] !== undefined && (value === null || value === "")) {
      throw new QuantityError(`${label}: it is still empty`);
    }
    given[name] = value;
  }
  for (const list of fieldsOf(form, "[data-list]")) {
    const rows = fieldsOf(list, "[data-row]").map((row) => {
      const values = fieldsOf(row, "[data-name]").map(valueOf);
      if (values.every((value) => value === null)) return null;
      if (values.includes(null)) throw new QuantityError(`${row.dataset["row"]}: one of its two numbers is still empty`);
      return values.length > 1 ? values : values[0];
    });
    given[list.dataset["list"] ?? ""] = rows.filter((row) => row !== null);
  }
  return given;
}

/** @param {HTMLElement} home @param {string} selector */
function fieldsOf(home, selector) {
  return [...home.querySelectorAll(selector)].filter((one) => one instanceof HTMLElement);
}

/** @param {HTMLElement} home @param {Worked} worked */
function show(home, { answer, steps, remarks, cautions }) {
  const [first = "", ...more] = answer;
  const working = element("details", element("summary", "How it was worked out"));
  for (const { name, formula, inputs, result } of steps) {
    const list = element("ul", ...inputs.map(([what, value]) => element("li", `${what}: ${value}`)));
    working.append(element("p", element("strong", name), `: ${formula} = ${result}`), list);
  }
  const careful = element("ul", ...cautions.map((caution) => element("li", caution)));
  careful.className = "cautions";
  const big = element("p", first);
  big.className = "answer";
  const rest = [...more.map((line) => element("p", line)), ...(cautions.length ? [careful] : [])];
  home.replaceChildren(big, ...rest, element("ul", ...remarks.map((remark) => element("li", remark))), working);
}

/** @param {HTMLElement} home @param {unknown} error */
function refuse(home, error) {
  if (!(error instanceof StopscrewError)) throw error;
  const words = element("p", error.message);
  words.className = "refused";
  home.replaceChildren(words);
}

/**
 * Fill in what the family's page document holds: `data-from` of a field leads to it, as `engine.stroke`; a star in it stands for
 * the figure that the address names, or the maximum.
 * @param {HTMLFormElement} form
 * @param {HTMLElement} told where to say whose numbers these are
 * @param {string} root leads from the page to the site's root
 */
export async function fillFrom(form, told, root) {
  const address = new URLSearchParams(location.search);
  const [family, figure] = [address.get("family") ?? "", address.get("figure") || "max-advance"];
  if (!family) return;
  try {
    if (!FAMILY.test(family)) throw new TypeError("no such id");
    const answer = await fetch(`${root}families/${family}/page.json`);
    if (!answer.ok) throw new TypeError(`${answer.status}`);
    const held = await answer.json();
    const filled = fieldsOf(form, "[data-from]").filter((field) => fill(field, held, figure));
    const names = filled.map((field) => field.dataset["label"]).join(", ").toLowerCase();
    told.textContent = names
      ? `From the file of ${held.name}: ${names}. Look whether they are right for your engine.`
      : `The file of ${held.name} tells none of these numbers: type them.`;
  } catch {
    told.textContent = "The numbers of that family could not be read here: type them.";
  }
}

/** @param {HTMLElement} field @param {any} held @param {string} figure */
function fill(field, held, figure) {
  const path = (field.dataset["from"] ?? "").split(".").map((name) => (name === "*" ? figure : name));
  const raw = path.reduce((inner, name) => (inner && Object.hasOwn(inner, name) ? inner[name] : undefined), held);
  if (raw === undefined || raw === null) return false;
  if (field.dataset["kind"] === "choice") {
    const box = fieldsOf(field, "input").find((one) => one instanceof HTMLInputElement && one.value === raw);
    if (box instanceof HTMLInputElement) box.checked = true;
    return Boolean(box);
  }
  const box = field.querySelector("input");
  const [unit, number] = Object.entries(raw)[0] ?? [];
  const text = Array.isArray(raw) ? raw.join("-") : number;
  if (!box || typeof text !== "string") return false;
  const select = field.querySelector("select");
  if (select && ![...select.options].some((option) => option.value === unit)) return false;
  if (select) select.value = unit ?? "";
  box.value = text;
  return true;
}

/**
 * Make a bench aid's form work.
 * @param {(given: any) => Worked} work
 */
export function begin(work) {
  const form = document.querySelector("form");
  const [result, told] = [document.getElementById("result"), document.getElementById("from-family")];
  if (!(form instanceof HTMLFormElement) || !result || !told) return;
  form.hidden = false;
  let asked = false;
  const workOut = () => {
    try {
      show(result, work(typedIn(form)));
    } catch (error) {
      refuse(result, error);
    }
  };
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    asked = true;
    workOut();
  });
  // What stands there is never older than what is typed above it.
  form.addEventListener("input", () => asked && workOut());
  void fillFrom(form, told, form.dataset["root"] ?? "");
}
