/**
 * What is half typed at the steps of a job, so that a reload or a phone that sleeps loses no digit. It is no entry: it
 * stays in this window, for some hours, and goes when it is noted or cleared; a second window begins with empty boxes.
 */

import { recall, remember, WINDOW } from "../phone-storage.js";
import { isMapping } from "./log/report-value.js";

/** @typedef {Map<string, unknown>} Drafts by their names */

const KEY = "stopscrew-half-typed";
const LASTS = 12 * 60 * 60 * 1000; // the next day nobody knows where a digit came from
const MOST_JOBS = 4;
const MOST_DRAFTS = 12;
const LONGEST_TEXT = 2000;
const LONGEST = 40_000;

/**
 * Whether a draft that was stored can take the place of one made new: the same keys with the same kinds of values. Where the
 * new one has no keys yet, such as conditions, any texts will do.
 * @param {unknown} stored
 * @param {unknown} made
 * @returns {boolean}
 */
function isLike(stored, made) {
  if (typeof made === "string") return typeof stored === "string" && stored.length <= LONGEST_TEXT;
  if (!isMapping(made)) return typeof stored === typeof made;
  if (!isMapping(stored)) return false;
  const [wanted, there] = [Object.keys(made), Object.keys(stored)];
  if (!wanted.length) return there.length <= MOST_DRAFTS && there.every((name) => isLike(stored[name], ""));
  return there.length === wanted.length && wanted.every((name) => isLike(stored[name], made[name]));
}

/** All that is stored, job by job, the latest last. @returns {[string, {at: number, drafts: Record<string, unknown>}][]} */
function storedJobs() {
  try {
    const stored = JSON.parse(recall(KEY, WINDOW) || "{}");
    const now = Date.now();
    const jobs = isMapping(stored) ? Object.entries(stored) : [];
    return jobs
      .flatMap(([job, one]) => {
        const { at, drafts } = /** @type {Record<string, unknown>} */ (isMapping(one) ? one : {});
        const isFresh = typeof at === "number" && at <= now && now - at < LASTS;
        return isFresh && isMapping(drafts) ? [/** @type {const} */ ([job, { at, drafts }])] : [];
      })
      .map(([job, one]) => /** @type {[string, {at: number, drafts: Record<string, unknown>}]} */ ([job, one]))
      .sort(([, one], [, other]) => one.at - other.at);
  } catch {
    return []; // damaged: nothing was typed
  }
}

/** Forget what is half typed in a job. @param {string} job */
export const forgetHalfTyped = (job) => store(job, []);

/** @param {string} job @param {readonly (readonly [string, unknown])[]} drafts */
function store(job, drafts) {
  const others = storedJobs().filter(([id]) => id !== job);
  const own = drafts.length
    ? [/** @type {const} */ ([job, { at: Date.now(), drafts: Object.fromEntries(drafts) }])]
    : [];
  const jobs = [...others, ...own].slice(-MOST_JOBS);
  const words = jobs.length ? JSON.stringify(Object.fromEntries(jobs)) : "";
  if (words.length <= LONGEST) remember(KEY, words, WINDOW);
}

/** The drafts of a job: in this page as they are, and stored while a hand has typed something into them. */
export class HalfTyped {
  /** @type {Drafts} */
  #drafts = new Map();
  /** Whether something is typed in a draft. @type {Map<string, (draft: any) => boolean>} */
  #typed = new Map();
  /** Stored before this page was opened, and not asked for since. @type {Drafts} */
  #stored;
  #last;

  /** @param {string} job */
  constructor(job) {
    this.job = job;
    this.#stored = new Map(Object.entries(storedJobs().find(([id]) => id === job)?.[1].drafts ?? {}));
    this.#last = JSON.stringify([...this.#stored]);
  }

  /**
   * The draft under a name, made when it is first asked for.
   * @template T
   * @param {string} name
   * @param {() => T} make
   * @param {((draft: T) => boolean) | null} isTyped whether something is typed in it, which is then stored; null for
   *   a draft that only this page holds
   * @returns {T}
   */
  draft(name, make, isTyped) {
    if (!this.#drafts.has(name)) {
      const [stored, made] = [this.#stored.get(name), make()];
      this.#stored.delete(name);
      if (isTyped) this.#typed.set(name, isTyped);
      this.#drafts.set(name, isTyped && isLike(stored, made) ? stored : made);
    }
    return /** @type {T} */ (this.#drafts.get(name));
  }

  /** The draft under a name as it stands; undefined before it is made. @param {string} name @returns {any} */
  under(name) {
    return this.#drafts.get(name);
  }

  /** @param {string} name */
  forget(name) {
    this.#drafts.delete(name);
  }

  /** Store what is typed now. */
  keep() {
    const typed = [...this.#drafts].filter(([name, draft]) => this.#typed.get(name)?.(draft));
    const drafts = [...this.#stored, ...typed].slice(-MOST_DRAFTS);
    const words = JSON.stringify(drafts);
    if (words === this.#last) return;
    this.#last = words;
    store(this.job, drafts);
  }
}
