/**
 * Entries: everything a mechanic does is an entry, and no entry is ever changed. The state of a job follows from its
 * entries alone (`record.js`), so nothing is lost and two open pages only add.
 */

import { QuantityError } from "../../errors.js";
import { CHOICES, COUNTED, Condition, FalseLate, MEASURED, State } from "../../vocabulary.js";
import { excerpt, isMapping, isWords, LONGEST_TEXT, readValue } from "./report-value.js";

/** @typedef {import("./report-value.js").ReportValue} ReportValue */
/** @typedef {"found" | "left"} When as found, or as left: read with the lock nut tight */
/**
 * @typedef {Readonly<Record<string, any>>} Conditions the conditions of a reading, like a report's `at`, such as {gear: "in-gear"}
 */

/**
 * What every entry has: its id, its job, its time.
 * @typedef {{readonly id: string, readonly job: string, readonly at: string}} Stamped
 */

/**
 * The first entry of a job. `family` and `routine` are ids, `maker` a name or an id; `serial`, `year`, `state` and
 * `margin` are texts, empty if unknown; `data_of` is the date of the data.
 * @typedef {Stamped & {readonly kind: "begin", readonly family: string, readonly name: string, readonly maker: string,
 *   readonly invented: boolean, readonly data_of: string, readonly routine: string, readonly serial: string,
 *   readonly year: string, readonly state: string, readonly margin: string}} BeginEntry
 */
/**
 * Changes what is known of the engine; an empty text clears.
 * @typedef {Stamped & {readonly kind: "engine", readonly serial?: string, readonly year?: string,
 *   readonly margin?: string, readonly state?: string, readonly by?: string}} EngineEntry
 */
/**
 * With `stood` the step was only checked and nothing moved, so no other step needs checking again.
 * @typedef {Stamped & {readonly kind: "done", readonly step: string, readonly stood?: true}} DoneEntry
 */
/**
 * A step is opened to be worked at once more: what it undoes has to be done again before the engine turns.
 * @typedef {Stamped & {readonly kind: "opened", readonly step: string}} OpenedEntry
 */
/**
 * @typedef {Stamped & {readonly kind: "tick", readonly step: string, readonly tick: string, readonly on: boolean}} TickEntry
 */
/**
 * A reading. `state` is empty if the figure has only one; `conditions` are a report's `at` without the cylinder (an
 * entry's own `at` is its time); `replaces` is the id of the reading that this one corrects; `lag` the microseconds that
 * the light flashes late, of which the value is freed.
 * @typedef {Stamped & {readonly kind: "reading", readonly step: string, readonly figure: string, readonly when: When,
 *   readonly value: ReportValue, readonly state: string, readonly conditions?: Conditions, readonly cylinder?: string,
 *   readonly replaces?: string, readonly lag?: string}} ReadingEntry
 */
/**
 * A reading while the screw is turned: turns inward so far (`"1 1/2"`, `"-1/4"`) and the signed degrees read, at a cylinder
 * where each has its own; with `forget` it clears all of the figure's.
 * @typedef {Stamped & {readonly kind: "turn", readonly figure: string, readonly turns?: string, readonly reads?: string,
 *   readonly cylinder?: string, readonly forget?: true}} TurnEntry
 */
/**
 * @typedef {Stamped & {readonly kind: "dead-centre", readonly reads: string | null,
 *   readonly stops?: readonly [string, string]}} DeadCentreEntry
 */
/**
 * Whether the pointer was moved after the dead-centre reading or stays as it is.
 * @typedef {Stamped & {readonly kind: "pointer", readonly answer: "moved" | "stays"}} PointerEntry
 */
/**
 * This engine's own correction: signed degrees read cranking and running; `rpm` may be empty.
 * @typedef {Stamped & {readonly kind: "correction", readonly cranking: string, readonly running: string,
 *   readonly rpm: string}} CorrectionEntry
 */
/**
 * A figure that is left as it is although it is not in order: `danger` what is wrong with it, `text` why it is left so.
 * @typedef {Stamped & {readonly kind: "override", readonly figure: string, readonly danger: string, readonly text: string}} OverrideEntry
 */
/**
 * Whether a cause of a false late reading was looked at and is ruled out.
 * @typedef {Stamped & {readonly kind: "false-late", readonly cause: string, readonly ruled_out: boolean}} FalseLateEntry
 */
/**
 * How the engine was told from its twins; `serial` and `year` are those of a plate that is not this engine's.
 * @typedef {Stamped & {readonly kind: "which", readonly answer: "stamp" | "nothing", readonly serial?: string,
 *   readonly year?: string}} WhichEntry
 */
/** @typedef {Stamped & {readonly kind: "note", readonly step?: string, readonly text: string}} NoteEntry */
/** @typedef {Stamped & {readonly kind: "ran", readonly text: string}} RanEntry */
/** @typedef {Stamped & {readonly kind: "close"}} CloseEntry */
/**
 * Takes an earlier entry back, which may itself be a take-back; the first entry of a job stays.
 * @typedef {Stamped & {readonly kind: "take-back", readonly entry: string}} TakeBackEntry
 */
/**
 * @typedef {BeginEntry | EngineEntry | DoneEntry | OpenedEntry | TickEntry | ReadingEntry | TurnEntry | DeadCentreEntry |
 *   PointerEntry | WhichEntry | OverrideEntry | FalseLateEntry | CorrectionEntry | NoteEntry | RanEntry | CloseEntry |
 *   TakeBackEntry} Entry
 */
/** @typedef {Entry["kind"]} Kind */

/** @typedef {(raw: unknown) => any} Reader returns the value to store, or throws what is expected instead */

const NUMBER = "(?:0|[1-9][0-9]{0,8})(?:\\.[0-9]{1,9})?";
const FRACTION = "(?:[1-9][0-9]{0,3} )?[1-9][0-9]{0,3}/[1-9][0-9]{0,3}";
const LONGEST_NOTE = 2000;
export const LONGEST_REASON = 120;

/** What is expected instead; the reader of the mapping adds the key and what stands there. */
class Expected extends Error {}
/** @param {string} wanted @returns {never} */
const fail = (wanted) => {
  throw new Expected(wanted);
};
/** @param {string} pattern @param {string} wanted @returns {Reader} */
const like = (pattern, wanted) => {
  const whole = new RegExp(`^(?:${pattern})$`);
  return (raw) => (typeof raw === "string" && whole.test(raw) ? raw : fail(wanted));
};
/** @param {number} longest @returns {Reader} */
const words = (longest) => (raw) => (isWords(raw, longest) ? raw : fail(`words, at most ${longest} characters`));
/** @param {readonly unknown[]} choices @returns {Reader} */
const oneOf =
  (...choices) =>
  (raw) =>
    choices.includes(raw) ? raw : fail(`one of ${choices.map((one) => JSON.stringify(one)).join(", ")}`);
/** The same, or empty. @param {Reader} reader @returns {Reader} */
const orEmpty = (reader) => (raw) => (raw === "" ? raw : reader(raw));

const key = like("[a-zA-Z0-9][a-zA-Z0-9-]{3,63}", "an id of 4 to 64 letters, digits and hyphens");
const id = like("[a-z0-9]+(?:-[a-z0-9]+)*", "an id of lower-case letters, digits and hyphens, such as max-advance");
const family = like("[a-z0-9]+(?:-[a-z0-9]+)*/[a-z0-9]+(?:-[a-z0-9]+)*", "a family's id, such as skerrow/ketch-47");
const degrees = like(`-?${NUMBER}`, 'signed degrees, before top dead centre positive, such as "2" or "-1.5"');
const number = like(NUMBER, 'plain digits, such as "24" or "0.5"');
const count = like("[1-9][0-9]{0,4}", 'a whole number from 1, such as "3"');
const turns = like(`0|-?(?:${NUMBER}|${FRACTION})`, 'turns of the screw, such as "1 1/2" or "-1/4"');
const margin = orEmpty(like(`${NUMBER}|${FRACTION}`, 'degrees, such as "1" or "0.5"'));
const serial = orEmpty(
  like("[A-Za-z0-9][A-Za-z0-9 ./-]{0,30}", "a serial number of letters and digits, such as 300100 or B 20417"),
);
const year = orEmpty(like("(?:18|19|20)[0-9]{2}", 'a year of four digits, such as "1978"'));
const day = orEmpty(like("[0-9]{4}-[0-9]{2}-[0-9]{2}", "a date, such as 2026-03-02"));
const state = orEmpty(oneOf(...Object.values(State)));
const flag = oneOf(true, false);

/** Two contacts with the piston stop. @type {Reader} */
const stops = (raw) =>
  Array.isArray(raw) && raw.length === 2
    ? raw.map(degrees)
    : fail('two contacts in signed degrees, such as ["28", "-32"]');

/** A speed, or the lower and the higher. @type {Reader} */
const speeds = (raw) => {
  if (!Array.isArray(raw)) return number(raw);
  const [slow, fast] = raw.map(number);
  return raw.length === 2 && Number(slow) <= Number(fast)
    ? raw
    : fail('a speed, or the lower and the higher, such as ["700", "750"]');
};

/**
 * How a condition is measured that is: by how many units at most, and what is wanted.
 * @type {ReadonlyMap<string, {most: number, wanted: string}>}
 */
const MEASURES = new Map([
  [Condition.OCTANE, { most: 3, wanted: 'an octane number, such as {"ron": "92"}' }],
  [Condition.ALTITUDE, { most: 1, wanted: 'one height, such as {"m": "750"}' }],
]);

/** Numbers by their units. @param {string} name @param {readonly string[]} units @returns {Reader} */
const measured = (name, units) => (raw) => {
  const { most = 1, wanted = `one ${name}` } = MEASURES.get(name) ?? {};
  const said = readKeys(raw, {}, Object.fromEntries(units.map((one) => [one, number])), name);
  const count = Object.keys(said).length;
  return count > 0 && count <= most ? said : fail(wanted);
};

/** @param {string} name @returns {Reader} */
function readerOf(name) {
  const [choices, units] = [CHOICES.get(name), MEASURED.get(name)];
  if (choices) return oneOf(...choices);
  if (units) return measured(name, units);
  return COUNTED.has(name) ? count : speeds;
}

const CONDITIONS = Object.fromEntries(Object.values(Condition).map((name) => [name, readerOf(name)]));
/** @type {Reader} */
const conditions = (raw) => readKeys(raw, {}, CONDITIONS, "conditions");

/**
 * The required and the optional keys of each kind.
 * @type {Readonly<Record<string, [Readonly<Record<string, Reader>>, Readonly<Record<string, Reader>>]>>}
 */
const KINDS = {
  begin: [
    {
      family,
      name: words(200),
      maker: words(200),
      invented: flag,
      data_of: day,
      routine: orEmpty(id),
      serial,
      year,
      state,
      margin,
    },
    {},
  ],
  engine: [{}, { serial, year, margin, state, by: orEmpty(words(40)) }],
  done: [{ step: id }, { stood: oneOf(true) }],
  opened: [{ step: id }, {}],
  tick: [{ step: id, tick: words(LONGEST_NOTE), on: flag }, {}],
  reading: [
    { step: orEmpty(id), figure: id, when: oneOf("found", "left"), value: readValue, state },
    { conditions, cylinder: count, replaces: key, lag: number },
  ],
  turn: [{ figure: id }, { turns, reads: degrees, cylinder: count, forget: oneOf(true) }],
  "dead-centre": [{ reads: (raw) => (raw === null ? raw : degrees(raw)) }, { stops }],
  pointer: [{ answer: oneOf("moved", "stays") }, {}],
  which: [{ answer: oneOf("stamp", "nothing") }, { serial, year }],
  override: [{ figure: id, danger: words(LONGEST_TEXT), text: words(LONGEST_REASON) }, {}],
  "false-late": [{ cause: oneOf(...Object.values(FalseLate)), ruled_out: flag }, {}],
  correction: [{ cranking: degrees, running: degrees, rpm: orEmpty(number) }, {}],
  note: [{ text: words(LONGEST_NOTE) }, { step: orEmpty(id) }],
  ran: [{ text: orEmpty(words(LONGEST_NOTE)) }, {}],
  close: [{}, {}],
  "take-back": [{ entry: key }, {}],
};

/**
 * A time as `Date` writes it, so that texts sort like times; in the years that a phone's clock may show, right or wrong.
 * @type {Reader}
 */
function moment(raw) {
  const then = typeof raw === "string" && /^(19[7-9]|2[01][0-9])\d-.{18}Z$/.test(raw) ? new Date(raw) : null;
  return then && !Number.isNaN(then.getTime()) && then.toISOString() === raw
    ? raw
    : fail("a time, such as 2026-03-02T14:05:00.000Z");
}

/**
 * Read a mapping; unknown keys are refused.
 * @param {unknown} raw
 * @param {Readonly<Record<string, Reader>>} must
 * @param {Readonly<Record<string, Reader>>} may
 * @param {string} what for the message
 * @returns {Record<string, any>}
 */
function readKeys(raw, must, may, what) {
  if (!isMapping(raw)) throw new QuantityError(`${what} is a mapping of keys, not ${excerpt(raw)}`);
  /** @type {Record<string, any>} */
  const kept = {};
  const readers = { ...must, ...may };
  for (const [name, said] of Object.entries(raw)) {
    const reader = Object.hasOwn(readers, name) ? readers[name] : null;
    if (!reader)
      throw new QuantityError(
        `${what} has no ${excerpt(name)}; it may have ${Object.keys(readers).join(", ") || "nothing else"}`,
      );
    try {
      kept[name] = reader(said);
    } catch (error) {
      if (error instanceof Expected)
        throw new QuantityError(`${name} of ${what}: write ${error.message}, not ${excerpt(said)}`);
      if (error instanceof QuantityError) throw new QuantityError(`${name} of ${what}: ${error.message}`);
      throw error;
    }
  }
  const missing = Object.keys(must).filter((name) => !Object.hasOwn(kept, name));
  if (missing.length) throw new QuantityError(`${what} lacks ${missing.join(", ")}`);
  return kept;
}

/**
 * Read an entry of a file or a page; unknown keys are refused.
 * @param {unknown} raw
 * @returns {Entry}
 * @throws {QuantityError} it is not an entry; the message names the key, what is wrong and what to write
 */
export function readEntry(raw) {
  const kind = isMapping(raw) && Object.hasOwn(raw, "kind") ? raw["kind"] : undefined;
  const keys = typeof kind === "string" && Object.hasOwn(KINDS, kind) ? KINDS[kind] : null;
  if (!keys) {
    const kinds = Object.keys(KINDS).join(", ");
    throw new QuantityError(
      `an entry is a mapping with a kind, one of ${kinds}, not ${excerpt(kind === undefined ? raw : kind)}`,
    );
  }
  const [must, may] = keys;
  const entry = readKeys(raw, { id: key, job: key, at: moment, kind: oneOf(kind), ...must }, may, String(kind));
  if (kind === "engine" && Object.keys(entry).length === 4)
    throw new QuantityError("engine changes nothing; write serial, year, margin, state or by");
  if (
    kind === "turn" &&
    (entry["forget"] ? "turns" in entry || "reads" in entry : !("turns" in entry && "reads" in entry))
  ) {
    throw new QuantityError("turn has turns and reads, or forget alone");
  }
  return /** @type {Entry} */ (entry);
}

/** A random UUID; made by hand, since `randomUUID` needs a secure page. */
export function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = ((bytes[6] ?? 0) & 0x0f) | 0x40;
  bytes[8] = ((bytes[8] ?? 0) & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

/** The time of the latest known entry of each job, in milliseconds. @type {Map<string, number>} */
const latest = new Map();

/**
 * Take note of an entry of the store or another page: new entries of its job get a later time.
 * @param {Entry} entry
 */
export function advanceClockPast(entry) {
  latest.set(entry.job, Math.max(latest.get(entry.job) ?? 0, Date.parse(entry.at)));
}

/**
 * A new entry of a job, made now; always later than the job's known entries, even if the clock was put back or two are
 * made at once, since entries are ordered by time.
 * @param {string} job the job's id; `newId()` for a new one
 * @param {Kind} kind
 * @param {Readonly<Record<string, unknown>>} [said] the kind's own keys
 * @returns {Entry}
 * @throws {QuantityError} a key is missing or wrong; the message says what to write
 */
export function newEntry(job, kind, said = {}) {
  if ("at" in said) throw new QuantityError("at is an entry's time; what a reading depends on is its conditions");
  const at = Math.max(Date.now(), (latest.get(job) ?? 0) + 1);
  const entry = readEntry({ ...said, id: newId(), job, kind, at: new Date(at).toISOString() });
  advanceClockPast(entry);
  return entry;
}
