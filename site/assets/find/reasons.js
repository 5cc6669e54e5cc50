// Why a family was found; the same as kb/book/find/reasons.py.

/** @typedef {import("./query-text.js").Word} Word */

/** @type {Record<string, string>} */
const UNITS = { hp: "hp", kw: "kW", ps: "PS" };

/**
 * Why a family was found, in words.
 * @param {Word[]} words
 * @param {number} line
 * @param {import("./known-facts.js").KnownFact[]} lines
 */
export function reasons(words, line, lines) {
  const texts = lines.map((one) => ` ${one.words.join(" ")} `);
  /** @type {[number, string][]} */
  const places = words.flatMap((word) => heldBy(word, texts));
  if (line >= 0) places.push([line, ""]);
  /** @type {Map<string, string[]>} */
  const notes = new Map();
  let oldId = "";
  for (const [at, note] of places) {
    const { label, oldId: old } = /** @type {import("./known-facts.js").KnownFact} */ (lines[at]);
    const added = notes.get(label) || [];
    oldId ||= old;
    notes.set(label, note && !added.includes(note) ? [...added, note] : added);
  }
  const told = [...notes].map(([label, added]) => (added.length ? `${label} (${added.join(", ")})` : label));
  return { matched: told.join("; "), oldId };
}

/**
 * The facts that hold a word, in the first way that any does.
 * @param {Word} word
 * @param {string[]} texts
 * @returns {[number, string][]}
 */
function heldBy(word, texts) {
  /** @type {[string[][], string, boolean][]} */
  const ways = [
    [word.exact, " ", false],
    [word.grows ? word.exact : [], "", false],
    [word.wider, " ", false],
    [word.alsoNear, " ", true],
  ];
  for (const [groups, end, isNear] of ways) {
    for (const group of groups) {
      const found = group.map((part) => texts.findIndex((text) => text.includes(` ${part}${end}`)));
      if (!found.includes(-1)) return found.map((at) => [at, isNear ? noteOf(word, group) : ""]);
    }
  }
  return [];
}

/** @param {Word} word @param {string[]} group */
function noteOf(word, group) {
  let read = group.join(" ").replace(/^~+|~+$/g, "");
  const unit = group[0]?.startsWith("~") ? UNITS[read.slice(-2)] : undefined;
  if (unit) read = `${read.slice(0, -2)} ${unit}`;
  return read === word.typed ? "" : `“${word.typed}” read as “${read}”`;
}
