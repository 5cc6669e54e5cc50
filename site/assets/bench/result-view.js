/**
 * Shows the result of an aid: the answer in big letters, its cautions, the working; or an error beside its field.
 */

import { element } from "../dom.js";
import { Refusal, StopscrewError } from "../errors.js";
import { fieldOfError } from "./aids/field-error.js";
import { allOf } from "./choice-keys.js";

/** @typedef {import("./aids/wording.js").Worked} Worked */

/** The fields that an error is about if it names none, by the error's name: the first one that the aid has. */
const BY_NAME = new Map(
  Object.entries({
    DeadCentreTooFar: ["dead_centre", "second"],
    MarginTooWide: ["margin"],
    NotAnAngle: ["printed"],
    OddFire: ["even"],
    Extrapolation: ["rpm"],
    NoCorrectionKnown: ["corrections"],
    ReadingsContradict: ["readings", "more", "corrections", "second"],
  }),
);
const BY_AID = new Map(
  Object.entries({
    compression: "readings",
    "dead-centre": "second",
    target: "printed",
    judge: "printed",
    turn: "readings",
    piston: "crank",
    rim: "degrees",
    cylinders: "order",
    premix: "parts",
    rpm: "way",
    plates: "first_plate",
  }),
);

/** @param {HTMLElement} home @param {Worked} worked */
export function show(home, { big, answer, steps, remarks, cautions }) {
  const [first = "", ...more] = answer;
  const working = element("details", { class: "working" }, element("summary", {}, "How it was worked out"));
  for (const { name, formula, inputs, result, rounding } of steps) {
    const given = inputs.map((one) =>
      element("li", {}, `${one.name}: ${one.value}${one.source ? `, ${one.source}` : ""}`),
    );
    const came = element(
      "p",
      {},
      element("strong", {}, name),
      `: ${formula} = `,
      element("strong", {}, result),
      rounding ? ` (${rounding})` : "",
    );
    working.append(came, element("ul", {}, ...given));
  }
  const rest = more.map((line) => element("p", {}, line));
  const careful = cautions.length
    ? [element("ul", { class: "careful" }, ...cautions.map((one) => element("li", {}, one)))]
    : [];
  const notes = remarks.length
    ? [element("ul", { class: "remarks" }, ...remarks.map((one) => element("li", {}, one)))]
    : [];
  const head = big
    ? [element("p", { class: "big" }, element("strong", {}, big)), element("p", { class: "first" }, first)]
    : [element("p", { class: "answer" }, first)];
  home.replaceChildren(...head, ...rest, ...careful, ...notes, working);
}

/** Remove the messages of earlier errors. @param {HTMLFormElement} form */
export function clear(form) {
  for (const fault of allOf(form, ".fault")) fault.textContent = "";
  for (const box of allOf(form, "[aria-invalid]")) box.removeAttribute("aria-invalid");
}

/**
 * Show an error beside its field, and go there.
 * @param {HTMLFormElement} form
 * @param {HTMLElement} home where the answer goes
 * @param {unknown} error
 * @param {boolean} goThere
 */
export function refuse(form, home, error, goThere) {
  if (!(error instanceof StopscrewError)) throw error;
  const named = [fieldOfError(error), ...(BY_NAME.get(error.name) ?? []), BY_AID.get(form.dataset["aid"] ?? "") ?? ""];
  const field = named
    .map((name) => (name ? form.querySelector(`[data-name="${name}"], [data-list="${name}"]`) : null))
    .find(Boolean);
  const label = field instanceof HTMLElement ? (field.dataset["label"] ?? "") : "";
  // A refusal is shown in full in both places, a typing error only beside its field.
  const words = label && !(error instanceof Refusal) ? `Not worked out yet: see “${label}”.` : error.message;
  home.replaceChildren(element("p", { class: "refused" }, words));
  if (!(field instanceof HTMLElement)) return;
  const fault = field.querySelector(":scope > .fault");
  if (fault) fault.textContent = error.message;
  const box =
    field.querySelector("input:not([type=radio])") ??
    field.querySelector("input:checked") ??
    field.querySelector("input");
  box?.setAttribute("aria-invalid", "true");
  const described = box?.getAttribute("aria-describedby") ?? "";
  if (fault && !described.split(" ").includes(fault.id))
    box?.setAttribute("aria-describedby", `${described} ${fault.id}`.trim());
  if (!goThere || !(box instanceof HTMLElement)) return;
  const folded = field.closest("details");
  if (folded) folded.open = true;
  box.focus();
}
