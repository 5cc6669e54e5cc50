/**
 * The conditions that are asked for with a reading, so that like is compared with like: cylinder, gear, speed, warm or
 * cold.
 */

import { MAXIMUM } from "../../book/catalogue.js";
import { capital } from "../../quantity/spoken.js";
import { CHOICES, COUNTED, Condition, State } from "../../vocabulary.js";
import { conditionWords } from "../step-figure.js";
import { cylindersToRead } from "./each-cylinder.js";
import { SCALE_WORDS } from "./octane.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../step-figure.js").StepFigure} StepFigure */

/**
 * One condition: its values with their words, empty if a number is typed; `needed` if the reading means nothing without
 * it; `usual` is preselected.
 * @typedef {{name: string, options: (readonly [string, string])[], needed: boolean, usual: string}} ConditionField
 */

const EACH_CYLINDER = "compression";
/** The name of the scale in which an octane is typed. */
export const SCALE = "scale";
/** An octane is a number and the scale that the pump gives it in; neither is chosen beforehand. @type {ConditionField[]} */
const OCTANE = [
  { name: SCALE, options: [...SCALE_WORDS], needed: true, usual: "" },
  { name: Condition.OCTANE, options: [], needed: true, usual: "" },
];

/**
 * @param {Document} page
 * @param {Document} kind
 * @param {string} figure
 * @param {readonly StepFigure[]} shown
 * @param {string} state
 * @returns {ConditionField[]}
 */
export function conditionFields(page, kind, figure, shown, state) {
  const like = shown.filter((one) => one.state === state);
  const may = /** @type {string[]} */ (kind["at"] ?? []);
  return may.flatMap((name) => {
    const values = new Set(like.map((one) => one.at[name]).filter((value) => typeof value === "string"));
    const [only = ""] = values;
    const usual = values.size === 1 && like.every((one) => one.at[name] === only) ? only : "";
    if (COUNTED.has(name)) return counted(page, name, figure, values);
    if (name === Condition.RPM) {
      const wanted = figure === MAXIMUM && state === State.RUNNING;
      return values.size || wanted ? [{ name, options: [], needed: wanted, usual: values.size === 1 ? only : "" }] : [];
    }
    if (name === Condition.OCTANE) return like.some((one) => one.at[name]) ? OCTANE : [];
    const options = CHOICES.get(name);
    if (!options || !values.size) return [];
    return [
      {
        name,
        options: options.map((value) => /** @type {const} */ ([value, conditionWords(name, value)])),
        needed: values.size > 1,
        usual,
      },
    ];
  });
}

/** @param {Document} page @param {string} name @param {string} figure @param {Set<string>} said @returns {ConditionField[]} */
function counted(page, name, figure, said) {
  const engine = page["engine"] ?? {};
  const many = Number(engine[COUNTED.get(name) ?? ""] ?? 0);
  const each = figure === EACH_CYLINDER || (name === Condition.CYLINDER && cylindersToRead(page, figure).length > 0);
  if (many < 2 || (!each && !said.size && isLight(figure))) return [];
  const needed = each || said.size > 1;
  const numbers = Array.from({ length: many }, (_, place) => String(place + 1));
  const all = needed ? [] : [/** @type {const} */ (["", "all"])];
  return [
    {
      name,
      options: [...all, ...numbers.map((one) => /** @type {const} */ ([one, one]))],
      needed,
      usual: needed ? "1" : "",
    },
  ];
}

/** Figures of the light are read on cylinder 1 unless a page says otherwise. @param {string} figure */
const isLight = (figure) => ["idle-timing", "throttle-pickup", MAXIMUM].includes(figure);

/** The words above the keys of a condition. @param {string} name */
export const legendOf = (name) =>
  name === SCALE
    ? "The pump says"
    : name === Condition.OCTANE
      ? "Octane that was filled"
      : name === Condition.RPM
        ? "Speed, rpm"
        : capital(name);
