/** What keeps a gate shut: the figures not in order, each with its step, and the override that lets them pass. */

import { element } from "../../dom.js";
import { acted, field, key } from "../controls.js";
import { stepName } from "../gates.js";
import { LONGEST_REASON } from "../log/entries.js";
import { overrideWords, standingOverrides } from "../log/record.js";

/** @typedef {import("../workspace.js").Workspace} Workspace */

/** @param {Workspace} workspace @param {readonly import("../dangers.js").Hold[]} held */
export function heldView(workspace, held) {
  const { record } = workspace;
  const overrides = standingOverrides(record);
  if (!held.length && !overrides.length) return null;
  return element(
    "section",
    { class: "held", "aria-label": "Figures that keep this gate shut" },
    ...overrides.map((one) =>
      element(
        "p",
        { class: "override" },
        element("strong", {}, "Override: "),
        `${overrideWords(one)}. `,
        key("Take it back", () => workspace.append("take-back", { entry: one.entry }), { id: `back-${one.entry}` }),
      ),
    ),
    held.length ? element("p", { class: "refused", role: "alert" }, "This gate stays shut:") : null,
    held.length
      ? element(
          "ul",
          { class: "plain" },
          ...held.map(({ step, words }) =>
            element(
              "li",
              {},
              `${words} `,
              element("a", { class: "as-key", href: `#${record.id}/${step}` }, `To “${stepName(step)}”`),
            ),
          ),
        )
      : null,
    held.length ? overrideForm(workspace, held) : null,
  );
}

/** @param {Workspace} workspace @param {readonly import("../dangers.js").Hold[]} held */
function overrideForm(workspace, held) {
  const draft = workspace.draft(
    "override",
    () => ({ text: "" }),
    ({ text }) => text !== "",
  );
  const form = element(
    "form",
    { class: "take", novalidate: true },
    element("p", {}, "Your words stand first on the tag, the sheet and the report, and in the list of jobs."),
    field(
      "override",
      "Why it is left so",
      draft.text,
      (text) => {
        draft.text = text;
      },
      { maxlength: String(LONGEST_REASON) },
    ),
    element("button", { type: "submit", id: "keep-override" }, "Leave it so and open the gate"),
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const text = draft.text.trim().replace(/\s+/g, " ");
    if (!text) return workspace.say("Say in words why it is left so");
    return void acted(async () => {
      for (const { figure, words } of held) await workspace.append("override", { figure, danger: words, text });
      draft.text = "";
      workspace.say("Noted as an override");
    });
  });
  return element("details", {}, element("summary", {}, "Go on all the same"), form);
}
