// Numbers in names and in what is seen on the engine: each is a column of its own and searched there.

import { mark } from "./bit-set.js";

/**
 * One number in similar text patterns, or two with a point between them, which are one word.
 * @typedef {object} Slot
 * @property {Uint32Array} patterns the pattern of each family
 * @property {Uint8Array} among for each pattern, whether it contains the number
 * @property {Uint32Array} numbers
 * @property {number} width to which it is padded with zeros
 * @property {Uint32Array|null} decimals
 * @property {number} decimalsWidth
 * @property {boolean} seen whether it is seen on the engine
 * @property {boolean} joined whether it is also found without its point
 */

const NUMBER = /^(~?)([0-9]+)(?:\.([0-9]+))?$/;
const LONGEST = 9;

export class NumberColumns {
  constructor() {
    /** @type {Slot[]} */
    this.slots = [];
  }

  /** @param {Slot} slot */
  add(slot) {
    this.slots.push(slot);
  }

  /**
   * Add the families that have a number, or one that begins with it, to a set.
   * @param {Uint32Array} set
   * @param {string} word
   * @param {boolean} grows
   * @param {boolean} said
   */
  mark(set, word, grows, said) {
    const [, together, digits, decimals] = NUMBER.exec(word) || [];
    if (!digits || (together && decimals)) return;
    for (const slot of this.slots) {
      if (said && slot.seen) continue;
      if (!together) markSlot(set, slot, digits, decimals || "", grows);
      else if (slot.joined && slot.decimals) {
        for (let cut = 1; cut < digits.length; cut++)
          markSlot(set, slot, digits.slice(0, cut), digits.slice(cut), false);
      }
    }
  }

  /** Every number of four digits, which a mistyped year may mean. @returns {Set<string>} */
  fourDigits() {
    /** @type {Set<string>} */
    const found = new Set();
    for (const { patterns, among, numbers, width, decimals } of this.slots) {
      for (let place = 0; place < patterns.length; place++) {
        const number = numbers[place] ?? 0;
        if (!among[patterns[place] ?? -1] || number > 9999 || (width !== 4 && number < 1000)) continue;
        if (!decimals?.[place]) found.add(padded(number, width));
      }
    }
    return new Set([...found].filter((text) => text.length === 4));
  }
}

/** @param {number} number @param {number} width */
const padded = (number, width) => String(number).padStart(width, "0");

/**
 * The ranges of numbers whose text begins with these digits; without `grows`, equals them.
 * @param {string} digits
 * @param {number} width
 * @param {boolean} grows
 * @returns {[number, number][]}
 */
function spans(digits, width, grows) {
  const number = Number(digits);
  if (!grows) return padded(number, width) === digits ? [[number, number]] : [];
  if (!width && digits[0] === "0") return digits === "0" ? [[0, 0]] : [];
  /** @type {[number, number][]} */
  const found = [];
  for (let length = Math.max(width, digits.length); length <= (width || LONGEST); length++) {
    const more = 10 ** (length - digits.length);
    found.push([number * more, number * more + more - 1]);
  }
  return found;
}

/**
 * @param {Uint32Array} set
 * @param {Slot} slot
 * @param {string} digits
 * @param {string} after the point
 * @param {boolean} grows
 */
function markSlot(set, { patterns, among, numbers, width, decimals, decimalsWidth }, digits, after, grows) {
  if (after && !decimals) return;
  for (const [low, high] of spans(digits, width, grows && !after)) {
    for (let place = 0; place < patterns.length; place++) {
      const number = numbers[place] ?? 0;
      if (number < low || number > high || !among[patterns[place] ?? -1]) continue;
      if (decimals && (after || !grows)) {
        const told = padded(decimals[place] ?? 0, decimalsWidth).replace(/0+$/, "");
        if (grows ? !told.startsWith(after) : told !== after) continue;
      }
      mark(set, place);
    }
  }
}
