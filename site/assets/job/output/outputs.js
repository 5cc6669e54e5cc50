/**
 * The outputs of a job: the report for the book, the tag for the cowl, the sheet, and the job as a file for another
 * phone.
 */

import { element } from "../../dom.js";
import { key, lines, refusal } from "../controls.js";
import { localDate } from "../local-date.js";
import { exportFileName, exportText } from "../log/job-file.js";
import { missingFrom, reportOf, reportPath, reportYaml } from "./report.js";

/** @typedef {import("../workspace.js").Workspace} Workspace */

/** The line below a key that says what it did. @param {string} id */
const statusLine = (id) => element("p", { class: "went", role: "status", id });

/** @param {Workspace} workspace */
export function outputs(workspace) {
  return element("div", {}, report(workspace), tag(workspace), sheet(workspace), exported(workspace));
}

/**
 * Run what needs a module that may fail to load, and say so if it does.
 * @param {HTMLElement} told
 * @param {() => Promise<string | void>} act
 */
async function trying(told, act) {
  try {
    told.textContent = (await act()) ?? "";
  } catch (error) {
    const why = error instanceof Error ? error.message : error;
    told.textContent = `That did not work here: ${why}. Reload the page with a signal and try again; nothing noted is lost.`;
  }
}

const sharing = () => import("./share.js");

/** @param {Workspace} workspace */
function report(workspace) {
  const { record, shared, page } = workspace;
  const asked = { by: record.by, on: localDate(record.closed || new Date().toISOString()), shared, page };
  const lacks = missingFrom(record, asked);
  const needed = lacks.filter((one) => one.needed).map((one) => one.text);
  const told = statusLine("report-told");
  if (needed.length) {
    return element(
      "section",
      { "aria-label": "The report" },
      element("h2", {}, "The report"),
      refusal("This is not a report yet:"),
      lines(needed),
    );
  }
  const document = reportOf(record, asked);
  const [path, text] = [reportPath(record, document), reportYaml(document)];
  const name = path.split("/").at(-1) ?? "report.yaml";
  return element(
    "section",
    { "aria-label": "The report" },
    element("h2", {}, "The report"),
    lacks.length ? element("p", {}, "Ready to send; still missing, if you know it:") : null,
    lines(lacks.map((one) => one.text)),
    element(
      "details",
      {},
      element("summary", {}, "Read it, and where it goes"),
      element(
        "p",
        {},
        "It belongs in the book's folder at ",
        element("code", {}, path),
        ". Send it to whoever keeps the book, or put it there yourself.",
      ),
      element("pre", { tabindex: "0" }, text),
    ),
    element(
      "div",
      { class: "keys" },
      key("Copy", () => trying(told, async () => (await (await sharing()).copyText(text)).words), {
        id: "report-copy",
      }),
      key("Download", () => trying(told, async () => (await sharing()).download(name, text, "text/yaml").words), {
        id: "report-download",
      }),
      key("Share", () => trying(told, async () => (await (await sharing()).shareFile(name, text, "text/yaml")).words), {
        id: "report-share",
      }),
    ),
    told,
  );
}

/** @param {Workspace} workspace */
function tag(workspace) {
  const { record, page, shared } = workspace;
  const told = statusLine("tag-told");
  const place = element("div", {});
  const drawn = async () => {
    const { drawTag, tagOf } = await import("./cowl-tag.js");
    const made = tagOf(record, page, shared);
    return { made, drawing: drawTag(made) };
  };
  return element(
    "section",
    { "aria-label": "The tag" },
    element("h2", {}, "The tag for the cowl"),
    element(
      "div",
      { class: "keys" },
      key("Show it", () => trying(told, async () => place.replaceChildren((await drawn()).drawing)), {
        id: "tag-show",
      }),
      key(
        "Print it",
        () =>
          trying(told, async () => {
            const { drawing } = await drawn();
            place.replaceChildren(drawing);
            await (await import("./print.js")).printAlone(drawing);
          }),
        { id: "tag-print" },
      ),
      key(
        "Share its words",
        () =>
          trying(told, async () => {
            const { made } = await drawn();
            return (await (await sharing()).shareText(`${record.maker} ${record.name}`, made.text)).words;
          }),
        { id: "tag-share" },
      ),
    ),
    told,
    place,
  );
}

/** @param {Workspace} workspace */
function sheet(workspace) {
  const { record, job, page, shared } = workspace;
  const told = statusLine("sheet-told");
  const place = element("div", {});
  const leaf = async () => (await import("./leaf-view.js")).drawLeaf(record, job, page, shared);
  const long = async () => (await import("./sheet-view.js")).drawSheet(record, job, page, shared);
  /** @param {() => Promise<HTMLElement>} draw */
  const shown = async (draw) => {
    const drawing = await draw();
    place.replaceChildren(drawing);
    return drawing;
  };
  /** @param {string} words @param {string} id @param {() => Promise<HTMLElement>} draw */
  const show = (words, id, draw) => key(words, () => trying(told, async () => void (await shown(draw))), { id });
  /** @param {string} words @param {string} id @param {() => Promise<HTMLElement>} draw */
  const print = (words, id, draw) =>
    key(words, () => trying(told, async () => (await import("./print.js")).printAlone(await shown(draw))), { id });
  return element(
    "section",
    { "aria-label": "The sheet" },
    element("h2", {}, "The sheet of the whole job"),
    element(
      "div",
      { class: "keys" },
      show("Show one leaf", "sheet-show", leaf),
      print("Print one leaf", "sheet-print", leaf),
      show("Show it whole", "long-sheet-show", long),
      print("Print it whole", "long-sheet-print", long),
    ),
    told,
    place,
  );
}

/** @param {Workspace} workspace */
function exported(workspace) {
  const { record, entries } = workspace;
  const told = statusLine("export-told");
  const name = exportFileName(record);
  return element(
    "section",
    { "aria-label": "Another phone" },
    element("h2", {}, "To another phone"),
    element("p", {}, "To be imported on its Jobs page."),
    element(
      "div",
      { class: "keys" },
      key(
        "Share the job",
        () =>
          trying(
            told,
            async () => (await (await sharing()).shareFile(name, exportText(entries), "application/json")).words,
          ),
        { id: "export-share" },
      ),
      key(
        "Download the job",
        () => trying(told, async () => (await sharing()).download(name, exportText(entries), "application/json").words),
        { id: "export-download" },
      ),
    ),
    told,
  );
}
