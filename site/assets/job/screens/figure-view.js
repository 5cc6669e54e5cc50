/**
 * The figure of a step on the screen: the target in big digits, and always beside it the printed figure and its source.
 */

import { MAXIMUM } from "../../book/catalogue.js";
import { runsAt } from "../../book/when-running.js";
import { element } from "../../dom.js";
import { Fraction } from "../../quantity/fraction.js";
import { angleInWords } from "../../quantity/spoken.js";
import { State } from "../../vocabulary.js";
import { lines } from "../controls.js";
import { eachWords } from "../reading/each-cylinder.js";
import { targetWords } from "../step-figure.js";
import { BROAD, figureCard, split } from "./figure-card.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../step-figure.js").StepFigure} StepFigure */
/** @typedef {import("../step-figure.js").StatedFigure} StatedFigure */
/** @typedef {import("../workspace.js").Workspace} Workspace */

const LONG = 18; // longer texts are not shown in big digits
const NOT_STATED = "FigureNotStated"; // said in the big words already
const UNGUESSED = "Note what you find; set nothing by guesswork.";

/**
 * A working, step by step, each with its inputs.
 * @param {readonly Document[]} steps
 * @returns {HTMLElement[]}
 */
export function workingView(steps) {
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

/** What is done where the book has a figure, and none in the state of a step. @type {ReadonlyMap<string, string>} */
const UNSET = new Map([
  [State.CRANKING, "No source says what it reads while cranking. Set nothing here: it is set running, in the water"],
  [State.STATIC, "No source says where it is standing still. Set nothing here: it is set running, in the water"],
  [State.RUNNING, "No source says what it reads when running. Note what you find; set nothing by it"],
]);

/**
 * The book's figure in the state of a step: what to set on a card, or why there is nothing to set by.
 * @param {Workspace} workspace
 * @param {import("../../book/job.js").FigureStep} step
 * @param {readonly StepFigure[]} shown
 */
export function figureView(workspace, { figure, figures, state }, shown) {
  const isChosen = figures.length > 1; // its name stands on the key above
  const label = workspace.shared["figures"][figure]?.label ?? figure;
  const [first] = shown;
  if (!first) {
    return element(
      "section",
      { class: "figure" },
      element("h2", isChosen ? { class: "heard" } : {}, label),
      element("p", { class: "said" }, element("strong", {}, "unknown")),
      element("p", {}, UNGUESSED),
    );
  }
  const { now, unset } = stateOf(state, first, shown);
  return element(
    "section",
    { class: "figure", "aria-label": label },
    unset ? element("p", { class: "refused" }, `${unset}. Until then its stop stays well to the late side.`) : null,
    ...shown.filter((one) => one.state === now).map((one) => (one.target ? figureCard(one) : without(one, isChosen))),
  );
}

/**
 * The state in which a figure is shown at a step, and what is said where the book has none in that.
 * @param {string} state of the step
 * @param {StepFigure} first
 * @param {readonly StepFigure[]} shown
 */
function stateOf(state, first, shown) {
  const isKnown = shown.some((one) => one.state === state || !one.state);
  const now = isKnown || !UNSET.has(state) ? first.state : state;
  return { now, unset: now === first.state ? "" : UNSET.get(state) };
}

/**
 * What stands behind the figure of a step: how the target follows from the page, the sources, and the figure in other states.
 * @param {Workspace} workspace
 * @param {import("../../book/job.js").JobStep} step
 * @param {readonly StepFigure[]} shown
 */
export function behindFigure(workspace, { state }, shown) {
  const [first] = shown;
  if (!first) return null;
  const { now } = stateOf(state, first, shown);
  const others = shown.filter((one) => one.state !== now);
  const here = shown.filter((one) => one.state === now);
  return element(
    "section",
    { class: "behind", "aria-label": "Where it comes from" },
    ...here.map((one) =>
      one.target ? aboutTarget(workspace, one) : evidence(one, [], ...sources(one.stated, one.stated.working)),
    ),
    others.length
      ? element(
          "details",
          { id: "other-states", "data-fold": "other-states" },
          element("summary", {}, `In other states (${others.length})`),
          ...others.map((other) =>
            state || !other.target
              ? element("div", {}, without({ ...other, target: null }), ...sources(other.stated, other.stated.working))
              : element("div", { class: "row" }, figureCard(other), aboutTarget(workspace, other)),
          ),
        )
      : null,
  );
}

/** A figure that gives no target, and why. @param {StepFigure} shown @param {boolean} [isChosen] its name is in sight already */
function without(shown, isChosen = false) {
  const { stated } = shown;
  return element(
    "div",
    { class: "row" },
    element(
      "h2",
      {},
      isChosen ? element("span", { class: "heard" }, `${stated.label} `) : `${stated.label} `,
      element("span", {}, stated.when),
    ),
    shown.waits ? null : asPrinted(shown), // in big digits it would be set
    printedLine(shown),
    refusedLine(shown),
    problem(stated),
  );
}

/**
 * Where a target comes from in one line; behind it how it follows from the printed figure, and what it is dangerous for.
 * @param {Workspace} workspace
 * @param {StepFigure} shown
 */
function aboutTarget(workspace, shown) {
  const { stated, target } = shown;
  return element(
    "div",
    { class: "row" },
    shown.figure === MAXIMUM && eachWords(workspace.page) ? element("p", {}, eachWords(workspace.page)) : null,
    evidence(
      shown,
      printedWords(shown),
      lines(howOf(workspace, shown), "how-list"),
      stated.hazard ? element("p", { class: "hazard" }, `Danger: ${stated.hazard}`) : null,
      ...sources(stated, target?.steps ?? [], target?.remarks),
    ),
  );
}

/**
 * How the target follows from the printed figure, and where it lies on the rim.
 * @param {Workspace} workspace
 * @param {StepFigure} shown
 */
function howOf(workspace, shown) {
  const { target } = shown;
  if (!target) return [];
  const { deadCentre, margin, rim, piston, running, window } = target;
  const pointer =
    deadCentre === null
      ? "the pointer is taken to be right: no dead-centre reading yet"
      : deadCentre.sign()
        ? `corrected for the pointer, which shows ${angleInWords(deadCentre)} at true top dead centre`
        : "the pointer is right";
  return [
    pointer,
    margin.sign() ? `${angleInWords(margin).split(" ")[0]}° kept to the late side, by your choice` : "",
    window ? `OK from ${window}` : "",
    rim ? `on the rim: ${rim.words}` : "",
    piston
      ? targetWords(shown) === String(piston)
        ? `by the pointer: ${target.show}`
        : `by depth gauge: ${piston}`
      : "",
    running ? runsAt(running) : "",
    ownCorrection(workspace, running),
  ].filter(Boolean);
}

/** @param {Workspace} workspace @param {string} running */
function ownCorrection({ record: { correction } }, running) {
  if (!running || !correction) return "";
  const off = Fraction.of(correction.cranking).minus(Fraction.of(correction.running));
  const words = off.sign()
    ? `${angleInWords(off.size()).split(" ")[0]}° ${off.sign() > 0 ? "earlier" : "later"} cranking`
    : "the same cranking and running";
  return `measured on this engine: ${words}${correction.rpm ? `, against ${correction.rpm} rpm` : ""}`;
}

/** The printed figure in big digits, or as words. @param {StepFigure} shown */
function asPrinted({ stated, value }) {
  const words = stated.problem || stated.depends.length || stated.printed.length > LONG;
  const [number, side] = words || !value ? [stated.printed, ""] : split(stated.printed);
  const size = words ? "said" : number.length > BROAD ? "target broad" : "target";
  return element(
    "p",
    { class: size },
    element("strong", {}, number),
    side ? ` ${side}` : "",
    stated.other ? element("small", {}, stated.other) : null,
  );
}

/** What is folded behind one line. @param {StepFigure} shown @param {readonly (Node | string)[]} words @param {...(Node | null)} more */
const evidence = ({ state }, words, ...more) =>
  more.some((one) => one?.textContent)
    ? element(
        "details",
        { class: "evidence", "data-fold": `evidence ${state}` },
        element("summary", {}, element("span", {}, ...(words.length ? words : ["Sources"]))),
        ...more,
      )
    : null;

/** Where a figure is printed, in short: kinds of sources and pages; nothing if it is settled nowhere. @param {StepFigure} shown */
function printedWords({ stated, settable }) {
  if (stated.problem || stated.depends.length) return [];
  const counting = stated.statements.filter(({ role }) => !role);
  const where = shortly(counting.length ? counting : stated.statements.slice(0, 1));
  const said = settable ? [element("strong", {}, settable.printed), stated.from ? ", " : ": "] : [];
  return [
    ...(said.length ? [stated.from ? "Worked out " : "Printed ", ...said] : []),
    stated.from ? `from ${stated.from}: ` : "",
    where,
    stated.sure ? element("em", {}, ` (${stated.sure})`) : "",
  ];
}

/** Kinds of sources with their pages, each kind once. @param {readonly import("../../family/statements.js").Statement[]} cited */
function shortly(cited) {
  /** @type {Map<string, Set<string>>} */
  const pages = new Map();
  for (const { kind, title, page } of cited)
    pages.set(kind || title, (pages.get(kind || title) ?? new Set()).add(page && `p. ${page}`));
  return [...pages].map(([kind, places]) => [kind, [...places].filter(Boolean).join(", ")].join(" ").trim()).join("; ");
}

/** The same as a line. @param {StepFigure} shown */
function printedLine(shown) {
  const words = printedWords(shown);
  return words.length ? element("p", { class: "printed" }, ...words) : null;
}

/** @param {StepFigure} shown */
const refusedLine = ({ refused }) => (refused ? element("p", { class: "refused" }, refused) : null);

/** Why there is no single number, and all statements, as on the family's page. @param {StatedFigure} stated */
function problem(stated) {
  const statements = stated.disputed ? stated.statements : [];
  return element(
    "div",
    {},
    stated.words ? element("p", {}, stated.problem === NOT_STATED ? UNGUESSED : stated.words) : null,
    stated.depends.length
      ? element("p", {}, "It depends on the engine: give its serial number under “Steps”, “Change the engine”.")
      : null,
    lines(stated.depends),
    lines(statements.map((one) => `${one.printed}: ${one.where}${one.role ? ` (${one.role})` : ""}`)),
    lines(stated.candidates),
  );
}

/**
 * The working, what is to be said of it, and every statement with its title and page.
 * @param {StatedFigure} stated
 * @param {readonly Document[]} steps
 * @param {readonly string[]} [remarks]
 */
function sources(stated, steps, remarks = stated.remarks) {
  const cited = stated.statements.map((one) =>
    [
      `${one.printed}${one.also ? ` (${one.also})` : ""} ${one.when}: ${one.title}${one.kind ? ` (${one.kind})` : ""}`,
      one.page ? `, page ${one.page}` : "",
      one.role ? `; ${one.role}` : "",
      one.note ? `. ${one.note}` : "",
    ].join(""),
  );
  return [...workingView(steps), lines(remarks), lines(cited)];
}
