/** The choices on a family's page, as the address and this phone store them. */

import { recall, remember } from "../phone-storage.js";
import { SET_WORDS } from "../vocabulary.js";

/**
 * @typedef {{state: string, margin: string, serial: string, units: string}} Chosen margin in degrees as text; empty for none
 */

/** @type {ReadonlyMap<string, string>} */
export const UNITS = new Map([
  ["", "as printed"],
  ["metric", "metric"],
  ["inch", "inch and pound"],
]);

/** The longest serial number. */
export const LONGEST = 24;

/** @type {Chosen} */
export const NOTHING = { state: "", margin: "", serial: "", units: "" };

/**
 * The choices in an address or on the phone; what is not valid counts as not chosen.
 * @param {URLSearchParams} kept
 * @returns {Chosen}
 */
export function readChosen(kept) {
  const [state = "", margin = "", serial = "", units = ""] = ["state", "margin", "serial", "units"].map((name) =>
    (kept.get(name) ?? "").trim(),
  );
  return {
    state: SET_WORDS.has(state) ? state : "",
    margin: /^[0-9]{1,2}(\.5)?$/.test(margin) && Number(margin) ? margin : "",
    serial: serial.slice(0, LONGEST),
    units: UNITS.has(units) ? units : "",
  };
}

/** The choices as the text of an address; empty if nothing is chosen. @param {Partial<Chosen>} chosen */
export function writeChosen(chosen) {
  return new URLSearchParams(Object.entries(chosen).filter(([, value]) => value)).toString();
}

/** The choices of an address; empty for a plain link to a figure. @param {string} hash */
export const inAddress = (hash) => new URLSearchParams(hash.includes("=") ? hash.slice(1) : "");

/**
 * The choices stored on this phone: serial number and margin by family, units for all. Cranking or running is never
 * stored. If storage is refused or full, nothing is stored, and `write` returns false.
 */
export class SavedChoices {
  /** @param {string} family */
  constructor(family) {
    this.keys = { own: `stopscrew-chosen:${family}`, units: "stopscrew-units" };
  }

  /** @returns {Chosen} */
  read() {
    const units = recall(this.keys.units);
    return {
      ...readChosen(new URLSearchParams(recall(this.keys.own))),
      state: "",
      units: UNITS.has(units) ? units : "",
    };
  }

  /** Store them; returns whether that worked. @param {Chosen} chosen */
  write({ margin, serial, units }) {
    return remember(this.keys.own, writeChosen({ margin, serial })) && remember(this.keys.units, units);
  }
}
