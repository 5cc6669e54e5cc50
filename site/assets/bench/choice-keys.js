/** Keys to choose from, and elements of a page by a selector. */

import { element } from "../dom.js";

/** @param {ParentNode} home @param {string} selector */
export function allOf(home, selector) {
  return [...home.querySelectorAll(selector)].filter((one) => one instanceof HTMLElement);
}

/**
 * Keys, of which one is chosen.
 * @param {string} name
 * @param {string} legend
 * @param {readonly {value: string, words: string, more?: string, chosen: boolean}[]} keys
 * @param {(value: string) => void} choose
 */
export function choiceKeys(name, legend, keys, choose) {
  const made = keys.map(({ value, words, more, chosen }) => {
    const box = element("input", { type: "radio", name, value, ...(chosen ? { checked: "" } : {}) });
    box.addEventListener("change", () => choose(value));
    const said = element("b", {}, words, ...(more ? [" ", element("small", {}, more)] : []));
    return element("label", { class: "key" }, box, element("span", {}, said));
  });
  return element(
    "fieldset",
    { class: "ways" },
    element("legend", {}, legend),
    element("div", { class: "keys" }, ...made),
  );
}
