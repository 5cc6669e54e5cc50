/**
 * The fields of the bench aids that a family's document fills in, with their sources; and for a figure not filled in, why,
 * and what may be chosen instead. Independent of the page, so that tests can use it.
 */

import { CORRECTION } from "../book/catalogue.js";
import { QuantityError } from "../errors.js";
import { citedOf, correctionOf, figureOf, figureRowsOf, sourceWords } from "../family/figure-of-row.js";
import { readQuantity } from "../quantity/quantity.js";
import { HowSure, SCREEN_STATES, SETTING_STATES } from "../vocabulary.js";
import { readPrinted } from "./printed-value.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../family/engine-rows.js").FigureRows} FigureRows */
/** @typedef {import("./field-value.js").Raw} Raw */

/**
 * The content of a field; `origin` is its source in words; `rows` is for lists.
 * @typedef {{raw?: Raw, rows?: Raw[][], origin: string}} Filled
 */

/**
 * One of the values of a figure in the document: as printed, when it holds, and its value. `told` is set if it is the
 * document's own answer for an engine.
 * @typedef {{printed: string, when: string, value: Document, told: FigureRows | null, state: string, origin: string}} FigureWay
 */

/**
 * `ways` are all that may be chosen, `chosen` the one filled in; `why` says why none is.
 * @typedef {{figure: string, label: string, ways: FigureWay[], chosen: FigureWay | null, why: string,
 *   remarks: readonly string[]}} FigureChoice
 */

const BY_SERIAL = "it differs by engine: type the serial number, or choose what holds for yours";

/** @param {...(string | undefined)} words */
const joined = (...words) => words.filter(Boolean).join(", ");

/** @param {string | undefined} words */
const spaced = (words) => (words ?? "").replaceAll("-", " ");

/**
 * The values of a figure, and which of them is filled in.
 * @param {Document} page
 * @param {Document} shared
 * @param {{figure: string, state?: string, serial?: string}} asked
 * @returns {FigureChoice}
 * @throws {SerialFitsNone} the serial number is in no range of the family
 */
export function figureChoice(page, shared, { figure, state = "", serial = "" }) {
  const kind = shared["figures"][figure];
  const told = figureRowsOf(page, figure, serial);
  const ways = told.flatMap((one) => waysOf(page, shared, one));
  const label = kind?.label ?? figure;
  /** @type {FigureChoice} */
  const none = { figure, label, ways, chosen: null, why: "", remarks: [] };
  if (!told.length) return { ...none, why: `no figure is published for the ${label.toLowerCase()} of this family` };
  const states = new Set(told.filter(({ row }) => row["value"]).map(({ row }) => row["state"]));
  const wanted = state || SCREEN_STATES.find((one) => states.has(one)) || told[0]?.row["state"];
  const of = told.filter(({ row }) => row["state"] === wanted);
  const [first] = of;
  if (!first) return { ...none, why: `no figure is published for it ${spaced(wanted)}; choose one that is` };
  if (of.some(({ depends }) => depends.length)) return { ...none, why: BY_SERIAL };
  if (first.row["problem"] !== undefined) return { ...none, why: String(first.row["words"]) };
  if (new Set(of.map(({ row }) => row["printed"])).size > 1)
    return { ...none, why: "it differs by condition: choose yours" };
  const chosen = ways.find((way) => way.told === first) ?? null;
  if (!chosen)
    return { ...none, why: `it is printed as ${first.row["printed"]}, which is not a number to calculate with` };
  return { ...none, chosen, remarks: first.row["remarks"] ?? [] };
}

/** @param {Document} page @param {Document} shared @param {FigureRows} told @returns {FigureWay[]} */
function waysOf(page, shared, told) {
  const { row, depends } = told;
  const state = row["state"];
  const when = joined(spaced(state), row["conditions"]);
  if (depends.length) {
    return depends.flatMap(([engines, own]) => {
      const alone = { ...told, row: own, statements: own["statements"], depends: [] };
      const origin = sourceWords(page, shared, alone);
      return own["value"]
        ? [{ printed: own["printed"], when: joined(when, engines), value: own["value"], state, told: alone, origin }]
        : [];
    });
  }
  const own = row["value"]
    ? [{ printed: row["printed"], when, value: row["value"], told, state, origin: sourceWords(page, shared, told) }]
    : [];
  const disputed = row["problem"] === "FigureDisputed" || row["standing"] === HowSure.DISPUTED;
  return [...own, ...(disputed ? told.statements.flatMap((one) => sideOf(page, shared, told, one)) : [])];
}

/**
 * One side of a dispute.
 * @param {Document} page
 * @param {Document} shared
 * @param {FigureRows} told
 * @param {any[]} one
 * @returns {FigureWay[]}
 */
function sideOf(page, shared, { figure, row }, one) {
  const cited = citedOf(page, figure, one);
  const value = readPrinted(cited.printed);
  if (cited.role !== "counts" || !value) return [];
  const title = shared["sources"][cited.source]?.title ?? cited.source;
  const origin = cited.page ? `${title}, page ${cited.page}` : title;
  return [
    {
      printed: cited.printed,
      when: joined(spaced(row["state"]), cited.conditions, origin),
      value,
      told: null,
      state: row["state"],
      origin,
    },
  ];
}

/**
 * The fields on the engine, its flywheel and the screw of a figure that the family's file fills in.
 * @param {Document} page
 * @param {string} figure
 * @returns {Record<string, Filled>}
 */
export function engineFields(page, figure) {
  const { engine = {}, flywheel = {}, adjusters = {} } = page;
  const marks = flywheel["numbered_marks"] ?? {};
  const screw = adjusters[figure] ?? {};
  const origin = "the family's file";
  /** @type {Record<string, Raw | undefined>} */
  const raws = {
    stroke: sizeRaw(engine["stroke"]),
    rod: sizeRaw(engine["rod"]),
    diameter: sizeRaw(flywheel["rim_diameter"]),
    marks_before: listRaw(marks.btdc),
    marks_after: listRaw(marks.atdc),
    division: textRaw(flywheel["division"]?.deg),
    rotation: textRaw(flywheel["rotation"]),
    marks_on: textRaw(flywheel["marks_on"]),
    order: orderRaw(engine["firing_order"]),
    cycle: textRaw(engine["cycle"]),
    even: textRaw(engine["even_fire"]),
    cylinders: textRaw(engine["cylinders"]),
    part: textRaw(screw["part"]),
    turning_in: textRaw(screw["turning_in"]),
    locknut: textRaw(screw["locknut"]),
    pitch: sizeRaw(screw["pitch"]),
  };
  return Object.fromEntries(Object.entries(raws).flatMap(([name, raw]) => (raw ? [[name, { raw, origin }]] : [])));
}

/** @param {unknown} text @returns {Raw | undefined} */
const textRaw = (text) => (typeof text === "string" && text ? { text: text.split(/\s+/).join(" ") } : undefined);

/** @param {unknown} list @returns {Raw | undefined} */
const listRaw = (list) => textRaw(Array.isArray(list) ? list.join(", ") : list);

/** @param {unknown} list @returns {Raw | undefined} */
const orderRaw = (list) => textRaw(Array.isArray(list) ? list.join("-") : list);

/** One length, as printed. @param {Document | undefined} typed @returns {Raw | undefined} */
function sizeRaw(typed) {
  const [unit, text] = Object.entries(typed ?? {})[0] ?? [];
  return unit && typeof text === "string" ? { text, unit } : undefined;
}

/**
 * The fields of a figure of the timing light; a value with a tolerance is filled in as a window.
 * @param {FigureWay} way
 * @returns {Record<string, Filled>}
 */
export function figureFields({ value, state, told, origin }) {
  const ends = endsOf(value);
  const rpm = told?.row["at"]?.rpm;
  /** @type {Record<string, Filled>} */
  const kept = SETTING_STATES.includes(state) ? { state: { raw: { text: state }, origin } } : {};
  return {
    printed: { raw: ends.first, origin },
    ...(ends.bound ? { bound: { raw: { text: ends.bound }, origin } } : {}),
    ...(ends.other ? { other_end: { raw: ends.other, origin } } : {}),
    ...kept,
    ...(typeof rpm === "string" ? { rpm: { raw: { text: rpm }, origin } } : {}),
  };
}

/** @param {Document} typed @returns {{first: Raw, other: Raw | null, bound: string}} */
function endsOf(typed) {
  const { unit, form, numbers, sides, low, high } = readQuantity(typed);
  const raw = (/** @type {number} */ place) => ({
    text: numbers[place]?.text ?? "",
    unit: unit.key,
    side: sideRaw(sides[Math.min(place, sides.length - 1)]),
  });
  if (form === "at_least" || form === "at_most") return { first: raw(0), other: null, bound: form };
  if (form === "window") return { first: raw(0), other: raw(1), bound: "" };
  if (form === "nominal" || !low || !high) return { first: raw(0), other: null, bound: "" };
  const end = (/** @type {import("../quantity/fraction.js").Fraction} */ value) => ({
    text: decimal(value.size()),
    unit: unit.key,
    side: value.sign() > 0 ? "btdc" : value.sign() ? "atdc" : "",
  });
  return { first: end(high), other: end(low), bound: "" };
}

/** @param {string | undefined} side */
const sideRaw = (side) => (side === "btdc" || side === "atdc" ? side : "");

/** An exact decimal in plain digits. @param {import("../quantity/fraction.js").Fraction} value */
function decimal(value) {
  const text = value.toNumber().toFixed(9).replace(/0+$/, "").replace(/\.$/, "");
  return text || "0";
}

/**
 * The field of the correction with its lines; or why it is not filled in.
 * @param {Document} page
 * @param {Document} shared
 * @param {string} serial
 * @returns {{filled: Record<string, Filled>, why: string, held: import("../book/when-running.js").Corrected}}
 */
export function correctionFields(page, shared, serial) {
  const held = correctionOf(page, shared["figures"], serial);
  if ("unknown" in held) return { filled: {}, why: held.unknown.replace("unknown: ", ""), held };
  const only = /^([0-9.]+) rpm$/.exec(held.conditions)?.[1] ?? "";
  const rows = (held.value["by_rpm"] ?? [held.value]).map((/** @type {Document} */ row) => {
    const side = row["cranking_earlier"] === undefined ? "later" : "earlier";
    return [{ text: row[`cranking_${side}`], side }, { text: row["rpm"] ?? only }];
  });
  const [told] = figureRowsOf(page, CORRECTION, serial);
  return { filled: { corrections: { rows, origin: told ? sourceWords(page, shared, told) : "" } }, why: "", held };
}

/**
 * A pressure window, or one end of it, and the same as the aid holds readings against.
 * @param {FigureWay} way
 * @returns {{filled: Record<string, Filled>, held: import("./aids/compression.js").BookCompression}}
 */
export function compressionFields({ value: typed, printed, when, told, origin }) {
  const value = readQuantity(typed);
  const raw = (/** @type {string} */ text) => ({ raw: { text, unit: value.unit.key }, origin });
  const { low, high } = value;
  const ends = { ...(low ? { low: raw(decimal(low)) } : {}), ...(high ? { high: raw(decimal(high)) } : {}) };
  return {
    filled: ends,
    held: { value, printed, condition: when, cited: origin, remarks: told?.row["remarks"] ?? [] },
  };
}

/**
 * The field of the mixing ratio; of a window its oilier end.
 * @param {FigureWay} way
 * @returns {{filled: Record<string, Filled>, said: string[]}}
 * @throws {QuantityError} it has no oilier end
 */
export function premixFields({ value: typed, printed, told, origin }) {
  const { low, high } = readQuantity(typed);
  if (!low) throw new QuantityError(`the book's figure, ${printed}, names no ratio to mix by; type one`);
  const window = high?.equals(low) ? [] : [`of the book's ${printed} the end with more oil is used`];
  return {
    filled: { parts: { raw: { text: decimal(low) }, origin } },
    said: [...(told?.row["remarks"] ?? []), ...window],
  };
}

/**
 * A chosen value as a figure that can be aimed at.
 * @param {Document} page
 * @param {Document} shared
 * @param {FigureWay} way
 * @param {string} figure
 */
export function figureOfWay(page, shared, way, figure) {
  const kinds = shared["figures"];
  if (way.told) return figureOf(page, kinds, way.told);
  const row = { state: way.state, printed: way.printed, value: way.value };
  return { ...figureOf(page, kinds, { figure, row, statements: [] }), cited: way.origin };
}
