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

/** @type {ReadonlyMap<string, (given: any) => import("./said.js").Worked>} */
const AIDS = new Map([
  ["compression", compression], ["cylinders", cylinders], ["dead-centre", deadCentre], ["judge", judge],
  ["piston", piston], ["premix", premix], ["rim", rim], ["target", target], ["turn", turn],
]);

const work = AIDS.get(document.querySelector("form")?.dataset["aid"] ?? "");
if (work) begin(work);
