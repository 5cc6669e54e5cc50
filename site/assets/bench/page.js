/** The one script of every bench page: finds which aid it is and makes its form work. */

import { work as compression } from "./compression.js";
import { work as cylinders } from "./cylinders.js";
import { work as deadCentre } from "./dead-centre.js";
import { begin } from "./form.js";
import { work as judge } from "./judge.js";
import { work as piston } from "./piston.js";
import { work as premix } from "./premix.js";
import { work as rim } from "./rim.js";
import { work as target } from "./target.js";
import { work as turn } from "./turn.js";

/** @type {[string, (given: any) => import("./said.js").Worked][]} */
const AIDS = [
  ["compression", compression], ["cylinders", cylinders], ["dead-centre", deadCentre], ["judge", judge],
  ["piston", piston], ["premix", premix], ["rim", rim], ["target", target], ["turn", turn],
];

const form = document.querySelector("form");
const aid = form?.dataset["aid"] ?? "";
const [, work] = AIDS.find(([name]) => name === aid) ?? [];
if (work) begin(work);

if (form && aid === "turn") {
  /** @param {string} name @param {string} value */
  const choose = (name, value) => {
    const box = form.querySelector(`input[name=${name}][value="${value}"]`);
    if (box instanceof HTMLInputElement) box.checked = true;
  };
  const figure = new URLSearchParams(location.search).get("figure") || "max-advance";
  if (figure !== "max-advance") choose("maximum", "no");
  // Another figure has another screw: which way that one works must not be taken over.
  form.addEventListener("change", ({ target }) => {
    if (target instanceof HTMLInputElement && target.name === "maximum") choose("works", "");
  });
}
