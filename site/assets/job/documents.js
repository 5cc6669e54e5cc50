/**
 * The documents that a job needs: its family's page, the shared document, the routines; each is fetched once.
 */

import { jobOf } from "../book/job.js";
import { StopscrewError } from "../errors.js";

/** @typedef {Readonly<Record<string, any>>} Document */

const FAMILY = /^[a-z0-9]+(-[a-z0-9]+)*\/[a-z0-9]+(-[a-z0-9]+)*$/;

export class Documents {
  /** @type {Map<string, Promise<any>>} */
  #fetched = new Map();

  /** @param {string} root the path from the page to the site's root */
  constructor(root) {
    this.root = root;
  }

  /**
   * @param {string} path
   * @returns {Promise<any>}
   * @throws {StopscrewError} it does not exist, or there is no signal; a failed request is made again the next time
   */
  #json(path) {
    const known = this.#fetched.get(path);
    if (known) return known;
    const asked = fetch(`${this.root}${path}`)
      .then((answer) => {
        if (answer.ok) return answer.json();
        throw new StopscrewError(
          answer.status === 404 ? "this site has no such family" : `${path} could not be fetched (${answer.status})`,
        );
      })
      .catch((error) => {
        this.#fetched.delete(path);
        if (error instanceof StopscrewError) throw error;
        throw new StopscrewError(`${path} is not on this phone and there is no signal; open this page once with one`);
      });
    this.#fetched.set(path, asked);
    return asked;
  }

  /**
   * A family's documents and its job.
   * @param {string} family
   * @returns {Promise<{page: Document, shared: Document, job: import("../book/job.js").Job}>}
   * @throws {StopscrewError} no such family, or no order of work for it
   */
  async family(family) {
    if (!FAMILY.test(family)) throw new StopscrewError("the address names no family");
    const [page, shared, routines] = await Promise.all(
      [`families/${family}/page.json`, "shared.json", "job/routines.json"].map((path) => this.#json(path)),
    );
    return { page, shared, job: jobOf(page, routines) };
  }
}
