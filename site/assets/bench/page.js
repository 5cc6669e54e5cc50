/** The script of every bench page: fetches the page's aid and runs its form. */

import { element } from "../dom.js";
import { StopscrewError } from "../errors.js";
import { MODULES } from "./aid-modules.js";
import { AidForm } from "./form.js";
import { clear, refuse, show } from "./result-view.js";

const NOT_HERE = "Part of this page could not be loaded: no signal, and no copy on this phone yet. Open it again.";

/**
 * @param {HTMLFormElement} home
 * @param {HTMLElement} result
 * @param {(given: any) => import("./aids/wording.js").Worked} work
 */
async function begin(home, result, work) {
  const form = new AidForm(home);
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
  // The result is never older than what is typed above it.
  home.addEventListener("input", () => asked && workOut(false));
  home.hidden = false;
  const engine = document.getElementById("engine");
  if (!engine || engine.dataset["takes"] === undefined) return undefined;
  const EnginePanel = await import("./engine-panel.js").then(
    (module) => module.EnginePanel,
    () => null,
  );
  if (!EnginePanel) return engine.append(element("p", { class: "why" }, NOT_HERE));
  await new EnginePanel(form, engine, document.documentElement.dataset["root"] ?? "", () => {
    try {
      show(result, work(form.read()));
      clear(home);
      asked = true;
    } catch (error) {
      if (!(error instanceof StopscrewError)) throw error;
      if (asked) workOut(false); // fields still empty are not an error yet
    }
  }).begin();
  return undefined;
}

const home = document.querySelector("form[data-aid]");
const result = document.getElementById("result");
const aid = home instanceof HTMLFormElement ? (home.dataset["aid"] ?? "") : "";
const module = MODULES.get(aid);
if (home instanceof HTMLFormElement && result && module) {
  const work = await import(module).then(
    (module) => module.work,
    () => null,
  );
  if (work) await begin(home, result, work);
  else result.append(element("p", { class: "refused" }, NOT_HERE));
}
