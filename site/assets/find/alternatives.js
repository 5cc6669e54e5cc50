// The ways in which a family may have the typed words: as whole words, as beginnings, side by side.

/** @typedef {import("./query-text.js").Word} Word */
/** @typedef {{words: [string, boolean][]}[]} Alternatives alternatives, each with words and whether each may be only a beginning */

/** One word as typed. @param {Word} word @returns {Alternatives} */
export const exactly = (word) => word.exact.map((group) => ({ words: group.map((one) => [one, false]) }));

/** One word as a beginning, with everything else it may mean. @param {Word} word @returns {Alternatives} */
export const begun = (word) => [
  ...word.exact.map((group) => ({ words: /** @type {[string, boolean][]} */ (group.map((one) => [one, word.grows])) })),
  ...[...word.wider, ...word.alsoNear].map((group) => ({
    words: /** @type {[string, boolean][]} */ (group.map((one) => [one, false])),
  })),
];

/** @param {Word} word */
const plainReadings = (word) =>
  [...word.exact, ...word.alsoNear]
    .filter((group) => group.length === 1 && !group[0]?.startsWith("~"))
    .map(([one = ""]) => one)
    .slice(0, 8);

/**
 * The typed words, two of them side by side in a name; null if none can be.
 * @param {Alternatives[]} each
 * @param {Word[]} words
 */
export function together(each, words) {
  /** @type {Alternatives} */
  const pairs = [];
  for (let at = 1; at < words.length; at++) {
    const first = words[at - 1];
    const second = words[at];
    if (!first?.places.length || !second?.places.length || Math.max(...first.places) + 1 !== Math.min(...second.places))
      continue;
    for (const one of plainReadings(first)) {
      for (const other of plainReadings(second)) pairs.push({ words: [[`~${one}~${other}`, false]] });
    }
  }
  return pairs.length ? [...each, pairs] : null;
}
