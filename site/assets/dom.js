/**
 * Makes elements; words always go in as text, so that nothing typed or read becomes markup.
 */

/** @typedef {Node | string | null | false} Inner null and false are left out */

/**
 * @param {string} name
 * @param {Readonly<Record<string, string | boolean>>} [attributes] true for one without a value; false ones are left out
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
