/** Texts stored on this phone between visits; if storage is refused or full, nothing is stored and nothing breaks. */

/** The text stored under a name; empty if there is none. @param {string} name */
export function recall(name) {
  try {
    return localStorage.getItem(name) ?? "";
  } catch {
    return "";
  }
}

/** Store a text; an empty one removes it. Returns whether that worked. @param {string} name @param {string} words */
export function remember(name, words) {
  try {
    if (words) localStorage.setItem(name, words);
    else localStorage.removeItem(name);
    return true;
  } catch {
    return false;
  }
}
