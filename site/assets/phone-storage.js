/**
 * Texts stored on this phone between visits, or in one of its windows until that is closed; if storage is refused or full,
 * nothing is stored and nothing breaks.
 */

/** @typedef {() => Storage} Place where it is stored; asking for it may be refused */

/** @type {Place} */
const PHONE = () => localStorage;
/** A window keeps its texts when it is loaded anew. @type {Place} */
export const WINDOW = () => sessionStorage;

/** The text stored under a name; empty if there is none. @param {string} name */
export function recall(name, place = PHONE) {
  try {
    return place().getItem(name) ?? "";
  } catch {
    return "";
  }
}

/** Store a text; an empty one removes it. Returns whether that worked. @param {string} name @param {string} words */
export function remember(name, words, place = PHONE) {
  try {
    if (words) place().setItem(name, words);
    else place().removeItem(name);
    return true;
  } catch {
    return false;
  }
}
