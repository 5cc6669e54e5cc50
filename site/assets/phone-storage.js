/** A few words that this phone keeps between visits; a refused or full storage keeps none, and nothing breaks. */

/** What is kept under a name; empty where nothing is. @param {string} name */
export function recall(name) {
  try {
    return localStorage.getItem(name) ?? "";
  } catch {
    return "";
  }
}

/** Whether the words are kept now; empty ones are forgotten. @param {string} name @param {string} words */
export function remember(name, words) {
  try {
    if (words) localStorage.setItem(name, words);
    else localStorage.removeItem(name);
    return true;
  } catch {
    return false;
  }
}
