/**
 * The log of entries on this phone. It is only added to; an entry counts as stored once it is on the disk. What cannot
 * be written is held in this page, `problem` says so, and writing is tried again with the next entry.
 */

import { QuantityError } from "../../errors.js";
import { advanceClockPast, readEntry } from "./entries.js";
import { answered, byJob, EntryStore, isFull, NAME } from "./entry-store.js";
import { fold, inOrder } from "./record.js";

/** @typedef {import("./entries.js").Entry} Entry */
/** @typedef {import("./record.js").JobRecord} JobRecord */

const UNTIL_CLOSED = "are held in this page only and are lost when it closes: export the job before you leave";
const REFUSED = `This browser does not let the site store jobs, as in a private window. Entries ${UNTIL_CLOSED}.`;
const CLOSED = `This phone's storage does not answer. New entries ${UNTIL_CLOSED}; saving is tried again with each one.`;
const OUTDATED =
  "A newer version of this page stored the jobs, and this one cannot read them: reload it with a signal. " +
  `Entries ${UNTIL_CLOSED}.`;
const FULL = `This phone's storage is full. New entries ${UNTIL_CLOSED}, or free some space; saving is tried again with each one.`;

/** The jobs of this phone. */
export class JobLog {
  /** What does not work, in words; empty if everything does. */
  problem = "";
  /**
   * Whether the browser promises not to clear the store by itself; null before the first entry.
   * @type {boolean | null}
   */
  promised = null;
  #store = new EntryStore();
  /** Entries not yet on the disk. @type {Map<string, Entry>} */
  #waiting = new Map();
  /** Entries known to be on the disk, for when it does not answer. @type {Map<string, Entry>} */
  #written = new Map();
  /** The latest write; the next one waits for it. @type {Promise<unknown>} */
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

  /** Whether every entry is on the disk. */
  get lasting() {
    return !this.#store.refused && this.#waiting.size === 0;
  }

  /**
   * Add an entry. `entriesOf` returns it at once, stored or not.
   * @param {Entry} entry
   * @returns {Promise<boolean>} whether it is on the disk; if not, `problem` says why
   * @throws {QuantityError} it is not a valid entry, or its job was removed
   */
  async append(entry) {
    return (await this.appendAll([entry])).lasting;
  }

  /**
   * Add the entries that are not there yet, such as those of an imported file.
   * @param {readonly Entry[]} entries
   * @returns {Promise<{added: number, lasting: boolean}>} how many were new, and whether they are on the disk
   * @throws {QuantityError} one is not a valid entry, or its job was removed
   */
  async appendAll(entries) {
    const read = entries.map(readEntry);
    read.forEach(advanceClockPast);
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
    entries.forEach(advanceClockPast);
    return entries;
  }

  /** All jobs, the last changed first. @returns {Promise<JobRecord[]>} */
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
   * Remove a job from this phone for good.
   * @param {string} job
   * @throws {QuantityError} it could not be removed
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
        throw new QuantityError("This phone's storage does not answer, so the job is still there; try again.");
    }
    this.#forget(job);
    this.#tellAll(job, true);
  }

  /**
   * Call a listener with the id of each job that changes, here or in another window.
   * @param {(job: string) => void} listener
   * @returns {() => void} stops it
   */
  onChange(listener) {
    this.#listeners.add(listener);
    return () => void this.#listeners.delete(listener);
  }

  /** Open the store; without one the page still works. */
  async open() {
    await this.#store.start();
    if (!this.#store.open) this.#fault(null);
  }

  /** Write all waiting entries, or none; an error is put into `problem`. */
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
   * Stored and waiting entries. If the store does not answer, those known to be in it, and `problem` says so.
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

  /** Drop what is held of a removed job. @param {string} job */
  #forget(job) {
    for (const held of [this.#waiting, this.#written]) {
      for (const entry of held.values()) if (entry.job === job) held.delete(entry.id);
    }
  }

  /** @param {string} job */
  #tell(job) {
    for (const listener of this.#listeners) listener(job);
  }

  /** Tell the listeners here and in other windows. @param {string} job @param {boolean} [removed] */
  #tellAll(job, removed = false) {
    this.#channel?.postMessage({ job, removed });
    this.#tell(job);
  }
}

/**
 * Open the log of this phone. It never fails: if nothing can be stored, `problem` says so.
 * @returns {Promise<JobLog>}
 */
export async function openJobLog() {
  const kept = new JobLog();
  await kept.open();
  return kept;
}
