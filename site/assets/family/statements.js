/** Statements of sources and reports of jobs, as a family's page shows them. */

/** @typedef {Readonly<Record<string, any>>} Document */

/** Why there is no single number, in short, by the name of the problem. @type {ReadonlyMap<string, string>} */
export const SHORT = new Map([
  ["FigureNotStated", "not stated"],
  ["FigureDoesNotApply", "does not apply"],
  ["FigureDisputed", "sources differ"],
  ["FigureWithdrawn", "withdrawn"],
  ["NoCorrectionKnown", "not known"],
]);

const ROLES = new Map([
  ["counts", ""],
  ["reprint", "a reprint, counted once with its original"],
  ["hearsay", "not an original, shown beside one"],
  ["superseded", "superseded"],
  ["withdrawn", "WITHDRAWN, do not use"],
]);

/** A state and its conditions in words. @param {string | undefined} state @param {...(string | undefined)} more */
export const spaced = (state, ...more) => [(state ?? "").replaceAll("-", " "), ...more].filter(Boolean).join(", ");

/** @typedef {ReturnType<typeof statementOf>} Statement */

/**
 * A statement from its list in a row of a page document; the state and conditions of the row are not repeated.
 * @param {Document} page
 * @param {Document} shared
 * @param {any[][]} cited
 * @param {any[]} one
 * @param {string} row
 */
export function statementOf(page, shared, cited, [number, role = "counts", reason = ""], row = "") {
  const [printed, also, state = "", conditions = "", only = "", source, paper = "", note = ""] = cited[number] ?? [];
  const about = shared["sources"][page["sources"][source]] ?? { title: page["sources"][source] };
  const said = ROLES.get(role) ?? role;
  const when = spaced(state, conditions, only);
  return {
    printed,
    also: also.join(", "),
    when: when === row ? "" : when,
    title: about.title,
    kind: spaced(about.kind),
    page: paper,
    role: said && reason && role !== "reprint" ? `${said}: ${reason}` : said,
    note,
    where: paper ? `${about.title}, page ${paper}` : about.title,
    withdrawn: role === "withdrawn",
  };
}

/** One step of a working. @param {Document} step */
export function stepOf(step) {
  const inputs = step["inputs"].map(
    (/** @type {Document} */ one) => `${one["name"]}: ${one["value"]}${one["source"] ? ` (${one["source"]})` : ""}`,
  );
  const rounding = step["rounding"] ? ` (${step["rounding"]})` : "";
  return { name: step["name"], formula: step["formula"], inputs, result: step["result"] + rounding };
}

/**
 * A reported job: when, on which engine, as found, as left, how it ran.
 * @param {Document} shared
 * @param {Document} report
 */
export function reportOf(shared, report) {
  const engine = ["serial", "year"].flatMap((key) => (key in report ? [`${key} ${report[key]}`] : []));
  const readings = [
    ["found", "as found"],
    ["left", "as left"],
  ].flatMap(([when = "", words = ""]) =>
    Object.entries(report[when]).flatMap(([figure, found]) =>
      found.map((/** @type {Document} */ one) => ({
        label: shared["figures"][figure]?.label ?? figure,
        when: words,
        printed: one["printed"],
        state: spaced(one["state"], one["conditions"]),
        how: one["how"] ?? "",
      })),
    ),
  );
  return {
    on: report["on"],
    engine: engine.join(", "),
    override: report["override"] ?? "",
    ran: report["ran"] ?? "",
    note: report["note"] ?? "",
    readings,
  };
}
