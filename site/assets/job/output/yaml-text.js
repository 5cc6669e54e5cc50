/** Texts as YAML that every reader reads back as the same texts; quoted only if necessary. */

// Words that no YAML reader takes for anything else; within brackets also without commas and apostrophes.
const BARE = /^[\p{L}\p{Nl}\p{No}][\p{L}\p{N}_ .;()/+-]*$/u;
const BARE_ALONE = /^[\p{L}\p{Nl}\p{No}][\p{L}\p{N}_ .,'’;()/+°-]*$/u;
const GUESSED = new Set(["y", "n", "yes", "no", "on", "off", "true", "false", "null", "nan", "inf", "infinity"]);
const PLAIN =
  /^(?:(?:0|[1-9][0-9]{0,8})(?:\.[0-9]{1,9})?|(?:[1-9][0-9]{0,3} )?[1-9][0-9]{0,3}\/[1-9][0-9]{0,3}|[0-9]{4}-[0-9]{2}-[0-9]{2})$/;
const COUNT = /^(?:0|[1-9][0-9]{0,8})$/; // the same characters even if read as a number
// Characters that YAML forbids or takes for a line end, that reverse text, or that are invisible or of odd width.
const UNSEEN = new RegExp(
  String.raw`[\0-\x1f\x7f-\xa0\xad\u061c\u1680\u180e\u2000-\u200f\u2028-\u202f\u205f-\u206f\u3000\ufeff]` +
    String.raw`|[\ufff9-\ufffb\ufffe\uffff\u{e0000}-\u{e007f}]`,
  "gu",
);
const HALF = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;
/** @type {Readonly<Record<string, string>>} */
const NAMED = { "\n": "\\n", "\t": "\\t", "\r": "\\r" };

/** A text without lone surrogates, which no file can hold. @param {string} text */
export const whole = (text) => text.replace(HALF, "\ufffd");

/**
 * A written text. @param {string} text @param {boolean} [inBrackets]
 */
export function words(text, inBrackets = false) {
  const bare = (inBrackets ? BARE : BARE_ALONE).test(text) && text === text.trim() && !GUESSED.has(text.toLowerCase());
  if (bare) return text;
  const escaped = whole(text)
    .replace(/["\\]/g, "\\$&")
    .replace(UNSEEN, (letter) => {
      const code = letter.codePointAt(0) ?? 0;
      return (
        NAMED[letter] ??
        (code > 0xffff ? `\\U${code.toString(16).padStart(8, "0")}` : `\\u${code.toString(16).padStart(4, "0")}`)
      );
    });
  return `"${escaped}"`;
}

/**
 * A mapping in brackets; texts under `wordy` keys are words even if they look like a malformed number.
 * @param {Readonly<Record<string, any>>} mapping
 * @param {ReadonlySet<string>} [wordy]
 * @returns {string}
 */
export function bracketed(mapping, wordy = new Set()) {
  /** @param {any} said @param {string} key @returns {string} */
  const told = (said, key) => {
    if (Array.isArray(said)) return `[${said.map((one) => told(one, key)).join(", ")}]`;
    if (typeof said === "object") return bracketed(said, wordy);
    return (wordy.has(key) ? COUNT : PLAIN).test(said) ? said : words(said, true);
  };
  return `{${Object.entries(mapping)
    .map(([key, said]) => `${key}: ${told(said, key)}`)
    .join(", ")}}`;
}
