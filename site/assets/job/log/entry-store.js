/**
 * Entries on the disk: one database, opened when needed, and again if the phone closed it while the page slept.
 */

/** @typedef {import("./entries.js").Entry} Entry */

export const NAME = "stopscrew-jobs";
const ENTRIES = "entries";
const BY_JOB = "job";
const PATIENCE = 4000;
const LATER = 200;

/** The result of a request. @template T @param {IDBRequest<T>} request @returns {Promise<T>} */
export const answered = (request) =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });

/** Whether an error says that the storage is full. @param {unknown} error */
export const isFull = (error) => error instanceof DOMException && error.name === "QuotaExceededError";

/** The index of entries by job. @param {IDBObjectStore} entries */
export const byJob = (entries) => entries.index(BY_JOB);

export class EntryStore {
  /** Whether the browser refuses storage to this page. */
  refused = false;
  /** Whether a newer version of the page has upgraded it. */
  outdated = false;
  /** @type {IDBDatabase | null} */
  #database = null;
  #patience = PATIENCE;

  /** Whether it is open. */
  get open() {
    return this.#database !== null;
  }

  /**
   * Open it, if the browser allows. Some browsers never answer: the first time waits long for them, later times briefly,
   * and a late answer is still used.
   */
  async start() {
    try {
      const request = indexedDB.open(NAME, 1);
      request.onupgradeneeded = () =>
        request.result.createObjectStore(ENTRIES, { keyPath: "id" }).createIndex(BY_JOB, BY_JOB);
      const opened = answered(request).then((database) => this.#take(database));
      const patience = this.#patience;
      this.#patience = LATER;
      await Promise.race([opened, new Promise((resolve) => void setTimeout(resolve, patience))]);
      this.refused = this.outdated = false;
    } catch (error) {
      this.outdated = error instanceof DOMException && error.name === "VersionError";
      this.refused = !this.outdated;
    }
  }

  /** @param {IDBDatabase} database */
  #take(database) {
    if (this.#database) return database.close();
    database.onversionchange = database.onclose = () => this.#close();
    this.#database = database;
    this.#patience = PATIENCE;
    return undefined;
  }

  /**
   * Run one transaction, all or nothing; it is on the disk when this returns.
   * @template T
   * @param {IDBTransactionMode} mode
   * @param {(entries: IDBObjectStore) => Promise<T>} work
   * @returns {Promise<T>}
   * @throws {DOMException} the store is refused, full, or does not answer
   */
  async within(mode, work) {
    for (let again = false; ; again = true) {
      if (!this.#database) await this.start();
      if (!this.#database) throw new DOMException("no store for this page", "InvalidStateError");
      try {
        const transaction = this.#database.transaction(ENTRIES, mode, { durability: "strict" });
        const finished = new Promise((resolve, reject) => {
          transaction.oncomplete = resolve;
          transaction.onabort = () => reject(transaction.error);
        });
        finished.catch(() => undefined); // `work` fails with the same error
        const result = await work(transaction.objectStore(ENTRIES));
        await finished;
        return result;
      } catch (error) {
        if (again || isFull(error)) throw error;
        this.#close();
      }
    }
  }

  #close() {
    this.#database?.close();
    this.#database = null;
  }
}
