// Misspellings: words of the index close to what was typed; the same as kb/book/find/misspelling.py.

import { word } from "./query-text.js";

/** @typedef {import("./query-text.js").Word} Word */
/** @typedef {import("./query-text.js").Group} Group */

const MOST_SPELLINGS = 24;
export const ALL_LETTERS = /^\p{L}+$/u;
const FOUR_DIGITS = /^\p{Nd}{4}$/u;

/** Words of three letters or more, and years. @param {string} text */
export const mayBeMisspelt = (text) => (text.length >= 3 && ALL_LETTERS.test(text)) || FOUR_DIGITS.test(text);

/**
 * The words at most so many slips from what was typed; nearest first, then by letters.
 * @param {Set<string>} vocabulary
 * @param {Word} one
 * @param {number} edits
 * @returns {Group[]}
 */
export function speltOtherwise(vocabulary, one, edits) {
  const [[only = "", ...others] = []] = one.exact;
  const typed = one.grows && !others.length ? only : "";
  if (!mayBeMisspelt(typed)) return [];
  const most = edits > 1 && typed.length < 7 ? 1 : edits;
  /** @type {[number, string][]} */
  const near = [];
  for (const known of sharingAPiece(vocabulary, typed, most)) {
    const longer = Math.max(typed.length, known.length);
    const allowed = Math.min(most, longer >= 8 ? 2 : longer >= 4 ? 1 : 0);
    let slips = 0;
    for (let count = 1; count <= allowed && !slips; count++) if (within(typed, known, count)) slips = count;
    if (!slips && typed.length >= 5 && begins(typed, known)) slips = 3; // after every whole word
    if (slips) near.push([slips, known]);
  }
  near.sort((a, b) => a[0] - b[0] || (a[1] < b[1] ? -1 : 1));
  return near.slice(0, MOST_SPELLINGS).map(([, known]) => [known]);
}

/**
 * The same words with a superfluous space removed, or a missing one added.
 * @param {Set<string>} vocabulary
 * @param {Word[]} words
 * @returns {Word[][]}
 */
export function withBlanksMoved(vocabulary, words) {
  const moved = [];
  for (const [at, one] of words.entries()) {
    const next = words[at + 1];
    if (next && vocabulary.has(one.typed + next.typed)) {
      const joined = one.typed + next.typed;
      const places = [...new Set([...one.places, ...next.places])];
      moved.push([...words.slice(0, at), word(joined, [[joined]], { places }), ...words.slice(at + 2)]);
    }
    if (ALL_LETTERS.test(one.typed)) {
      const groups = [];
      for (let cut = 3; cut < Math.min(one.typed.length, 30) - 2; cut++) {
        const halves = [one.typed.slice(0, cut), one.typed.slice(cut)];
        if (halves.every((half) => vocabulary.has(half))) groups.push(halves);
      }
      if (groups.length) {
        moved.push([...words.slice(0, at), word(one.typed, groups, { places: one.places }), ...words.slice(at + 1)]);
      }
    }
  }
  return moved;
}

/**
 * Whether two words are at most so many slips apart.
 * @param {string} one
 * @param {string} other
 * @param {number} slips
 * @returns {boolean}
 */
export function within(one, other, slips) {
  if (Math.abs(one.length - other.length) > slips) return false;
  let same = 0;
  while (same < one.length && same < other.length && one[same] === other[same]) same++;
  const a = one.slice(same);
  const b = other.slice(same);
  if (!a || !b) return true;
  if (!slips) return false;
  const left = slips - 1;
  return (
    within(a.slice(1), b.slice(1), left) ||
    within(a, b.slice(1), left) ||
    within(a.slice(1), b, left) ||
    (a.length > 1 && a[0] === b[1] && a[1] === b[0] && within(a.slice(2), b.slice(2), left))
  );
}

/**
 * Whether what was typed is the beginning of a longer word, with one slip.
 * @param {string} typed
 * @param {string} known
 */
function begins(typed, known) {
  return (
    known.length > typed.length + 1 && [-1, 0, 1].some((more) => within(typed, known.slice(0, typed.length + more), 1))
  );
}

/**
 * The words that can be so near: of one piece more than there are slips, at least one piece is intact.
 * @param {Set<string>} vocabulary
 * @param {string} typed
 * @param {number} slips
 */
function sharingAPiece(vocabulary, typed, slips) {
  const size = Math.floor((typed.length - slips) / (slips + 1));
  const pieces = [];
  for (let at = 0; at <= slips; at++) {
    const start = at * (size + 1);
    pieces.push(at === slips ? typed.slice(start) : typed.slice(start, start + size));
  }
  const [first, ...others] = pieces;
  return [...vocabulary].filter(
    (known) =>
      known.length >= typed.length - slips &&
      (known.startsWith(first ?? "") || others.some((piece) => known.includes(piece))),
  );
}
