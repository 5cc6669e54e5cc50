/**
 * The log of entries on this phone. It is only ever added to; an entry counts as kept when the disk has it. What cannot
 * be written lives in this page, is told in words, and is tried again with the next entry.
 */

import { QuantityError } from "../../errors.js";
import { noticed, readEntry } from "./entries.js";
import { answered, byJob, isFull, NAME, Store } from "./entry-store.js";
import { fold, inOrder } from "./record.js";

/** @typedef {import("./entries.js").Entry} Entry */
/** @typedef {import("./record.js").JobRecord} JobRecord */

const UNTIL_CLOSED = "live in this page only and are gone when it closes: export the job before you leave";
const REFUSED = `This browser refuses to keep jobs, as in a private window. Entries ${UNTIL_CLOSED}.`;
const CLOSED = `The store of this phone does not answer. New entries ${UNTIL_CLOSED}; it is tried again with each one.`;
const OUTDATED =
  "A newer page of this site has kept jobs here, which this one can not read: load it again with a signal. " +
  `Entries ${UNTIL_CLOSED}.`;
const FULL = `No room on this phone for more. New entries ${UNTIL_CLOSED}, or make room; it is tried again with each one.`;

/** What is kept of jobs. */
export class Kept {
  /** In words what does not work, empty if all does. */
  problem = "";
  /**
   * Whether the browser has promised not to clear the store by itself; unknown before the first entry.
   * @type {boolean | null}
   */
  promised = null;
  #store = new Store();
  /** Entries that the disk does not have. @type {Map<string, Entry>} */
  #waiting = new Map();
  /** Entries that it is known to have, for when it does not answer. @type {Map<string, Entry>} */
  #written = new Map();
  /** One write after another. @type {Promise<unknown>} */
  #last = Promise.resolve();
  /** @type {Set<(job: string) => void>} */
  #listeners = new Set();
  /** @type {BroadcastChannel | null} */
  #channel = typeof BroadcastChannel === "function" ? new BroadcastChannel(NAME) : null;
  #asked = false;

  constructor() {
    globalThis.addEventListener("beforeunload", (event) => {
      if (this.#waiting.size) event.preventDefault(); // the browser asks before it closes the page
    });
    if (!this.#channel) return;
    this.#channel.onmessage = ({ data }) => {
      if (data.removed) this.#forget(data.job);
      this.#tell(data.job);
    };
  }

  /** Whether all that was noted is on the disk. */
  get lasting() {
    return !this.#store.refused && this.#waiting.size === 0;
  }

  /**
   * Add an entry. It is in `entriesOf` at once, whatever happens.
   * @param {Entry} entry
   * @returns {Promise<boolean>} whether the disk has it; if not, `problem` says why
   * @throws {QuantityError} it is no entry, or its job was removed
   */
  async append(entry) {
    return (await this.appendAll([entry])).lasting;
  }

  /**
   * Add the entries that are not there yet, as of a file taken in.
   * @param {readonly Entry[]} entries
   * @returns {Promise<{added: number, lasting: boolean}>} how many were new, and whether the disk has them
   * @throws {QuantityError} one is no entry, or is of a job that was removed
   */
  async appendAll(entries) {
    const read = entries.map(readEntry);
    read.forEach(noticed);
    const fresh = new Set(read.map(({ id }) => id).filter((id) => !this.#waiting.has(id)));
    for (const entry of read) this.#waiting.set(entry.id, entry);
    this.#askToLast();
    const written = this.#last.then(() => this.#write());
    this.#last = written;
    const { known, orphans } = await written;
    for (const job of new Set(read.map((entry) => entry.job))) this.#tellAll(job);
    if (read.some(({ id }) => orphans.has(id))) {
      throw new QuantityError("This job was removed in another window, so nothing can be added to it.");
    }
    const added = [...fresh].filter((id) => !known.has(id)).length;
    return { added, lasting: read.every(({ id }) => !this.#waiting.has(id)) };
  }

  /** All entries of a job, in order. @param {string} job @returns {Promise<Entry[]>} */
  async entriesOf(job) {
    const entries = inOrder(
      await this.#read(
        (entries) => byJob(entries).getAll(job),
        (entry) => entry.job === job,
      ),
    );
    entries.forEach(noticed);
    return entries;
  }

  /** Every job, the one last worked on first. @returns {Promise<JobRecord[]>} */
  async jobs() {
    /** @type {Map<string, Entry[]>} */
    const jobs = new Map();
    for (const entry of await this.#read(
      (entries) => entries.getAll(),
      () => true,
    )) {
      const entries = jobs.get(entry.job);
      if (entries) entries.push(entry);
      else jobs.set(entry.job, [entry]);
    }
    const begun = [...jobs.values()].filter((entries) => entries.some(({ kind }) => kind === "begin"));
    return begun.map(fold).sort((one, other) => (one.changed < other.changed ? 1 : -1));
  }

  /**
   * Take a job off this phone, for good.
   * @param {string} job
   * @throws {QuantityError} it is still there
   */
  async remove(job) {
    const removing = this.#last.then(() =>
      this.#store.within("readwrite", async (entries) => {
        for (const key of await answered(byJob(entries).getAllKeys(job))) entries.delete(key);
      }),
    );
    this.#last = removing.catch(() => undefined);
    try {
      await removing;
    } catch {
      if (!this.#store.refused)
        throw new QuantityError("The store of this phone does not answer, so the job is still there; try once more.");
    }
    this.#forget(job);
    this.#tellAll(job, true);
  }

  /**
   * Be told of the id of each job that changes, here or in another window.
   * @param {(job: string) => void} listener
   * @returns {() => void} ends it
   */
  onChange(listener) {
    this.#listeners.add(listener);
    return () => void this.#listeners.delete(listener);
  }

  /** Open the store; where there is none the page goes on without. */
  async open() {
    await this.#store.start();
    if (!this.#store.open) this.#fault(null);
  }

  /** Write all that waits, at once or not at all; a fault is told in `problem`. */
  async #write() {
    const batch = [...this.#waiting.values()];
    const known = new Set();
    const orphans = new Set();
    try {
      await this.#store.within("readwrite", async (entries) => {
        const begun = new Set(batch.flatMap((entry) => (entry.kind === "begin" ? [entry.job] : [])));
        for (const job of new Set(batch.map((entry) => entry.job))) {
          if (await answered(byJob(entries).count(job))) begun.add(job);
        }
        for (const entry of batch) {
          if (!begun.has(entry.job)) orphans.add(entry.id);
          else if ((await answered(entries.getKey(entry.id))) === undefined) entries.add(entry);
          else known.add(entry.id);
        }
      });
      for (const entry of batch) {
        this.#waiting.delete(entry.id);
        if (!orphans.has(entry.id)) this.#written.set(entry.id, entry);
      }
      this.problem = "";
    } catch (error) {
      orphans.clear();
      this.#fault(error);
    }
    return { known, orphans };
  }

  /**
   * What the store has, and what waits. Where it does not answer, what is known of it, and a word in `problem`.
   * @param {(entries: IDBObjectStore) => IDBRequest<Entry[]>} ask
   * @param {(entry: Entry) => boolean} meant
   */
  async #read(ask, meant) {
    await this.#last;
    /** @type {Entry[]} */
    let stored = [];
    try {
      stored = await this.#store.within("readonly", (entries) => answered(ask(entries)));
      for (const entry of this.#written.values()) if (meant(entry)) this.#written.delete(entry.id);
      for (const entry of stored) this.#written.set(entry.id, entry);
      if (!this.#waiting.size) this.problem = "";
    } catch (error) {
      stored = [...this.#written.values()].filter(meant);
      this.#fault(error);
    }
    return [...stored, ...[...this.#waiting.values()].filter(meant)];
  }

  /** @param {unknown} error */
  #fault(error) {
    const { refused, outdated } = this.#store;
    this.problem = refused ? REFUSED : outdated ? OUTDATED : isFull(error) ? FULL : CLOSED;
  }

  #askToLast() {
    if (this.#asked) return;
    this.#asked = true;
    navigator.storage?.persist?.().then(
      (promised) => (this.promised = promised),
      () => undefined,
    );
  }

  /** What is held here of a job that was removed. @param {string} job */
  #forget(job) {
    for (const held of [this.#waiting, this.#written]) {
      for (const entry of held.values()) if (entry.job === job) held.delete(entry.id);
    }
  }

  /** @param {string} job */
  #tell(job) {
    for (const listener of this.#listeners) listener(job);
  }

  /** Here and in the other windows. @param {string} job @param {boolean} [removed] */
  #tellAll(job, removed = false) {
    this.#channel?.postMessage({ job, removed });
    this.#tell(job);
  }
}

/**
 * Open what this phone keeps of jobs. It never fails: where nothing can be kept, `problem` says so.
 * @returns {Promise<Kept>}
 */
export async function openKept() {
  const kept = new Kept();
  await kept.open();
  return kept;
}
