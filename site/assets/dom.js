/**
 * Elements made of names, attributes and texts: all words go in as text, so that nothing typed or read is ever markup.
 */

/** @typedef {Node | string | null | false} Inner what is nothing is left out */

/**
 * @param {string} name
 * @param {Readonly<Record<string, string | boolean>>} [attributes] true for one without a value, false for none
 * @param {...Inner} inner
 * @returns {HTMLElement}
 */
export function element(name, attributes = {}, ...inner) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) {
    if (value !== false) made.setAttribute(key, value === true ? "" : value);
  }
  made.append(...inner.filter((one) => one !== null && one !== false));
  return made;
}
