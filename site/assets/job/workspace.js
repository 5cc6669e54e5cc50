/**
 * What a screen works with: the job as it stands, its family's documents, and ways to add to it. Screens are drawn anew
 * from it after each entry; what is being typed lives in drafts, which outlive a drawing.
 */

import { StopscrewError } from "../errors.js";
import { newEntry } from "./log/entries.js";
import { fold } from "./log/record.js";
import { speak, wished } from "./reading/speech.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./log/entries.js").Entry} Entry */
/** @typedef {import("./log/record.js").JobRecord} JobRecord */

export class Desk {
  /** @type {Map<string, any>} */
  #drafts = new Map();

  /**
   * @param {{kept: import("./log/job-log.js").Kept, entries: Entry[], job: import("../book/job.js").Job, page: Document,
   *   shared: Document, root: string, redraw: (focus?: string) => void, tell: (words: string) => void, canSpeak: boolean}} given
   */
  constructor({ kept, entries, job, page, shared, root, redraw, tell, canSpeak }) {
    this.kept = kept;
    this.entries = entries;
    this.record = fold(entries);
    this.job = job;
    this.page = page;
    this.shared = shared;
    this.root = root;
    this.canSpeak = canSpeak;
    this.redrawn = redraw;
    this.tell = tell;
  }

  /** Take over what was added here or in another window. */
  async refresh() {
    this.entries = await this.kept.entriesOf(this.record.id);
    if (this.entries.length) this.record = fold(this.entries);
  }

  /**
   * Add an entry; the screen then shows what the job has become.
   * @param {import("./log/entries.js").Kind} kind
   * @param {Readonly<Record<string, unknown>>} said
   * @throws {QuantityError} the job was removed elsewhere, or it is no entry; told already
   */
  async append(kind, said) {
    try {
      await this.kept.append(newEntry(this.record.id, kind, said));
    } catch (error) {
      if (error instanceof StopscrewError) this.say(`Not noted: ${error.message}`);
      throw error;
    }
    await this.refresh();
    this.redraw();
  }

  /**
   * Draw the screen anew.
   * @param {string} [focus] the id of what the keyboard goes to; else it stays where it is
   */
  redraw(focus) {
    this.redrawn(focus);
  }

  /** Tell on the screen, and aloud where that is wanted. @param {string} words */
  say(words) {
    this.tell(words);
    if (wished()) speak(words);
  }

  /** Say aloud because a key was pressed for it. @param {string} words */
  aloud(words) {
    speak(words);
  }

  /**
   * What is being typed under a name, made when it is first asked for.
   * @template T
   * @param {string} name
   * @param {() => T} make
   * @returns {T}
   */
  draft(name, make) {
    if (!this.#drafts.has(name)) this.#drafts.set(name, make());
    return this.#drafts.get(name);
  }

  /** @param {string} name */
  forget(name) {
    this.#drafts.delete(name);
  }
}
