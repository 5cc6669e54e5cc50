/**
 * The tag for the cowl: how the engine was left, to cut out and keep with it, and a code that holds the same words. It
 * is read without any connection.
 */

import { element } from "../../dom.js";
import { firstLines, unreadLines } from "../dangers.js";
import { localDate } from "../local-date.js";
import { engineLines, leftLines } from "../reading/as-left.js";
import { marginKept } from "../reading/margin-kept.js";
import { plateLines, ToldBy } from "../twins.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../log/record.js").JobRecord} JobRecord */
/** @typedef {import("../reading/as-left.js").LabelledText} LabelledText */

/**
 * The content of a tag: `lines` has everything, its first `worst` lines overrides and what was read on a dangerous end;
 * `text` is in the code, `leftOut` names what does not fit into it.
 * @typedef {{name: string, engine: string, on: string, by: string, invented: boolean, first: string,
 *   worst: number, lines: readonly LabelledText[], text: string, leftOut: readonly string[]}} Tag
 */

export const LARGEST = 18; // 89 modules and their border: on 38 mm each is nearly 0.4 mm
export const ROOM = 560; // bytes in a code of that version that survives 15 % damage: ISO/IEC 18004 (from memory)
const LONGEST = { name: 80, engine: 44, by: 30, value: 90, worst: 200, first: 90 }; // bytes
const PRINTED = 7; // lines on the tag itself, the first two big
const BIG = /^(\d[\d.]*°|TDC)(?: (BTDC|ATDC))?(.*)$/;
const INVENTED = "Invented demonstration data";
const encoder = new TextEncoder();

/**
 * The content of a job's tag.
 * @param {JobRecord} record
 * @param {Document} page
 * @param {Document} shared
 * @returns {Tag}
 */
export function tagOf(record, page, shared) {
  const maker = shared["makers"][page["maker"]] ?? record.maker;
  const { timed, others } = leftLines(record, shared);
  const worst = firstLines({ record, page, shared });
  const known = engineLines(record, marginKept(record, page, shared));
  const unread = unreadLines({ record, page });
  const lines = [...worst, ...plateLines(record), ...timed, ...unread, ...known, ...others].map(
    ([label, value]) => /** @type {LabelledText} */ ([label, line(value)]),
  );
  const engine = [record.serial && `serial ${record.serial}`, record.year && `of ${record.year}`]
    .filter(Boolean)
    .join(", ");
  const isTold = record.which?.answer !== ToldBy.NOTHING;
  const tag = {
    name: line(`${maker} ${record.name}`),
    engine: engine || (isTold ? (page["twins"]?.made ?? "") : ""),
    on: localDate(record.closed || record.changed),
    by: line(record.by),
    invented: record.invented || page["invented"] === true,
    first: line(shared["first"]),
    worst: worst.length,
    lines: lines.length ? lines : [/** @type {LabelledText} */ (["as left", "no reading was noted"])],
  };
  return { ...tag, ...textOf(tag) };
}

/** Words on one line, without characters that reverse text and turn 23 into 32. @param {string | undefined} words */
const line = (words) =>
  (words ?? "")
    .replace(/[\p{Cc}\u202a-\u202e\u2066-\u2069]/gu, " ")
    .split(/\s+/)
    .filter(Boolean)
    .join(" ");

/** Words cut to a number of bytes, with an ellipsis if something is missing. @param {string} words @param {number} most */
function cut(words, most) {
  if (encoder.encode(words).length <= most) return words;
  let kept = "";
  for (const letter of words) {
    if (encoder.encode(kept + letter).length > most - 3) break;
    kept += letter;
  }
  return `${kept.trimEnd()}…`;
}

/**
 * The text of the code. The date comes first, so that no name makes a reader take it for a link. Lines that do not fit
 * are left out from the end, and their number is given.
 * @param {Omit<Tag, "text" | "leftOut">} tag
 * @returns {{text: string, leftOut: string[]}}
 */
function textOf(tag) {
  const head = [`As left ${tag.on}`, cut(tag.name, LONGEST.name), cut(tag.engine, LONGEST.engine)]
    .filter(Boolean)
    .join(", ");
  const foot = [
    tag.by && `by ${cut(tag.by, LONGEST.by)}`,
    tag.invented && INVENTED,
    cut(tag.first, LONGEST.first),
  ].filter(Boolean);
  const said = tag.lines.map(
    ([label, value], place) => `${label}: ${cut(value, place < tag.worst ? LONGEST.worst : LONGEST.value)}`,
  );
  for (let held = said.length; ; held -= 1) {
    const more = held < said.length ? [`and ${said.length - held} more on the tag or in the record`] : [];
    const text = [head, ...said.slice(0, held), ...more, ...foot].join("\n");
    if (held === 0 || encoder.encode(text).length <= ROOM) {
      return { text, leftOut: tag.lines.slice(held).map(([label]) => label) };
    }
  }
}

/**
 * The tag, to be printed and cut out. Its code is added once the encoder is loaded; until then the element is
 * `aria-busy`, and printing waits for it.
 * @param {Tag} tag
 * @returns {HTMLElement}
 */
export function drawTag(tag) {
  const [worst, lines] = [tag.lines.slice(0, tag.worst), tag.lines.slice(tag.worst)];
  const [shown, more] = [lines.slice(0, PRINTED), lines.slice(PRINTED)];
  const big = shown
    .filter((one, place) => BIG.test(one[1]) && place === shown.findIndex(([label]) => label === one[0]))
    .slice(0, 2);
  const code = element("div", { class: "tag-code" });
  const drawing = element(
    "div",
    { class: "tag", "aria-busy": "true" },
    element(
      "div",
      {},
      ...worst.map(([label, value]) =>
        element("p", { class: "tag-worst" }, element("strong", {}, `${label}: `), value),
      ),
      element("p", { class: "tag-name" }, tag.name),
      element("p", {}, tag.engine || "serial not known"),
      ...big.map(bigLine),
      element("p", { class: "tag-day" }, `As left ${tag.on}${tag.by ? ` by ${tag.by}` : ""}`),
    ),
    code,
    element(
      "div",
      { class: "tag-rest" },
      ...shown
        .filter((one) => !big.includes(one))
        .map(([label, value]) => element("p", {}, `${label}: `, element("strong", {}, value), " ")),
      more.length ? element("p", {}, `also noted: ${more.map(([label]) => label).join(", ")}`) : null,
    ),
    element("p", { class: "tag-first" }, tag.invented ? element("strong", {}, `${INVENTED}. `) : null, tag.first),
  );
  const note = element(
    "p",
    { class: "tag-note", role: "status" },
    tag.leftOut.length
      ? `The code has no room for: ${tag.leftOut.join(", ")}.`
      : "The code holds the same words, and needs no signal.",
  );
  void fillCode(tag, code, note).finally(() => drawing.removeAttribute("aria-busy"));
  return element("figure", { class: "tag-sheet" }, drawing, element("figcaption", {}, note));
}

/** @param {LabelledText} line */
function bigLine([label, value]) {
  const [, number = value, side = "", when = ""] = BIG.exec(value) ?? [];
  return element(
    "p",
    { class: "tag-big" },
    element("span", {}, label),
    " ",
    element("strong", {}, number),
    side ? ` ${side}` : null,
    when ? element("small", {}, when) : null,
  );
}

/** @param {Tag} tag @param {HTMLElement} place @param {HTMLElement} note */
async function fillCode(tag, place, note) {
  try {
    const { drawCode } = await import("./qr-code.js");
    place.append(drawCode(tag.text, LARGEST, `A code that holds these words: ${tag.text}`));
  } catch (error) {
    note.textContent = `The code could not be drawn (${error instanceof Error ? error.message : error}); the tag holds the same words.`;
  }
}
