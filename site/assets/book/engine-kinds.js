/** Serial numbers and years, the ranges that hold them, and the kinds of engine that ranges distinguish. */

import { SerialFitsNone } from "../errors.js";

/** @typedef {{first: string | null, last: string | null}} Range a missing end is open */
/** @typedef {{years: Range | null, serials: Range | null}} Fit */
/** @typedef {(string | bigint)[]} SerialKey */

const LONGEST = 64;

/**
 * From `["1978", "1981"]`, `"1978"` or `{from, to}`; null if there is none.
 * @param {any} raw
 * @returns {Range | null}
 */
function readRange(raw) {
  if (raw === undefined || raw === null) return null;
  if (Array.isArray(raw)) return { first: raw[0], last: raw[1] };
  return typeof raw === "string" ? { first: raw, last: raw } : { first: raw.from ?? null, last: raw.to ?? null };
}

/** @param {Readonly<Record<string, any>>} raw @returns {Fit} */
export const readFit = (raw) => ({ years: readRange(raw["years"]), serials: readRange(raw["serials"]) });

/** @param {Range} range */
function rangeWords({ first, last }) {
  if (first === last) return String(first);
  if (first === null) return `up to ${last}`;
  return last ? `${first} to ${last}` : `from ${first}`;
}

/** A fit in words, such as `1978 to 1981, serials 300100 to 418999`. @param {Fit} fit */
export function fitWords({ years, serials }) {
  const words = [];
  if (years) words.push(years.first && years.last ? rangeWords(years) : `years ${rangeWords(years)}`);
  if (serials) words.push(`serials ${rangeWords(serials)}`);
  return words.join(", ") || "all";
}

/**
 * The sort key of a serial number: runs of letters and whole numbers, so that A 900 comes before A 12000; case, spaces,
 * dots, slashes and hyphens do not count.
 * @param {string} serial
 * @returns {SerialKey}
 */
function serialKey(serial) {
  const runs =
    serial
      .slice(0, LONGEST)
      .toUpperCase()
      .match(/[A-Z]+|[0-9]+/g) ?? [];
  return runs.map((run) => (/^[0-9]/.test(run) ? BigInt(run) : run));
}

/**
 * Negative, 0 or positive; null if the keys differ in shape and have no order.
 * @param {SerialKey} one
 * @param {SerialKey} other
 */
function compared(one, other) {
  if (one.length !== other.length || one.some((run, place) => typeof run !== typeof other[place])) return null;
  for (const [place, run] of one.entries()) {
    const against = other[place] ?? "";
    if (run !== against) return run < against ? -1 : 1;
  }
  return 0;
}

/** @param {Range} range @param {SerialKey} key */
function holdsKey({ first, last }, key) {
  const [from, to] = [first ? compared(serialKey(first), key) : 0, last ? compared(key, serialKey(last)) : 0];
  return from !== null && to !== null && from <= 0 && to <= 0;
}

/** @param {Range} range @param {number} year */
function holdsYear({ first, last }, year) {
  return (first === null || Number(first) <= year) && (last === null || year <= Number(last));
}

/**
 * Refuse a serial number that is in no range of the family.
 * @param {string} family
 * @param {readonly Fit[]} fits
 * @param {string} serial
 * @throws {SerialFitsNone} it is in no range
 */
export function requireFit(family, fits, serial) {
  const ranges = fits.filter((fit) => fit.serials || fit.years);
  const key = serialKey(serial);
  if (ranges.length && !ranges.some((fit) => !fit.serials || holdsKey(fit.serials, key))) {
    throw new SerialFitsNone(`no range of ${family} holds the serial number ${serial}`, ranges.map(fitWords));
  }
}

/**
 * Whether a family of these ranges may hold an engine; what is not known of it, an empty text, fits anywhere.
 * @param {readonly Fit[]} fits
 * @param {string} serial
 * @param {string} year
 */
export function fitsEngine(fits, serial, year) {
  const ranges = fits.filter((fit) => fit.serials || fit.years);
  const key = serialKey(serial);
  return (
    !ranges.length ||
    ranges.some(
      ({ serials, years }) =>
        (!serial || !serials || holdsKey(serials, key)) && (!year || !years || holdsYear(years, Number(year))),
    )
  );
}

/**
 * The kinds of engine that the parts of a family distinguish, of those that an engine with this serial number may be: for
 * each, the numbers of the parts that hold it. One year represents all between two neighbouring ends.
 * @param {readonly Fit[]} fits
 * @param {readonly Fit[]} parts
 * @param {string} serial
 * @returns {string[]} the numbers, separated by commas
 */
export function kindsOf(fits, parts, serial) {
  const key = serialKey(serial);
  const ends = [...fits, ...parts].flatMap(({ years }) => [
    ...(years?.first ? [Number(years.first), Number(years.first) - 1] : []),
    ...(years?.last ? [Number(years.last), Number(years.last) + 1] : []),
  ]);
  const kinds = new Set();
  for (const year of ends.length ? new Set(ends) : [null]) {
    /** @param {Fit} fit @param {boolean} unknown */
    const holds = ({ serials, years }, unknown) =>
      (!serials || holdsKey(serials, key)) && (!years || (year === null ? unknown : holdsYear(years, year)));
    if (fits.length && !fits.some((fit) => holds(fit, true))) continue;
    kinds.add(parts.flatMap((part, number) => (holds(part, false) ? [number] : [])).join());
  }
  return kinds.size ? [...kinds] : [""];
}
