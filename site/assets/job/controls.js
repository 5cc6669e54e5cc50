/** Parts that the screens of a job are built of. */

import { element } from "../dom.js";
import { StopscrewError } from "../errors.js";

/**
 * Do what was asked by hand. A refusal of ours was told where it arose; anything else is a fault, and shows.
 * @param {() => unknown} act
 */
export async function acted(act) {
  try {
    await act();
  } catch (error) {
    if (!(error instanceof StopscrewError)) throw error;
  }
}

/**
 * A key to press. Its `id` lets the eye and the keyboard stay where they are when the screen is drawn anew.
 * @param {string} words
 * @param {() => unknown} press
 * @param {Readonly<Record<string, string | boolean>>} [attributes]
 */
export function key(words, press, attributes = {}) {
  const made = element("button", { type: "button", ...attributes }, words);
  made.addEventListener("click", () => void acted(press));
  return made;
}

/**
 * One of several, as large keys; each is a radio button to the keyboard and to a reader of the screen.
 * @param {string} name unique on the screen
 * @param {string} legend
 * @param {readonly (readonly [string, string])[]} options value and words
 * @param {string} chosen
 * @param {(value: string) => unknown} choose
 */
export function choice(name, legend, options, chosen, choose) {
  const keys = options.map(([value, words]) => {
    const box = element("input", {
      type: "radio",
      name,
      value,
      id: `${name}-${value || "none"}`,
      checked: value === chosen,
    });
    box.addEventListener("change", () => void acted(() => choose(value)));
    return element("label", { class: "choice" }, box, element("span", {}, words));
  });
  return element(
    "fieldset",
    { class: "choices" },
    element("legend", {}, legend),
    element("div", { class: "keys" }, ...keys),
  );
}

/**
 * A field with its name above it.
 * @param {string} id
 * @param {string} label
 * @param {string} value
 * @param {(value: string) => unknown} typed at every stroke
 * @param {Readonly<Record<string, string | boolean>>} [attributes]
 */
export function field(id, label, value, typed, attributes = {}) {
  const name = attributes["rows"] ? "textarea" : "input";
  const box = element(name, { id, autocomplete: "off", ...(name === "input" ? { type: "text" } : {}), ...attributes });
  if (box instanceof HTMLInputElement || box instanceof HTMLTextAreaElement) {
    box.value = value;
    box.addEventListener("input", () => void typed(box.value));
  }
  return element("div", { class: "field" }, element("label", { for: id }, label), box);
}

/** What was refused, in words; empty until something is. @param {string} words */
export const refusal = (words) => element("p", { class: "refused", role: "alert" }, words);

/** A list of lines; nothing where there are none. @param {readonly string[]} lines @param {string} [look] */
export function lines(lines, look = "") {
  return lines.length
    ? element("ul", look ? { class: look } : {}, ...lines.map((line) => element("li", {}, line)))
    : null;
}
