/** Which of a step's figures is in sight: they are read one after the other, each with its own form. */

import { eachFigure } from "../../book/job.js";
import { Condition, Noted } from "../../vocabulary.js";
import { choice } from "../controls.js";
import { readingsOf } from "../log/readings-of.js";
import { conditionFields } from "../reading/conditions.js";
import { stepFigures } from "../step-figure.js";

/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {import("../../book/job.js").JobStep} JobStep */
/** @typedef {import("../../book/job.js").FigureStep} FigureStep */

/** The readings of a figure that were taken at a step, in time. @param {Workspace} workspace @param {FigureStep} step */
const takenAt = ({ record }, { id, figure }) => readingsOf(record, figure).filter(({ step }) => step === id);

/** Whether all that a step notes of a figure is noted, at every cylinder. @param {Workspace} workspace @param {FigureStep} step */
function isNoted(workspace, step) {
  const { page, record, shared } = workspace;
  const { figure, records, state } = step;
  const noted = (records.includes(Noted.AS_LEFT) ? record.left : record.found).get(figure) ?? [];
  const kind = shared["figures"][figure];
  const shown = stepFigures(page, shared, record, figure, state);
  const each = conditionFields(page, kind, figure, shown, kind["states"][0] ?? "").find(
    ({ name, needed }) => needed && name === Condition.CYLINDER,
  );
  const read = new Set(noted.map(({ cylinder }) => cylinder));
  return each ? each.options.every(([number]) => read.has(number)) : noted.length > 0;
}

/** What was chosen to be in sight, and after which reading. @param {Workspace} workspace @param {JobStep} step */
const choiceOf = (workspace, step) => workspace.draft(`${step.id} figure`, () => ({ figure: "", after: "" }));

/** The reading that was taken last at a step. @param {Workspace} workspace @param {readonly FigureStep[]} figures */
const lastTaken = (workspace, figures) =>
  figures
    .flatMap((one) => takenAt(workspace, one))
    .toSorted((one, other) => (one.time < other.time ? -1 : 1))
    .at(-1);

/**
 * The figure in sight: as chosen since the last reading; else the one read last until it is noted, then the next that is
 * not.
 * @param {Workspace} workspace
 * @param {JobStep} step
 * @returns {FigureStep | undefined}
 */
export function figureInSight(workspace, step) {
  const figures = eachFigure(step);
  const last = lastTaken(workspace, figures);
  const chosen = choiceOf(workspace, step);
  const wanted = figures.find(({ figure }) => figure === chosen.figure);
  if (wanted && chosen.after === (last?.entry ?? "")) return wanted;
  const place = Math.max(
    0,
    figures.findIndex(({ figure }) => figure === last?.figure),
  );
  const inTurn = [...figures.slice(place), ...figures.slice(0, place)];
  return inTurn.find((one) => !isNoted(workspace, one)) ?? inTurn[0];
}

/**
 * The choice of the figure to read; null where there is only one.
 * @param {Workspace} workspace
 * @param {JobStep} step
 * @param {FigureStep | undefined} inSight
 */
export function figureChoice(workspace, step, inSight) {
  if (!inSight || step.figures.length < 2) return null;
  const figures = eachFigure(step);
  const options = figures.map(
    (one) =>
      /** @type {const} */ ([
        one.figure,
        `${workspace.shared["figures"][one.figure]?.label ?? one.figure}${takenAt(workspace, one).length ? " · noted" : ""}`,
      ]),
  );
  const choose = (/** @type {string} */ figure) => {
    Object.assign(choiceOf(workspace, step), { figure, after: lastTaken(workspace, figures)?.entry ?? "" });
    workspace.redraw();
  };
  return choice("figure", "Read", options, inSight.figure, choose, "bare");
}
