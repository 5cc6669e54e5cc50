/** The screen of a step that is barred: why, the way to what comes first, and the key that opens it once more. */

import { element } from "../../dom.js";
import { key } from "../controls.js";
import { stepName } from "../gates.js";
import { isReopened } from "../log/undone.js";
import { heldView } from "./held.js";

/** @typedef {import("../workspace.js").Workspace} Workspace */

/**
 * @param {Workspace} workspace
 * @param {import("../../book/job.js").JobStep} step
 * @param {import("../way.js").Bar} bar
 */
export function barredScreen(workspace, step, { why, at, held, opens }) {
  const { record } = workspace;
  if (held.length) return [heldView(workspace, held)];
  const steps = element("a", { class: "as-key", href: `#${record.id}/steps` }, "Steps");
  if (opens) {
    return [
      element("p", { class: "refused", role: "alert" }, `${why}.`),
      element(
        "div",
        { class: "keys" },
        key("Open it once more", () => workspace.append("opened", { step: step.id }), {
          class: "main-key",
          id: "open",
        }),
        steps,
      ),
    ];
  }
  const opened = isReopened(record, step.id) ? record.opened.get(step.id)?.entry : "";
  return [
    element("p", { class: "refused", role: "alert" }, `Not yet: ${why}.`),
    element(
      "div",
      { class: "keys" },
      element("a", { class: "as-key", href: `#${record.id}/${at}` }, `To “${stepName(at)}”`),
      opened ? key("Leave it closed", () => workspace.append("take-back", { entry: opened }), { id: "leave" }) : null,
    ),
  ];
}
