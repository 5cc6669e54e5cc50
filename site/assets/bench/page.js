/** The one script of every bench page: finds which aid it is and makes its form work. */

import { StopscrewError } from "../errors.js";
import { work as compression } from "./compression.js";
import { work as cylinders } from "./cylinders.js";
import { work as deadCentre } from "./dead-centre.js";
import { Engine } from "./engine.js";
import { Form } from "./form.js";
import { work as judge } from "./judge.js";
import { work as piston } from "./piston.js";
import { work as plates } from "./plates.js";
import { work as premix } from "./premix.js";
import { work as rim } from "./rim.js";
import { work as rpm } from "./rpm.js";
import { clear, refuse, show } from "./show.js";
import { work as target } from "./target.js";
import { work as turn } from "./turn.js";

/** @type {ReadonlyMap<string, (given: any) => import("./said.js").Worked>} */
const AIDS = new Map(Object.entries({
  compression, cylinders, "dead-centre": deadCentre, judge, piston, plates, premix, rim, rpm, target, turn,
}));

/** @param {HTMLFormElement} home @param {HTMLElement} result @param {(given: any) => import("./said.js").Worked} work */
function begin(home, result, work) {
  const form = new Form(home);
  let asked = false;
  const workOut = (/** @type {boolean} */ goThere) => {
    clear(home);
    try {
      show(result, work(form.read()));
      if (goThere) result.scrollIntoView({ block: "nearest" });
    } catch (error) {
      refuse(home, result, error, goThere);
    }
  };
  home.addEventListener("submit", (event) => {
    event.preventDefault();
    asked = true;
    workOut(true);
  });
  // What stands there is never older than what is typed above it.
  home.addEventListener("input", () => asked && workOut(false));
  home.hidden = false;
  const engine = document.getElementById("engine");
  const filled = () => {
    try {
      show(result, work(form.read()));
      asked = true;
    } catch (error) {
      if (!(error instanceof StopscrewError)) throw error;
      if (asked) workOut(false); // what is still to be typed is no error yet
    }
  };
  if (engine) void new Engine(form, engine, document.documentElement.dataset["root"] ?? "", filled).begin();
}

const home = document.querySelector("form[data-aid]");
const result = document.getElementById("result");
const work = home instanceof HTMLFormElement ? AIDS.get(home.dataset["aid"] ?? "") : undefined;
if (home instanceof HTMLFormElement && result && work) begin(home, result, work);
