// Words as typed and as printed, brought to one form: the same as kb/book/find/words.py.

const LONGEST_NAME = 200;
export const FIRST_YEAR = 1880,
  LAST_YEAR = 2050;

/** A letter, a digit of any script, or a low line, as a class for patterns. */
export const IN_WORD = "[\\p{L}\\p{N}_]";
/** A plain number, or a run of letters. */
export const WORD = "[0-9]+(?:\\.[0-9]+)?|(?:(?![0-9])[\\p{L}\\p{N}])+";

/** @type {Record<string, string>} */
const LETTERS = { ß: "ss", ς: "σ", ø: "o", đ: "d", ł: "l", æ: "ae", œ: "oe", "’": "'", "‘": "'", "–": "-", "—": "-" };
export const WORDS = new RegExp(WORD, "gu"),
  PLAIN_WORDS = /[0-9]+(?:\.[0-9]+)?|[a-z]+/g;
export const NOT_ASCII = /[^\x00-\x7f]/; // eslint-disable-line no-control-regex
const INSIDE =
  /(?<=(?!_|[0-9])[\p{L}\p{N}])'(?=(?![0-9])[\p{L}\p{N}])|(?<=(?<![\p{L}\p{N}_])h)\.(?=p(?![\p{L}\p{N}_]))/gu;
const PLAIN_INSIDE = /(?<=[a-z])'(?=[a-z])|(?<=(?<![a-z0-9_])h)\.(?=p(?![a-z0-9_]))/g;
const BLANKS = /[\s\x1c-\x1f\x85]+/g; // eslint-disable-line no-control-regex

/**
 * Text without case and accents, its blanks single: what two spellings of one word have in common.
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
 * A number without the zeros at the end of its decimals; another word as it is.
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
 * So many characters of a text, whole ones.
 * @param {string} text
 */
export function beginning(text) {
  return text.length <= LONGEST_NAME ? text : [...text].slice(0, LONGEST_NAME).join("");
}

/**
 * What an id or a name has in common with another way of writing it.
 * @param {string} text
 */
export function nameKey(text) {
  return wordsOf(beginning(text)).join(" ").replaceAll(".", " ");
}
