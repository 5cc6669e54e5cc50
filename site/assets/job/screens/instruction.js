/** What to do at a step, short; how and why unfold at a tap. */

import { element } from "../../dom.js";

/** @param {import("../../book/job.js").JobStep} step */
export function instructionView(step) {
  const { do: words, more, why } = step;
  if (!more && !why) return element("p", { class: "do" }, words);
  return element(
    "details",
    { class: "instruction", id: "instruction" },
    element("summary", { class: "do" }, element("span", {}, words)),
    more ? element("p", {}, more) : null,
    why ? element("p", { class: "why" }, why) : null,
  );
}
