// Words as typed and as printed, brought to one form: the same as kb/book/find/words.py.

const LONGEST_NAME = 200;
export const FIRST_YEAR = 1880;
export const LAST_YEAR = 2050;

/** A letter, a digit of any script, or a low line, as a class for patterns. */
export const IN_WORD = "[\\p{L}\\p{N}_]";
/** A plain number, or a run of letters. */
export const WORD = "[0-9]+(?:\\.[0-9]+)?|(?:(?![0-9])[\\p{L}\\p{N}])+";

/** @type {Record<string, string>} */
const LETTERS = { ß: "ss", ς: "σ", ø: "o", đ: "d", ł: "l", æ: "ae", œ: "oe", "’": "'", "‘": "'", "–": "-", "—": "-" };
export const WORDS = new RegExp(WORD, "gu");
export const PLAIN_WORDS = /[0-9]+(?:\.[0-9]+)?|[a-z]+/g;
export const NOT_ASCII = /[^\x00-\x7f]/;
const INSIDE =
  /(?<=(?!_|[0-9])[\p{L}\p{N}])'(?=(?![0-9])[\p{L}\p{N}])|(?<=(?<![\p{L}\p{N}_])h)\.(?=p(?![\p{L}\p{N}_]))/gu;
const PLAIN_INSIDE = /(?<=[a-z])'(?=[a-z])|(?<=(?<![a-z0-9_])h)\.(?=p(?![a-z0-9_]))/g;
const BLANKS = /[\s\x1c-\x1f\x85]+/g;

/**
 * Text without case and accents and with single spaces, so that spellings of one word become equal.
 * @param {string} text
 */
export function fold(text) {
  let folded = text.toLowerCase();
  if (NOT_ASCII.test(text)) {
    folded = folded
      .replace(/[ßς]/g, (letter) => LETTERS[letter] ?? letter)
      .normalize("NFKD")
      .toLowerCase();
    folded = folded.replace(/[ßςøđłæœ’‘–—]/g, (letter) => LETTERS[letter] ?? letter).replace(/\p{M}/gu, "");
  }
  folded = folded.replace(BLANKS, " ").trim();
  if (!folded.includes("'") && !folded.includes(".")) return folded;
  return folded.replace(NOT_ASCII.test(folded) ? INSIDE : PLAIN_INSIDE, "");
}

/**
 * A number without trailing zeros after the point; other words unchanged.
 * @param {string} word
 */
export function plainWord(word) {
  return word.includes(".") ? word.replace(/0+$/, "").replace(/\.$/, "") : word;
}

/**
 * The words of a text, folded; "and" does not count.
 * @param {string} text
 * @returns {string[]}
 */
export function wordsOf(text) {
  const folded = fold(text);
  const words = folded.match(NOT_ASCII.test(folded) ? WORDS : PLAIN_WORDS) || [];
  if (!folded.includes(".") && !folded.includes("and")) return words;
  return words.map(plainWord).filter((word) => word !== "and");
}

/**
 * The beginning of a text, cut between whole characters.
 * @param {string} text
 */
export function beginning(text) {
  return text.length <= LONGEST_NAME ? text : [...text].slice(0, LONGEST_NAME).join("");
}

/**
 * A key that is the same for all spellings of an id or a name.
 * @param {string} text
 */
export function nameKey(text) {
  return wordsOf(beginning(text)).join(" ").replaceAll(".", " ");
}
