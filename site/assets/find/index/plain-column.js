// A column with one plain value for each family.

/** @typedef {import("../../columns.js").Part} Part */

export class PlainColumn {
  /** @param {Part} part @param {string} key @param {any} [missing] the value of all families if the book never states it */
  constructor(part, key, missing = "") {
    const at = part.layout.node(`.${key}`);
    /** @type {any[]} */
    this.values = [missing];
    /** @type {Uint32Array} */
    this.column = new Uint32Array(part.count);
    if (at >= 0) this.#read(part, at);
  }

  /** @param {Part} part @param {number} at */
  #read(part, at) {
    const [, numeric, values] = part.layout.nodeAt(at);
    if (!numeric && values.every((/** @type {any} */ value) => value === null || typeof value !== "object")) {
      this.values = values;
      this.column = part.column(at);
    } else this.number(part.all(at));
  }

  /** Number the values in order of appearance. @param {any[]} all */
  number(all) {
    /** @type {Map<any, number>} */
    const numbers = new Map();
    for (const [place, value] of all.entries()) {
      let number = numbers.get(value);
      if (number === undefined) {
        number = numbers.size;
        numbers.set(value, number);
      }
      this.column[place] = number;
    }
    this.values = [...numbers.keys()];
  }

  /** @param {number} place @returns {any} */
  of(place) {
    return this.values[this.column[place] ?? -1];
  }
}
