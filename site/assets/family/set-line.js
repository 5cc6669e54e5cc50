/** Maximum, pickup and idle as a line on what to set: what the pointer should show, and how that follows. */

import { CORRECTION, MAXIMUM } from "../book/catalogue.js";
import { onTheRim } from "../book/rim-position.js";
import { runningOf } from "../book/when-running.js";
import { setting, shownTarget } from "../book/window.js";
import { GeometryImpossible, LookUpError, NotAnAngle, Refusal } from "../errors.js";
import { Fraction, ONE, ZERO } from "../quantity/fraction.js";
import { plainAngle } from "../quantity/quantity.js";
import { plain } from "../quantity/spoken.js";
import { HowSure, State } from "../vocabulary.js";
import { figureRows } from "./engine-rows.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/**
 * `show` is what the pointer should show, in words with its side; `how` a few words each: the first `reached` are the
 * printed figures and the margin, then the place on the rim and the running figure; `remarks` must be shown with it;
 * `rim` is the place on the rim in full.
 * @typedef {{show: string, how: string[], reached: number, remarks: readonly string[], rim: string}} SetLine
 */

const NOT_KNOWN = "running figure unknown";

/**
 * The target of a row of a page document; null if it is not set by the timing light.
 * @param {Document} page
 * @param {Document} kinds
 * @param {string} figure
 * @param {Document} row
 * @param {Fraction} margin
 * @param {string} serial
 * @returns {SetLine | null}
 * @throws {MarginTooWide} the margin is more than the figure allows
 */
export function setLine(page, kinds, figure, row, margin, serial) {
  if (!row["value"] || "rpm" in row["value"]) return null;
  /** @type {import("../book/window.js").Figure} */
  const asked = {
    figure,
    label: kinds[figure].label,
    family: page["id"],
    state: row["state"],
    printed: row["printed"],
    value: row["value"],
    kind: kinds[figure],
    engine: page["engine"],
    flywheel: page["flywheel"],
  };
  let found;
  try {
    found = setting(asked, margin);
  } catch (error) {
    if (error instanceof NotAnAngle || error instanceof GeometryImpossible) return null;
    throw error;
  }
  const show = shownTarget(found, ZERO);
  if (!show) return null;
  const how = [printedOf(row)];
  if (found.margin.sign()) how.push(`${plain(found.margin)}° kept to the late side`);
  const reached = how.length;
  const rim = onTheRim(page["flywheel"] ?? {}, show, show);
  if (rim) how.push(briefly(rim));
  if (figure === MAXIMUM && row["state"] === State.CRANKING) how.push(runsAt(page, asked, show, serial));
  return { show: String(plainAngle(show)), how, reached, remarks: found.remarks, rim: rim?.words ?? "" };
}

/**
 * The printed figure, or the printed figures from which it is worked out.
 * @param {Document} row
 */
export function printedOf(row) {
  if (row["standing"] !== HowSure.DERIVED) return `printed ${row["printed"]}`;
  const inputs = (row["working"] ?? []).flatMap((/** @type {Document} */ step) => step["inputs"]);
  const said = inputs.map((/** @type {{name: string, value: string}} */ { name, value }) =>
    name.endsWith(" reading") ? `printed ${value} ${name.slice(0, -" reading".length)}` : `${name} ${shortly(value)}`,
  );
  return said.join(row["state"] === State.CRANKING ? " + " : ", "); // the correction is added only for cranking
}

/** @param {string} correction */
const shortly = (correction) =>
  correction.replace(/^reads /, "").replaceAll(" while cranking than when running", " cranking");

/**
 * The place on the rim in short: divisions or degrees from a mark, or by tape from one's own mark.
 * @param {import("../book/rim-position.js").OnTheRim} rim
 */
function briefly(rim) {
  const mark = rim.mark ? `${rim.mark}` : "your TDC mark";
  if (!rim.degrees.sign()) return rim.mark ? `at mark ${mark}` : `at ${mark}`;
  let far = `${plain(rim.degrees)}°`;
  if (rim.divisions) far = `${plain(rim.divisions)} division${rim.divisions.equals(ONE) ? "" : "s"}`;
  else if (rim.tape && !rim.mark) far = `by tape ${rim.tape}`;
  if (rim.toward) return `${far} from ${numbers(mark, `${rim.toward}`)}`;
  const away = rim.awayFrom ? `, away from ${rim.awayFrom}` : "";
  const turning = rim.turning && !rim.mark ? `, ${rim.turning}` : ""; // seen from above, as the rim in full says
  return `${far} ${rim.side} of ${mark}${away}${turning}`;
}

/**
 * Two marks as the rim has them, "27 toward 18"; with their sides only where these differ.
 * @param {string} mark
 * @param {string} toward
 */
function numbers(mark, toward) {
  const side = ` ${toward.slice(toward.lastIndexOf(" ") + 1)}`;
  const alike = mark.endsWith(side) && toward.endsWith(side);
  const bare = (/** @type {string} */ one) => (alike ? one.slice(0, -side.length) : one);
  return `${bare(mark)} toward ${bare(toward)}`.replaceAll("°", "");
}

/**
 * The running figure, through the correction that holds for every engine this may be.
 * @param {Document} page
 * @param {import("../book/window.js").Figure} asked
 * @param {Fraction} show
 * @param {string} serial
 */
function runsAt(page, asked, show, serial) {
  const correction = page["figures"].find((/** @type {Document} */ figure) => figure["id"] === CORRECTION);
  const told = correction ? figureRows(page, correction, serial) : [];
  const [only] = told;
  const value = only?.row["value"];
  const known = value && ("by_rpm" in value || "cranking_earlier" in value || "cranking_later" in value);
  if (!only || told.length !== 1 || only.depends.length || !known) return NOT_KNOWN;
  try {
    return `runs at ${runningOf(asked, show, { value, conditions: only.row["conditions"] ?? "" }).words}`;
  } catch (error) {
    if (error instanceof LookUpError || error instanceof Refusal) return NOT_KNOWN;
    throw error;
  }
}
