/** The screen that asks which of the twins an engine is, before the first figure is shown. */

import { element } from "../../dom.js";
import { choice, key } from "../controls.js";
import { asksWhich, plateMisfit, strangePlate, ToldBy, twinsOf } from "../twins.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../workspace.js").Workspace} Workspace */

const THIS = "this";

/** @param {Workspace} workspace @param {() => unknown} answered */
export function whichEngineScreen(workspace, answered) {
  const { book, record } = workspace;
  const twins = twinsOf(book);
  const misfit = plateMisfit(book, record);
  const draft = workspace.draft("which", () => ({ chosen: "", again: record.which !== null }));
  const options = /** @type {[string, string][]} */ ([
    [THIS, seen(book["look_for"], book["twins"].made)],
    ...twins.map((twin) => [twin["id"], seen(twin["look_for"], twin["made"])]),
    [ToldBy.NOTHING, "No stamp can be read, and nothing else tells"],
  ]);
  return [
    element(
      "p",
      {},
      `${twins.length + 1} engines have this name, and are not set alike. Look at the stamp on the powerhead first: ` +
        "plate, cowl and year may come from another.",
    ),
    draft.again && misfit
      ? element("p", { class: "refused", role: "alert" }, `${misfit} Look at the stamp on the powerhead again.`)
      : null,
    choice("which", "What does the engine show?", options, draft.chosen, (value) => {
      draft.chosen = value;
      workspace.redraw();
    }),
    ...answerTo(workspace, draft, misfit, answered),
  ];
}

/** @param {string} lookFor @param {string} made */
const seen = (lookFor, made) => [lookFor || "nothing known to look for", made && `(${made})`].filter(Boolean).join(" ");

/**
 * What may be done with what is chosen.
 * @param {Workspace} workspace
 * @param {{chosen: string, again: boolean}} draft
 * @param {string} misfit
 * @param {() => unknown} answered
 */
function answerTo(workspace, draft, misfit, answered) {
  const { book } = workspace;
  if (!draft.chosen) return [];
  if (draft.chosen === ToldBy.NOTHING) {
    if (twinsOf(book).some((twin) => twin["linkage"] !== book["linkage"]))
      return [
        element("p", { class: "refused" }, "They are not worked in the same order: there is no job before it is told."),
      ];
    return [
      element(
        "p",
        {},
        "The later maximum is then taken, and there is no target for pickup, idle or anything else that differs.",
      ),
      key("Go on without knowing", () => answer(workspace, ToldBy.NOTHING, answered), {
        class: "main-key",
        id: "take-which",
      }),
    ];
  }
  if (draft.chosen !== THIS) {
    const link = element("a", { class: "as-key", href: `#new=${draft.chosen}` }, "Begin a job for that engine");
    return [
      element("p", {}, "This job is for the other one; its figures are not this engine's."),
      element("p", {}, link),
    ];
  }
  if (misfit && !draft.again) {
    const ask = () => {
      Object.assign(draft, { chosen: "", again: true });
      workspace.redraw();
    };
    return [key("It is this engine", ask, { class: "main-key", id: "take-which" })];
  }
  const words = misfit ? "The stamp says so: the plate is another engine's" : "It is this engine";
  return [key(words, () => answer(workspace, ToldBy.STAMP, answered), { class: "main-key", id: "take-which" })];
}

/**
 * Note the answer; what a plate says that is not to be trusted is no longer this engine's.
 * @param {Workspace} workspace
 * @param {string} told
 * @param {() => unknown} answered
 */
async function answer(workspace, told, answered) {
  const plate = strangePlate(workspace.book, workspace.record, told);
  const cleared = Object.fromEntries(Object.keys(plate).map((name) => [name, ""]));
  if (Object.keys(plate).length) await workspace.append("engine", cleared);
  await workspace.append("which", { answer: told, ...plate });
  for (const draft of ["which", "engine"]) workspace.forget(draft);
  await answered();
}

/** How the engine was told from its twins, with a key to ask again; null without an answer. @param {Workspace} workspace */
export function askAgain(workspace) {
  const { which } = workspace.record;
  if (!which || asksWhich(workspace.book, workspace.record)) return null;
  return key("Ask again which engine it is", () => workspace.append("take-back", { entry: which.entry }), {
    id: "ask-which",
  });
}
