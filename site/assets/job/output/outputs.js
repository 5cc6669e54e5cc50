/**
 * What goes out of a job: the report for the book, the tag for the cowl, the sheet, and the job itself for another
 * phone.
 */

import { element } from "../../dom.js";
import { key, lines, refusal } from "../controls.js";
import { exportText } from "../log/job-file.js";
import { dayOf, fileOf } from "../screens/job-list.js";
import { lacksOf, reportOf, reportPath, reportYaml } from "./report.js";

/** @typedef {import("../workspace.js").Desk} Desk */

/** Where what was done with a key is told, beside it. @param {string} id */
const toldAt = (id) => element("p", { class: "went", role: "status", id });

/** @param {Desk} desk */
export function goingOut(desk) {
  return element("div", {}, report(desk), tag(desk), sheet(desk), exported(desk));
}

/**
 * Do something with a module that may not have come, and say so if it did not.
 * @param {HTMLElement} told
 * @param {() => Promise<string | void>} act
 */
async function trying(told, act) {
  try {
    told.textContent = (await act()) ?? "";
  } catch (error) {
    const why = error instanceof Error ? error.message : error;
    told.textContent =
      `That did not work here: ${why}. Load the page again with a signal, and try once more; ` +
      "nothing noted is lost.";
  }
}

const sharing = () => import("./share.js");

/** @param {Desk} desk */
function report(desk) {
  const { record, shared, page } = desk;
  const asked = { by: record.by, on: dayOf(record.closed || new Date().toISOString()), shared, page };
  const lacks = lacksOf(record, asked);
  const needed = lacks.filter((one) => one.needed).map((one) => one.text);
  const told = toldAt("report-told");
  if (needed.length) {
    return element(
      "section",
      { "aria-label": "The report" },
      element("h2", {}, "The report"),
      refusal("It is no report yet:"),
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
    lacks.length ? element("p", {}, "Good as it is; still missing, if you know it:") : null,
    lines(lacks.map((one) => one.text)),
    element(
      "p",
      {},
      "It belongs in the book's folder at ",
      element("code", {}, path),
      ". Send it to whoever keeps the book, or put it there yourself.",
    ),
    element("details", {}, element("summary", {}, "Read it"), element("pre", { tabindex: "0" }, text)),
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

/** @param {Desk} desk */
function tag(desk) {
  const { record, page, shared } = desk;
  const told = toldAt("tag-told");
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
    element("p", {}, "How it was left, to cut out and keep under the cowl; its code holds the same words."),
    element(
      "div",
      { class: "keys" },
      key("Show the tag", () => trying(told, async () => place.replaceChildren((await drawn()).drawing)), {
        id: "tag-show",
      }),
      key(
        "Print the tag",
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

/** @param {Desk} desk */
function sheet(desk) {
  const { record, job, page, shared } = desk;
  const told = toldAt("sheet-told");
  const place = element("div", {});
  const drawn = async () => {
    const { drawSheet } = await import("./sheet-view.js");
    const drawing = drawSheet(record, job, page, shared);
    place.replaceChildren(drawing);
    return drawing;
  };
  return element(
    "section",
    { "aria-label": "The sheet" },
    element("h2", {}, "The sheet of the whole job"),
    element(
      "div",
      { class: "keys" },
      key("Show the sheet", () => trying(told, async () => void (await drawn())), { id: "sheet-show" }),
      key(
        "Print the sheet",
        () =>
          trying(told, async () => {
            await (await import("./print.js")).printAlone(await drawn());
          }),
        { id: "sheet-print" },
      ),
    ),
    told,
    place,
  );
}

/** @param {Desk} desk */
function exported(desk) {
  const { record, entries } = desk;
  const told = toldAt("export-told");
  const name = fileOf(record);
  return element(
    "section",
    { "aria-label": "Another phone" },
    element("h2", {}, "To another phone"),
    element("p", {}, "The job with every entry, to be taken in on the page of jobs there."),
    element(
      "div",
      { class: "keys" },
      key(
        "Export: share it",
        () =>
          trying(
            told,
            async () => (await (await sharing()).shareFile(name, exportText(entries), "application/json")).words,
          ),
        { id: "export-share" },
      ),
      key(
        "Export: download it",
        () => trying(told, async () => (await sharing()).download(name, exportText(entries), "application/json").words),
        { id: "export-download" },
      ),
    ),
    told,
  );
}
