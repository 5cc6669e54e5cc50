/**
 * How the pointer of an engine stands in the course of a job. A pointer that stays is reckoned with; one that was moved
 * counts for nothing until both contacts are read again, and then what they give counts.
 */

/** @typedef {import("./entries.js").Entry} Entry */

export const DEAD_CENTRE = "dead-centre";
export const POINTER = "pointer";

/**
 * `ASKED` is read, and not yet said whether it was moved since; `MOVED` is moved, and the contacts not read again.
 */
export const Pointer = Object.freeze({
  UNREAD: "unread",
  ASKED: "asked",
  STAYS: "stays",
  MOVED: "moved",
  READ_AGAIN: "read-again",
});

/**
 * The pointer at one moment: `reads` what it shows at true top dead centre in signed degrees, null if unknown; `stops`
 * the two contacts that this came from; `earlier` this reading and those before it of the same pointer; `since` the time
 * from which readings count from it; `entry` the entry that said so last.
 * @typedef {{readonly stands: string, readonly reads: string | null, readonly stops: readonly [string, string] | null,
 *   readonly earlier: readonly string[], readonly since: string, readonly entry: string}} PointerState
 */
/** @typedef {readonly {readonly place: number, readonly state: PointerState}[]} PointerHistory */

/** @type {PointerState} */
const UNREAD = { stands: Pointer.UNREAD, reads: null, stops: null, earlier: [], since: "", entry: "" };

/**
 * Every change of the pointer, with its place among the entries.
 * @param {readonly Entry[]} entries those that stand, in order
 * @returns {PointerHistory}
 */
export function pointerHistory(entries) {
  const history = [];
  let state = UNREAD;
  for (const [place, entry] of entries.entries()) {
    const next = after(state, entry);
    if (next !== state) history.push({ place, state: next });
    state = next;
  }
  return history;
}

/** @param {PointerState} state @param {Entry} entry @returns {PointerState} */
function after(state, entry) {
  const said = { since: entry.at, entry: entry.id };
  if (entry.kind === "pointer") {
    if (entry.answer === "moved") return { ...UNREAD, ...said, stands: Pointer.MOVED };
    return state.stands === Pointer.ASKED ? { ...state, stands: Pointer.STAYS, entry: entry.id } : state;
  }
  if (entry.kind !== "dead-centre") return state;
  const { reads, stops = null } = entry;
  if (state.stands === Pointer.MOVED) {
    return stops && reads !== null ? { ...said, stands: Pointer.READ_AGAIN, reads, stops, earlier: [reads] } : state;
  }
  const earlier = reads === null ? state.earlier : [...state.earlier, reads];
  return { ...said, stands: reads === null ? Pointer.UNREAD : Pointer.ASKED, reads, stops, earlier };
}

/** The pointer as it stands now. @param {PointerHistory} history */
export const pointerNow = (history) => history.at(-1)?.state ?? UNREAD;

/**
 * What the pointer showed at true top dead centre when a reading was taken: by the last dead-centre reading before it,
 * else by the first one after. `adrift` if it was, or may have been, moved and the contacts not read again.
 * @param {PointerHistory} history
 * @param {number} place of the reading among the entries
 * @returns {{pointer: string | null, stops: readonly [string, string] | null, adrift: boolean}} `stops` the two contacts
 *   that it came from
 */
export function pointerAt(history, place) {
  const before = history.findLast((one) => one.place < place)?.state;
  const next = history.find((one) => one.place > place)?.state;
  const settled = before?.stands === Pointer.STAYS || before?.stands === Pointer.READ_AGAIN;
  const adrift = before?.stands === Pointer.MOVED || (!settled && next?.stands === Pointer.MOVED);
  const { reads = null, stops = null } = (adrift ? null : (before ?? next)) ?? {};
  return { pointer: reads, stops, adrift };
}

/**
 * Whether a step asks if the pointer was moved or stays.
 * @param {import("../../book/job.js").Job} job
 * @param {import("../../book/job.js").JobStep} step
 */
export const asksOfPointer = ({ steps }, { id }) =>
  id === POINTER || (id === DEAD_CENTRE && !steps.some((one) => one.id === POINTER));

/**
 * Why nothing is set or judged by the pointer; empty if nothing stands against it.
 * @param {string} stands
 */
export function pointerOpen(stands) {
  if (stands === Pointer.MOVED) return "the pointer was moved and both contacts were not read again since";
  return stands === Pointer.ASKED ? "it is not said yet whether the pointer was moved or stays" : "";
}
