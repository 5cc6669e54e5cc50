/** Keys, fields and lists of which the screens of a job are built. */

import { element } from "../dom.js";
import { StopscrewError } from "../errors.js";

/**
 * Run what a key does. A refusal of ours is shown where it arises; any other error is a bug and is thrown.
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
 * A key to press. Its `id` keeps the focus on it when the screen is redrawn.
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
 * A choice of one among several, as large keys; each is a radio button for the keyboard and for screen readers.
 * @param {string} name unique on the screen
 * @param {string} legend
 * @param {readonly (readonly [string, string])[]} options value and words
 * @param {string} chosen
 * @param {(value: string) => unknown} choose
 * @param {string} [look] `bare` in a row of its own, where the keys say what is asked
 */
export function choice(name, legend, options, chosen, choose, look = "") {
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
    { class: `choices ${look}`.trim() },
    element("legend", {}, legend),
    element("div", { class: "keys" }, ...keys),
  );
}

/**
 * A field with its name above it.
 * @param {string} id
 * @param {string} label
 * @param {string} value
 * @param {(value: string) => unknown} typed called at every keystroke
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

/** A line for a refusal, empty until there is one. @param {string} words */
export const refusal = (words) => element("p", { class: "refused", role: "alert" }, words);

/** A list of lines; null without lines. @param {readonly string[]} lines @param {string} [look] */
export function lines(lines, look = "") {
  return lines.length
    ? element("ul", look ? { class: look } : {}, ...lines.map((line) => element("li", {}, line)))
    : null;
}
