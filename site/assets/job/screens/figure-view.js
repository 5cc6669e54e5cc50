/**
 * The figure of a step on the screen: the target in big digits, and beside it always what is printed, where, by whom.
 */

import { element } from "../../dom.js";
import { Fraction } from "../../quantity/fraction.js";
import { angleInWords } from "../../quantity/spoken.js";
import { lines } from "../controls.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../step-figure.js").Shown} Shown */
/** @typedef {import("../step-figure.js").Told} Told */
/** @typedef {import("../workspace.js").Desk} Desk */

const LONG = 18; // what has more letters is read as words, not from arm's length
const BROAD = 6; // what has more does not fit a phone's line in the largest digits

/**
 * How something was worked out, step by step, each with what went in.
 * @param {readonly Document[]} steps
 * @returns {HTMLElement[]}
 */
export function workingShown(steps) {
  return steps.map(({ name, formula, inputs = [], result, rounding = "" }) =>
    element(
      "div",
      { class: "working" },
      element("h4", {}, `Working: ${name}`),
      element("p", {}, formula),
      lines(
        inputs.map(
          (/** @type {Document} */ one) =>
            `${one["name"]}: ${one["value"]}${one["source"] ? ` (${one["source"]})` : ""}`,
        ),
      ),
      element("p", {}, element("strong", {}, result), rounding ? ` (${rounding})` : ""),
    ),
  );
}

/**
 * What the book holds for the step, the state that is set first large, the others below it.
 * @param {Desk} desk
 * @param {string} figure
 * @param {readonly Shown[]} shown
 */
export function figureShown(desk, figure, shown) {
  const label = desk.shared["figures"][figure]?.label ?? figure;
  const [first] = shown;
  if (!first) {
    return element(
      "section",
      { class: "figure" },
      element("h2", {}, label),
      element("p", { class: "said" }, element("strong", {}, "unknown")),
      element(
        "p",
        {},
        `Nobody has said anything of it for the ${desk.page["name"]}. Note what you find; set nothing by guess.`,
      ),
    );
  }
  const others = shown.filter(({ state }) => state !== first.state);
  return element(
    "section",
    { class: "figure", "aria-label": label },
    ...shown.filter(({ state }) => state === first.state).map((alike) => one(desk, alike)),
    others.length
      ? element(
          "details",
          {},
          element("summary", {}, `In other states (${others.length})`),
          ...others.map((other) => one(desk, other)),
        )
      : null,
  );
}

/** @param {Desk} desk @param {Shown} shown */
function one(desk, shown) {
  const { told, aimed } = shown;
  const label = aimed ? `Set ${told.label.slice(0, 1).toLowerCase()}${told.label.slice(1)}` : told.label;
  const head = element("h2", {}, `${label} `, element("span", {}, told.when));
  if (!aimed)
    return element(
      "div",
      { class: "row" },
      head,
      asPrinted(shown),
      printedLine(shown),
      refusedLine(shown),
      problem(told),
      sources(told, told.working),
    );
  const [number, side] = split(String(aimed.show));
  return element(
    "div",
    { class: "row" },
    head,
    element(
      "p",
      { class: number.length > BROAD ? "target broad" : "target" },
      element("strong", {}, number),
      ` ${side}`,
    ),
    printedLine(shown),
    lines(howOf(desk, shown), "how-list"),
    told.hazard ? element("p", { class: "hazard" }, `Danger: ${told.hazard}`) : null,
    sources(told, aimed.steps, aimed.remarks),
  );
}

/** @param {string} words @returns {[string, string]} */
function split(words) {
  const place = words.lastIndexOf(" ");
  return place < 0 ? [words, ""] : [words.slice(0, place), words.slice(place + 1)];
}

/**
 * What leads from the printed figure to what the light should show, and where that is.
 * @param {Desk} desk
 * @param {Shown} shown
 */
function howOf(desk, { aimed }) {
  if (!aimed) return [];
  const { deadCentre, margin, rim, piston, running, window } = aimed;
  const pointer =
    deadCentre === null
      ? "the pointer is taken to be right: no dead-centre reading yet"
      : deadCentre.sign()
        ? `reckoned with the pointer, which shows ${angleInWords(deadCentre)} at true top dead centre`
        : "the pointer stands right";
  return [
    pointer,
    margin.sign() ? `${angleInWords(margin).split(" ")[0]}° kept to the late side, by your choice` : "",
    window ? `right between ${window}` : "",
    rim ? `on the rim: ${rim.words}` : "",
    piston ? `by depth gauge: ${piston}` : "",
    running ? `runs at ${running}` : "",
    ownCorrection(desk, running),
  ].filter(Boolean);
}

/** @param {Desk} desk @param {string} running */
function ownCorrection({ record: { correction } }, running) {
  if (!running || !correction) return "";
  const off = Fraction.of(correction.cranking).minus(Fraction.of(correction.running));
  const words = off.sign()
    ? `${angleInWords(off.size()).split(" ")[0]}° ${off.sign() > 0 ? "earlier" : "later"} cranking`
    : "the same cranking and running";
  return `measured on this engine: ${words}${correction.rpm ? `, against ${correction.rpm} rpm` : ""}`;
}

/** A number with its unit, a code whole, or words. @param {Shown} shown */
function asPrinted({ told, value }) {
  const words = told.problem || told.depends.length || told.printed.length > LONG;
  const [number, side] = words || !value ? [told.printed, ""] : split(told.printed);
  const size = words ? "said" : number.length > BROAD ? "target broad" : "target";
  return element(
    "p",
    { class: size },
    element("strong", {}, number),
    side ? ` ${side}` : "",
    told.other ? element("small", {}, told.other) : null,
  );
}

/** The printed figure with its source and page; no target stands without it. @param {Shown} shown */
function printedLine({ told, asked }) {
  if (told.problem || told.depends.length) return null;
  const said = asked ? element("strong", {}, asked.printed) : null;
  const where = told.from ? ["Worked out ", said, " from ", told.from, ", in "] : ["Printed ", said, " in "];
  return element(
    "p",
    { class: "printed" },
    ...where,
    told.source,
    told.sure ? element("em", {}, ` (${told.sure})`) : null,
  );
}

/** @param {Shown} shown */
const refusedLine = ({ refused }) => (refused ? element("p", { class: "refused" }, refused) : null);

/** Why there is no one number, and all that was said: as on the family's page. @param {Told} told */
function problem(told) {
  const statements = told.disputed ? told.statements : [];
  return element(
    "div",
    {},
    told.words ? element("p", {}, told.words) : null,
    told.depends.length
      ? element("p", {}, "It depends on the engine: give its serial number under “All steps”, “Change the engine”.")
      : null,
    lines(told.depends),
    lines(statements.map((one) => `${one.printed}: ${one.where}${one.role ? ` (${one.role})` : ""}`)),
    lines(told.candidates),
  );
}

/** @param {Told} told @param {readonly Document[]} steps @param {readonly string[]} [remarks] */
function sources(told, steps, remarks = told.remarks) {
  const cited = told.statements.map((one) =>
    [
      `${one.printed}${one.also ? ` (${one.also})` : ""} ${one.when}: ${one.title}${one.kind ? ` (${one.kind})` : ""}`,
      one.page ? `, page ${one.page}` : "",
      one.role ? `; ${one.role}` : "",
      one.note ? `. ${one.note}` : "",
    ].join(""),
  );
  return element(
    "details",
    {},
    element("summary", {}, "Working and sources"),
    ...workingShown(steps),
    lines(remarks),
    lines(cited),
  );
}
