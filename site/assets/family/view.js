/**
 * What the template shows of a page document and the mechanic's choices: texts and lists. The same as
 * `kb.publish.site.family.view`; a test draws every family both ways.
 */

import { MAXIMUM } from "../book/catalogue.js";
import { ZERO } from "../quantity/fraction.js";
import { CautionSeverity, HazardTier, HowSure, SafestEnd, SCREEN_STATES, SET_WORDS, State } from "../vocabulary.js";
import { figureRows } from "./engine-rows.js";
import { BEFORE, cautionsByFigure, markWarnings } from "./figure-cautions.js";
import { dotsOf } from "./ran-at-dots.js";
import { setLine } from "./set-line.js";
import { reportOf, SHORT, spaced, statementOf, stepOf } from "./statements.js";
import { inUnits, pieces, wholeOf } from "./value-parts.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./engine-rows.js").FigureRows} FigureRows */
/** @typedef {import("./set-line.js").SetLine} SetLine */
/** @typedef {import("../quantity/fraction.js").Fraction} Fraction */

/**
 * The state in which the maximum is set (empty: as in the book, cranking first), degrees of margin to the late side,
 * the serial number, and units (empty: as printed; metric, or inch for inch-pound).
 * @typedef {{state?: string, margin?: Fraction, serial?: string, units?: string}} Choices
 */

const PICKUP = "throttle-pickup";
const ANGLE_AIDS = [
  ["target", "Target for the light"],
  ["judge", "Judge a reading"],
];
const SCREW_AID = [["turn", "Next turn of the screw"]];
const AIDS = new Map([
  ["compression", [["compression", "Compare the cylinders"]]],
  ["premix", [["premix", "How much oil"]]],
]);
const LONG = 14; // longer codes are shown as words, not in big digits

/**
 * What the template shows of a family.
 * @param {Document} page
 * @param {Document} shared
 * @param {Choices} [choices]
 * @param {string} [root] the path from the page to the site's root
 * @returns {Record<string, any>}
 * @throws {SerialFitsNone} the serial number is in no range of the family
 * @throws {MarginTooWide} the margin is more than the maximum allows
 */
export function view(page, shared, choices = {}, root = "../../../") {
  const { state: chosen = "", serial = "" } = choices;
  const drawn = new PageRows(page, shared, choices);
  /** @type {FigureRows[]} */
  const told = page["figures"].flatMap((/** @type {Document} */ figure) => figureRows(page, figure, serial));
  const state = chosen || stateOf(told);
  const first = told.find((one) => one.figure === MAXIMUM && one.row["state"] === state);
  const pickups = told.filter((one) => one.figure === PICKUP);
  const leads = [first, pickups.find((one) => one.row["state"] === state) ?? pickups[0]].filter(
    (one) => one !== undefined,
  );
  const leading = new Map(leads.map((one) => [one.figure, one])); // a figure's cautions are shown with one of its rows
  const rows = new Map(
    told.map((one) => {
      if (!leading.has(one.figure)) leading.set(one.figure, one);
      return [one, drawn.row(one, leading.get(one.figure) === one)];
    }),
  );
  const top = leads.flatMap((one) => rows.get(one) ?? []);
  const rest = told.flatMap((one) => (leads.includes(one) ? [] : (rows.get(one) ?? [])));
  if (first && top[0]) top[0].is_maximum = true;
  markWarnings([...top, ...rest]);
  const before = drawn.cautions(BEFORE);
  const grave = before.filter((one) => one.severity !== CautionSeverity.CARE);
  return {
    id: page["id"],
    name: page["name"],
    maker: shared["makers"][page["maker"]] ?? page["maker"],
    root,
    twins: twinsOf(page),
    invented: page["invented"],
    date: shared["date"],
    first: shared["first"],
    serial: serial ? `serial ${serial}` : "serial not given",
    state: SET_WORDS.get(state) ?? "",
    no_maximum: first ? "" : noMaximum(told, state),
    top,
    rest,
    parts: [
      { name: "top", rows: top, job: true },
      { name: "rest", rows: rest, job: false },
    ],
    fits: page["fits"].map((/** @type {Document} */ fit) => ({ words: fit["words"], note: fit["note"] ?? "" })),
    before,
    grave: grave.length ? grave : before.slice(0, 1),
    page, // what the template shows as it stands
    also_called: page["also_called"].join(", "),
    unknown: page["never_said"]
      .map((/** @type {string} */ key) => shared["figures"][key].label.toLowerCase())
      .join(", "),
    reports: page["reports"].map((/** @type {Document} */ report) => reportOf(shared, report)),
    file: `families/${page["id"]}.yaml`,
  };
}

/**
 * The title of a family's page: maker and name, and where it has twins what tells it apart.
 * @param {Document} page
 * @param {Document} shared
 */
export function pageTitle(page, shared) {
  const lookFor = page["look_for"];
  const told = page["twins"] ? [page["twins"].made, lookFor && `look for ${lookFor}`] : [];
  return [`${shared["makers"][page["maker"]] ?? page["maker"]} ${page["name"]}`, ...told].filter(Boolean).join(", ");
}

/** What tells the family from its twins, at its head; empty without any. @param {Document} page */
function twinsOf({ twins, look_for }) {
  if (!twins) return [];
  const others = twins.others.map((/** @type {Document} */ { id, made }) => ({
    href: `families/${id}/`,
    words: made || id,
  }));
  return [{ made: twins.made, look_for, others }];
}

/** @param {FigureRows[]} told @param {string} state */
function noMaximum(told, state) {
  const unsaid = "No maximum advance is published";
  return told.some((one) => one.figure === MAXIMUM)
    ? `${unsaid} for an engine ${SET_WORDS.get(state) ?? state}`
    : unsaid;
}

/** The state in which the maximum is set: cranking, if there is such a figure. @param {FigureRows[]} told */
function stateOf(told) {
  const maxima = told.filter((one) => one.figure === MAXIMUM);
  const answered = maxima.filter((one) => one.row["problem"] === undefined);
  const states = (answered.length ? answered : maxima).map((one) => one.row["state"]);
  return SCREEN_STATES.find((state) => states.includes(state)) ?? "";
}

/** The rows of a page, each with an id of its own. */
class PageRows {
  /** @param {Document} page @param {Document} shared @param {Choices} choices */
  constructor(page, shared, { margin = ZERO, serial = "", units = "" }) {
    this.page = page;
    this.shared = shared;
    this.margin = margin;
    this.serial = serial;
    this.units = units;
    /** @type {Map<string, any[][]>} */
    this.cited = new Map(page["figures"].map((/** @type {Document} */ figure) => [figure["id"], figure["cited"]]));
    this.figureCautions = cautionsByFigure(page, shared, [...this.cited.keys()]);
    this.used = new Set();
  }

  /**
   * The row of a figure in one state; the leading row has the figure's cautions.
   * @param {FigureRows} told
   * @param {boolean} leads
   */
  row(told, leads) {
    const { figure, row, depends } = told;
    const kind = this.shared["figures"][figure];
    const cited = this.cited.get(figure) ?? [];
    const dependent = depends.length > 0;
    const problem = dependent ? "" : (row["problem"] ?? "");
    const when = spaced(row["state"], row["conditions"]);
    const statements = told.statements.map((one) => statementOf(this.page, this.shared, cited, one, when));
    const target = dependent || problem ? null : this.#target(figure, row);
    const isLimit = target !== null && this.#isLimit(figure, row);
    let [big, other] = ["depends on the engine", ""];
    if (problem) big = SHORT.get(problem) ?? "no single number";
    else if (!dependent) [big, other] = inUnits(row, cited, this.units);
    // The other unit is that of the printed value, not of a target.
    if (isLimit) [big, other] = [target.show, target.show === row["printed"] ? other : ""];
    const plain = Boolean(problem) || dependent || row["value"] === undefined;
    const owned = depends.map((own) => this.#own(figure, own));
    const [label, isAngle] = [kind.label, kind.dimension === "crank-angle"];
    /** @type {import("./figure-cautions.js").Caution[]} */
    const none = [];
    return {
      id: this.#name(figure, row["state"]),
      label,
      state: row["state"],
      is_maximum: false,
      sets: isLimit,
      heading: isLimit ? `Set ${label.slice(0, 1).toLowerCase()}${label.slice(1)}` : label,
      when,
      words: plain && ([...big].length > LONG || big !== row["printed"]),
      digits: plain ? [wholeOf(big)] : pieces(big),
      problem_words: problem ? (row["words"] ?? "") : "",
      candidates: problem && !statements.length ? (row["candidates"] ?? []) : [],
      sides: owned.length ? owned.map(([one]) => one) : sidesOf(problem, row, statements),
      sure: problem || dependent ? "" : sureOf(row),
      other,
      how: isLimit ? target.how : aimed(target, row),
      remarks: [
        ...(row["remarks"] ?? []),
        ...through(target, row),
        ...(target ? target.remarks : []),
        ...(target?.rim ? [`On the rim: ${target.rim}`] : []),
        ...owned.flatMap(([, where]) => where || []),
      ],
      statements,
      withdrawn: statements.filter((one) => one.withdrawn).map((one) => `${one.printed}, ${one.where}`),
      working: (row["working"] ?? []).map(stepOf),
      hazard: kind.hazard === HazardTier.A ? (kind.hazard_because ?? "") : "",
      cautions: leads ? this.cautions(figure) : none,
      warned: none,
      again: none,
      links: this.#links(figure, row, isAngle && !problem),
      dots: dotsOf(this.page, told),
      look_first: isAngle || row["state"] === State.RUNNING,
    };
  }

  /** The cautions of a figure, or those before the work. @param {string} figure */
  cautions(figure) {
    return this.figureCautions.get(figure) ?? [];
  }

  /** @param {string} figure @param {Document} row */
  #target(figure, row) {
    return setLine(
      this.page,
      this.shared["figures"],
      figure,
      row,
      figure === MAXIMUM ? this.margin : ZERO,
      this.serial,
    );
  }

  /**
   * Whether the target is shown in big digits; what is set by the depth gauge is shown as printed.
   * @param {string} figure
   * @param {Document} row
   */
  #isLimit(figure, row) {
    return this.shared["figures"][figure].safest_end === SafestEnd.LATER && !row["printed"].includes("piston travel");
  }

  /**
   * The figure of some engines alone, as a target if it is a maximum; and where that lies, in words.
   * @param {string} figure
   * @param {import("./engine-rows.js").EngineRow} own
   * @returns {[{digits: import("./value-parts.js").Piece[], who: string, sure: string}, string]}
   */
  #own(figure, [engines, row]) {
    const sure = sureOf(row);
    const target = row["value"] && this.#isLimit(figure, row) ? this.#target(figure, row) : null;
    if (!target) return [{ digits: pieces(row["printed"] ?? "no single number"), who: engines, sure }, ""];
    const who = [engines, ...target.how.slice(0, target.reached)].join(" · ");
    return [{ digits: pieces(target.show), who, sure }, `${engines}: ${target.how.slice(target.reached).join(", ")}`];
  }

  /** @param {string} figure @param {string} state */
  #name(figure, state) {
    let name = this.used.has(figure) ? `${figure}-${state || "more"}` : figure;
    while (this.used.has(name)) name += "-more";
    this.used.add(name);
    return name;
  }

  /**
   * The aids of the bench that take this figure's numbers.
   * @param {string} figure
   * @param {Document} row
   * @param {boolean} isAngle
   */
  #links(figure, row, isAngle) {
    const screw = isAngle && Object.hasOwn(this.page["adjusters"] ?? {}, figure) ? SCREW_AID : [];
    const aids = [...(isAngle ? ANGLE_AIDS : (AIDS.get(figure) ?? [])), ...screw];
    const asked = `family=${this.page["id"]}&figure=${figure}&state=${row["state"]}`;
    const more = this.serial ? `&serial=${encodeURIComponent(this.serial)}` : "";
    return aids.map(([aid, words]) => ({ href: `bench/${aid}/?${asked}${more}`, words }));
  }
}

/**
 * What each source says, if they disagree.
 * @param {string} problem
 * @param {Document} row
 * @param {import("./statements.js").Statement[]} statements
 */
function sidesOf(problem, row, statements) {
  if (problem !== "FigureDisputed" && row["standing"] !== HowSure.DISPUTED) return [];
  return statements.map((one) => ({ digits: pieces(one.printed), who: one.where, sure: one.role }));
}

/** @param {Document} row */
function sureOf(row) {
  return row["rests_on"] ? `worked out (${row["rests_on"]})` : String(row["standing"] ?? "");
}

/** @param {SetLine | null} target @param {Document} row @returns {string[]} */
function aimed(target, row) {
  if (!target) return [];
  const rest = target.how.slice(1);
  if (row["printed"].includes("piston travel")) return [`is ${target.show}`, ...rest];
  const printed = row["standing"] === HowSure.DERIVED ? target.how.slice(0, 1) : [];
  return [...printed, ...(target.show === row["printed"] ? [] : [`aim at ${target.show}`]), ...rest];
}

/** @param {SetLine | null} target @param {Document} row */
const through = (target, row) =>
  target && row["printed"].includes("piston travel") ? [`${target.show} through stroke and rod`] : [];
