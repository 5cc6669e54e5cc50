/**
 * What a screen works with: the job as it stands, its family's documents, and ways to add to it. Screens are redrawn
 * from it after each entry; what is being typed is kept in drafts, which survive a redraw and a reload.
 */

import { StopscrewError } from "../errors.js";
import { HalfTyped } from "./half-typed.js";
import { newEntry } from "./log/entries.js";
import { fold } from "./log/record.js";
import { readsAloud, speak } from "./reading/speech.js";
import { pageForJob } from "./twins.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./log/entries.js").Entry} Entry */
/** @typedef {import("./log/record.js").JobRecord} JobRecord */

export class Workspace {
  /** Entries of its own on their way to the log: the screen is drawn once each is there. */
  adding = 0;
  /** The dangers met in this window, see `screens/cautions.js`. @type {Set<string>} */
  met = new Set();
  /** @type {Promise<unknown>} */
  #turn = Promise.resolve();

  /**
   * @param {{log: import("./log/job-log.js").JobLog, entries: Entry[], job: import("../book/job.js").Job, page: Document,
   *   shared: Document, root: string, redraw: (focus?: string) => void, tell: (words: string, isDrawn?: boolean) => void,
   *   canSpeak: boolean}} given
   */
  constructor({ log, entries, job, page, shared, root, redraw, tell, canSpeak }) {
    this.log = log;
    this.entries = entries;
    this.record = fold(entries);
    this.halfTyped = new HalfTyped(this.record.id);
    this.job = job;
    this.book = page; // as published
    this.page = pageForJob(page, this.record);
    this.shared = shared;
    this.root = root;
    this.canSpeak = canSpeak;
    this.redrawn = redraw;
    this.tell = tell;
  }

  /**
   * What one key begins ends before what the next one begins: a reading kept while the one before it is still being
   * written is reckoned after it.
   * @param {() => Promise<unknown>} act
   */
  inTurn(act) {
    const done = this.#turn.then(act);
    this.#turn = done.catch(() => {});
    return done;
  }

  /** Read the entries again, those of other windows too. */
  async refresh() {
    this.entries = await this.log.entriesOf(this.record.id);
    if (!this.entries.length) return;
    this.record = fold(this.entries);
    this.page = pageForJob(this.book, this.record);
  }

  /**
   * Add an entry and redraw the screen.
   * @param {import("./log/entries.js").Kind} kind
   * @param {Readonly<Record<string, unknown>>} said
   * @throws {QuantityError} the job was removed elsewhere, or it is not a valid entry; the message is on the screen already
   */
  async append(kind, said) {
    this.adding += 1;
    try {
      await this.log.append(newEntry(this.record.id, kind, said));
    } catch (error) {
      if (error instanceof StopscrewError) this.say(`Not noted: ${error.message}`);
      throw error;
    } finally {
      this.adding -= 1;
    }
    await this.refresh();
    this.redraw();
  }

  /**
   * Redraw the screen.
   * @param {string} [focus] the id of the element to focus; without it the focus stays
   */
  redraw(focus) {
    this.redrawn(focus);
  }

  /**
   * Show a message, and read it aloud if reading aloud is on.
   * @param {string} words
   * @param {boolean} [isDrawn] whether the screen shows as much
   */
  say(words, isDrawn) {
    this.tell(words, isDrawn);
    if (readsAloud()) speak(words);
  }

  /** Read aloud on request. @param {string} words */
  aloud(words) {
    speak(words);
  }

  /**
   * The draft under a name, made when it is first asked for.
   * @template T
   * @param {string} name
   * @param {() => T} make
   * @param {((draft: T) => boolean) | null} [isTyped] whether something is typed in it that a reload must not lose
   * @returns {T}
   */
  draft(name, make, isTyped = null) {
    return this.halfTyped.draft(name, make, isTyped);
  }

  /** @param {string} name */
  forget(name) {
    this.halfTyped.forget(name);
  }
}
