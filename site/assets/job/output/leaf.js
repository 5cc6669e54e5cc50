/** Words in short for the leaf of a sheet: a name cut to its place, a step told by its first sentence. */

/** The end of words that were cut. */
export const CUT = "…";

/** The most letters of a step on the leaf. */
const SENTENCE = 112;

/** A step that begins with fewer letters than this, such as "Key off.", is told by its second sentence too. */
const SHORT_SENTENCE = 30;

/**
 * Words of at most so many letters, cut between two parts of it or two words, where there is a place for it.
 * @param {string} words
 * @param {number} most
 */
export function clipped(words, most) {
  const line = words.split(/\s+/u).filter(Boolean).join(" ");
  const letters = [...line];
  if (letters.length <= most) return line;
  const kept = letters.slice(0, most).join("");
  const ends = [", ", "; ", " "].map((end) => kept.lastIndexOf(end));
  const end = ends.find((at) => at > Math.floor(most / 2));
  const whole = end === undefined ? letters.slice(0, most - 1).join("") : kept.slice(0, end);
  return whole.replace(/[ ,;:.]+$/u, "") + CUT;
}

/**
 * What a step says to do in its first sentence, or in two where the first alone says little.
 * @param {string} words
 * @param {number} [most]
 */
export function inShort(words, most = SENTENCE) {
  const line = words.split(/\s+/u).filter(Boolean).join(" ");
  const [first = "", second = ""] = line.split(/(?<=[.!?])\s+/u);
  return clipped(second && first.length < SHORT_SENTENCE ? `${first} ${second}` : first, most);
}
