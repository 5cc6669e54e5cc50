/**
 * The form for the engine of a new or existing job: serial number, year, initials, margin. In which state each figure is
 * set is no question: it follows from what the book has.
 */

import { MAXIMUM } from "../../book/catalogue.js";
import { readFit, requireFit } from "../../book/engine-kinds.js";
import { element } from "../../dom.js";
import { QuantityError, StopscrewError } from "../../errors.js";
import { recall, remember } from "../../phone-storage.js";
import { PLACE_WORDS } from "../../vocabulary.js";
import { field, refusal } from "../controls.js";
import { twinsOf } from "../twins.js";
import { marginQuestion } from "./margin-question.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {{serial: string, year: string, by: string, margin: string, state: string}} EngineDetails */

const BY = "stopscrew-by";

/** The initials last used on this phone. */
export const lastInitials = () => recall(BY);

/**
 * The states in which the maximum of a family can be set, the usual one first.
 * @param {Document} page
 */
export function settableStates(page) {
  const maximum = page["figures"].find((/** @type {Document} */ one) => one["id"] === MAXIMUM);
  const rows = /** @type {Document[]} */ (maximum?.rows ?? []);
  const held = (/** @type {string} */ state) =>
    rows.some((row) => row["state"] === state && row["problem"] === undefined);
  const there = [...PLACE_WORDS.keys()].filter((state) => rows.some((row) => row["state"] === state));
  return there.sort((one, other) => Number(held(other)) - Number(held(one)));
}

/**
 * Check what was typed and bring it into form.
 * @param {EngineDetails} typed
 * @param {Document} page
 * @returns {EngineDetails}
 * @throws {QuantityError | SerialFitsNone} with what to type instead
 */
function readEngine(typed, page) {
  const [serial, year, by] = [typed.serial, typed.year, typed.by].map((text) => text.trim().replace(/\s+/g, " "));
  if (serial && !/^[A-Za-z0-9][A-Za-z0-9 ./-]{0,30}$/.test(serial))
    throw new QuantityError(
      `'${serial.slice(0, 40)}' is not a serial number: type letters and digits as on the plate, such as 300100`,
    );
  const hasTwins = twinsOf(page).length > 0; // a plate that does not fit makes the job ask which engine it is
  if (serial && !hasTwins) requireFit(page["id"], page["fits"].map(readFit), serial);
  if (year && !/^(18|19|20)[0-9]{2}$/.test(year))
    throw new QuantityError(`'${year.slice(0, 20)}' is not a year: type four digits, such as 1979, or leave it empty`);
  if (by && by.length > 40) throw new QuantityError("initials are short: at most 40 letters");
  return { serial: serial ?? "", year: year ?? "", by: by ?? "", margin: typed.margin, state: typed.state };
}

/**
 * The form of an engine.
 * @param {EngineDetails} typed changed in place
 * @param {Document} page
 * @param {Document} shared
 * @param {string} words of the key
 * @param {(engine: EngineDetails) => unknown} take
 */
export function engineForm(typed, page, shared, words, take) {
  const states = settableStates(page);
  const kept = marginQuestion(typed, page, shared, states);
  const refused = refusal("");
  const form = element(
    "form",
    { class: "take engine", novalidate: true },
    field(
      "serial",
      "Serial number, as on the plate",
      typed.serial,
      (text) => {
        typed.serial = text;
        kept.draw();
      },
      { maxlength: "31", autocapitalize: "characters", spellcheck: "false" },
    ),
    field(
      "year",
      "Year, if you know it",
      typed.year,
      (text) => {
        typed.year = text;
      },
      { maxlength: "4", inputmode: "numeric" },
    ),
    field(
      "by",
      "Your initials, for the report",
      typed.by,
      (text) => {
        typed.by = text;
      },
      { maxlength: "40", spellcheck: "false" },
    ),
    kept.place,
    refused,
    element("button", { type: "submit", class: "main-key", id: "take-engine" }, words),
  );
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    refused.textContent = "";
    try {
      const engine = readEngine({ ...typed, margin: kept.chosen() }, page);
      if (engine.by) remember(BY, engine.by);
      await take(engine);
    } catch (error) {
      if (!(error instanceof StopscrewError)) throw error;
      const more = error.candidates.length
        ? `; it has ${error.candidates.join("; ")}. Look at the plate again: is it another family? ` +
          "If there is no serial number, leave it empty"
        : "";
      refused.textContent = error.message + more;
    }
  });
  return form;
}
