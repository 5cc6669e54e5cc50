/**
 * From a page document and what the mechanic chose to what the template shows: texts and lists, nothing worked out
 * further. The same as `kb.publish.site.view`; a test draws every family both ways.
 */

import { dotsOf, quantityOf } from "./book/dots.js";
import { toldFigures } from "./book/rows.js";
import { setLine } from "./book/set-line.js";
import { NOUGHT } from "./quantity/fraction.js";
import { converted } from "./quantity/quantity.js";
import { unitOf } from "./quantity/unit.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("./book/rows.js").Told} Told */

/**
 * The state in which the maximum is set (empty: as the book has it, cranking first), degrees of margin to the late side,
 * and the serial number.
 * @typedef {{state?: string, margin?: import("./quantity/fraction.js").Fraction, serial?: string}} Choices
 */

const MAXIMUM = "max-advance";
const PICKUP = "throttle-pickup";
const STATES = ["cranking", "static", "running", "at-rest"];
const SET_WORDS = new Map([["cranking", "set while cranking"], ["running", "set running"], ["static", "set standing still"]]);
const SHORT = new Map([
  ["FigureNotStated", "not stated"], ["FigureDoesNotApply", "does not apply"], ["FigureDisputed", "sources differ"],
  ["FigureWithdrawn", "withdrawn"], ["NoCorrectionKnown", "not known"],
]);
const OTHER = new Map([
  ["mm", "in"], ["in", "mm"], ["lbf_ft", "Nm"], ["lbf_in", "Nm"], ["kgf_m", "Nm"], ["Nm", "lbf_ft"], ["psi", "kPa"],
  ["kPa", "psi"], ["bar", "psi"], ["kgf_cm2", "kPa"],
]);
const ROLES = new Map([
  ["counts", ""], ["reprint", "a reprint, counted once with its original"], ["hearsay", "no original, shown beside one"],
  ["superseded", "superseded"], ["withdrawn", "WITHDRAWN, do not use"],
]);

/** @param {...(string | undefined)} words */
const joined = (...words) => words.filter(Boolean).join(", ");

/** @param {string | undefined} words */
const spaced = (words) => (words ?? "").replaceAll("-", " ");

/**
 * What the template shows of a family.
 * @param {Document} page
 * @param {Document} shared
 * @param {Choices} [choices]
 * @param {string} [root] leads from the page to the site's root
 * @returns {Record<string, any>}
 * @throws {SerialFitsNone} no range of the family holds the serial number
 * @throws {MarginTooWide} the margin is more than the maximum allows
 */
export function view(page, shared, { state: chosen = "", margin = NOUGHT, serial = "" } = {}, root = "../../../") {
  /** @type {Told[]} */
  const told = page["figures"].flatMap((/** @type {Document} */ figure) => toldFigures(page, figure, serial));
  const state = chosen || stateOf(told);
  const used = new Set();
  const rows = told.map((one) => {
    const name = nameOf(one, used);
    return rowOf(page, shared, one, name, one.figure === MAXIMUM ? margin : NOUGHT, serial);
  });
  const first = rows.find((row, place) => told[place]?.figure === MAXIMUM && row.state === state);
  const pickups = rows.filter((_, place) => told[place]?.figure === PICKUP);
  const pickup = pickups.find((row) => row.state === state) ?? pickups[0];
  if (first) first.is_maximum = true;
  const top = [first, pickup].filter((row) => row !== undefined);
  return {
    id: page["id"], name: page["name"], maker: shared["makers"][page["maker"]] ?? page["maker"], root,
    invented: page["invented"], date: shared["date"], first: shared["first"],
    serial: serial ? `serial ${serial}` : "serial not given",
    state: SET_WORDS.get(state) ?? "", no_maximum: !first, top, rest: rows.filter((row) => !top.includes(row)),
    fits: page["fits"].map((/** @type {Document} */ fit) => ({ words: fit["words"], note: fit["note"] ?? "" })),
    look_for: page["look_for"], also_called: page["also_called"].join(", "),
    cautions: page["cautions"].map((/** @type {string} */ key) => cautionOf(shared["cautions"][key])),
    unknown: page["never_said"].map((/** @type {string} */ key) => shared["figures"][key].label.toLowerCase()).join(", "),
    reports: page["reports"].map((/** @type {Document} */ report) => reportOf(shared, report)),
    file: `families/${page["id"]}.yaml`,
  };
}

/** The state in which the maximum is set: cranking where anything is known of that. @param {Told[]} told */
function stateOf(told) {
  const maxima = told.filter((one) => one.figure === MAXIMUM);
  const answered = maxima.filter((one) => one.row["problem"] === undefined);
  const states = (answered.length ? answered : maxima).map((one) => one.row["state"]);
  return STATES.find((state) => states.includes(state)) ?? "";
}

/** @param {Told} told @param {Set<unknown>} used */
function nameOf({ figure, row }, used) {
  let name = used.has(figure) ? `${figure}-${row["state"] || "more"}` : figure;
  while (used.has(name)) name += "-more";
  used.add(name);
  return name;
}

/**
 * @param {Document} page
 * @param {Document} shared
 * @param {Told} told
 * @param {string} id
 * @param {import("./quantity/fraction.js").Fraction} margin
 * @param {string} serial
 */
function rowOf(page, shared, told, id, margin, serial) {
  const { figure, row, depends } = told;
  const kind = shared["figures"][figure];
  const dependent = depends.length > 0;
  const target = dependent || row["problem"] !== undefined ? null : setLine(page, shared["figures"], figure, row, margin, serial);
  const problem = dependent ? "" : row["problem"] ?? "";
  const cited = page["figures"].find((/** @type {Document} */ one) => one["id"] === figure).cited;
  const statements = told.statements.map((one) => statementOf(page, shared, cited, one));
  const printed = row["printed"] ?? "";
  const isLimit = target !== null && kind.safest_end === "later" && !printed.includes("piston travel");
  let big = isLimit ? target.show : printed;
  if (dependent) big = "depends on the engine";
  else if (problem) big = SHORT.get(problem) ?? "no single number";
  const [number, side] = split(big);
  return {
    id, label: kind.label, state: row["state"], is_maximum: false, sets: isLimit,
    when: joined(spaced(row["state"]), row["conditions"]),
    number, side, words: Boolean(problem || dependent || !row["value"] || [...number].length > 14),
    problem, problem_words: problem ? row["words"] ?? "" : "",
    disputed: problem === "FigureDisputed" || row["standing"] === "disputed",
    candidates: problem && !statements.length ? row["candidates"] ?? [] : [],
    depends: depends.map(([engines, one]) => ({ engines, printed: one["printed"] ?? "no single number", sure: sureOf(one) })),
    sure: problem || dependent ? "" : sureOf(row), other: otherOf(row, cited),
    how: isLimit ? target.how : aimed(target, row),
    remarks: [...(row["remarks"] ?? []), ...(target ? target.remarks : [])],
    source: sourceOf(statements), statements,
    working: (row["working"] ?? []).map(stepOf),
    hazard: kind.hazard === "A" ? kind.hazard_because ?? "" : "",
    dots: dotsOf(page, figure, row),
  };
}

/** @param {Document} row */
function sureOf(row) {
  if (row["standing"] === undefined) return "";
  return row["rests_on"] ? `worked out, from figures that are ${row["rests_on"]}` : String(row["standing"]);
}

/** @param {import("./book/set-line.js").SetLine | null} target @param {Document} row @returns {string[]} */
function aimed(target, row) {
  if (!target) return [];
  const rest = target.how.slice(1);
  if (row["printed"].includes("piston travel")) return [`through stroke and rod ${target.show}`, ...rest];
  return target.show === row["printed"] ? rest : [`aim at ${target.show}, the middle`, ...rest];
}

/** A value in big digits, and its side, or where it is measured, beside it. @param {string} big @returns {[string, string]} */
function split(big) {
  for (const mark of [" of piston travel ", " "]) {
    const place = big.lastIndexOf(mark);
    const side = big.slice(place + mark.length);
    if (place >= 0 && ["BTDC", "ATDC", "TDC"].includes(side)) return [big.slice(0, place), (mark + side).trim()];
  }
  return [big, ""];
}

/** The same in another unit: as a source prints it, else converted. @param {Document} row @param {any[][]} cited */
function otherOf(row, cited) {
  if (!row["value"]) return "";
  for (const one of row["statements"]) {
    const [printed, also] = cited[one[0]] ?? [];
    if (also?.length && printed === row["printed"] && one.length === 1) return also.join(" · ");
  }
  const other = OTHER.get(Object.keys(row["value"])[0] ?? "");
  const value = other ? quantityOf(row["value"]) : null;
  return other && value ? String(converted(value, unitOf(other))) : "";
}

/** @param {Document} page @param {Document} shared @param {any[][]} cited @param {any[]} one */
function statementOf(page, shared, cited, [number, role = "counts", reason = ""]) {
  const [printed, also, state = "", conditions = "", only = "", source, paper = "", note = ""] = cited[number] ?? [];
  const about = shared["sources"][page["sources"][source]] ?? { title: page["sources"][source] };
  const said = ROLES.get(role) ?? role;
  return {
    printed, also: also.join(", "), when: joined(spaced(state), conditions, only), title: about.title,
    kind: spaced(about.kind), page: paper, role: said && reason && role !== "reprint" ? `${said}: ${reason}` : said, note,
  };
}

/**
 * The first source that counts, with its page, and how many there are besides; for the line under a value.
 * @param {ReturnType<typeof statementOf>[]} statements
 */
function sourceOf(statements) {
  const counts = statements.filter((one) => !one.role);
  const counting = counts.length ? counts : statements;
  const [first] = counting;
  if (!first) return "";
  const more = counting.length > 1 ? ` and ${counting.length - 1} more` : "";
  return `${first.title}${first.page ? `, page ${first.page}` : ""}${more}`;
}

/** @param {Document} step */
function stepOf(step) {
  const inputs = step["inputs"].map(
    (/** @type {Document} */ one) => `${one["name"]}: ${one["value"]}${one["source"] ? ` (${one["source"]})` : ""}`,
  );
  const rounding = step["rounding"] ? ` (${step["rounding"]})` : "";
  return { name: step["name"], formula: step["formula"], inputs, result: step["result"] + rounding };
}

/** @param {Document} caution */
function cautionOf({ severity = "", title = "", text = "", behind = "" }) {
  return { severity, title, text, behind };
}

/** @param {Document} shared @param {Document} report */
function reportOf(shared, report) {
  const engine = ["serial", "year"].flatMap((key) => (key in report ? [`${key} ${report[key]}`] : []));
  const readings = [["found", "as found"], ["left", "as left"]].flatMap(([when = "", words = ""]) =>
    Object.entries(report[when]).flatMap(([figure, found]) =>
      found.map((/** @type {Document} */ one) => ({
        label: shared["figures"][figure]?.label ?? figure, when: words, printed: one["printed"],
        state: joined(spaced(one["state"]), one["conditions"]),
      })),
    ),
  );
  return { on: report["on"], engine: engine.join(", "), ran: report["ran"] ?? "", note: report["note"] ?? "", readings };
}
