/**
 * The dead-centre reading of a job: from two contacts with the piston stop, or read off the pointer; and whether the
 * pointer was then moved or stays.
 */

import { work } from "../../bench/aids/dead-centre.js";
import { element } from "../../dom.js";
import { StopscrewError } from "../../errors.js";
import { Fraction } from "../../quantity/fraction.js";
import { readQuantity } from "../../quantity/quantity.js";
import { angleInWords } from "../../quantity/spoken.js";
import { SIDES } from "../../vocabulary.js";
import { choice, key, lines, refusal } from "../controls.js";
import { pointerStop } from "../gates.js";
import { asksOfPointer, POINTER, Pointer } from "../log/pointer-history.js";
import { degreesAlong, TAPE_UNITS } from "../reading/along-the-rim.js";
import { byPointer, byStops, doubt, STOPS } from "../reading/dead-centre-reading.js";
import { digitKeys, isTyped, SIDE_CHOICES, typedValue } from "../reading/number-pad.js";
import { signedAngle } from "../step-figure.js";
import { workingView } from "./figure-view.js";

/** @typedef {import("../workspace.js").Workspace} Workspace */
/** @typedef {import("../reading/number-pad.js").TypedReading} TypedReading */
/**
 * What is being typed; `round` is once round the rim, `doubted` the reading that was asked about again.
 * @typedef {{way: string, first: TypedReading, second: TypedReading, pointer: TypedReading, round: TypedReading,
 *   refused: string, doubted: string}} DeadCentreDraft
 */

const WAYS = /** @type {const} */ ([
  ["stops", "by the piston stop"],
  ["tape", "by the stop, with pencil marks and a tape"],
  ["pointer", "pointer read at TDC"],
]);
/** The contacts by what they are; in whichever order they are read, nobody chooses for the one who turns. */
const CONTACT_CHOICES = /** @type {const} */ ([
  ["btdc", "contact before TDC"],
  ["atdc", "contact after TDC"],
]);

/** @param {Workspace} workspace @param {import("../../book/job.js").JobStep} step */
export function deadCentreForm(workspace, step) {
  const { job, record } = workspace;
  const asked = asksOfPointer(job, step) && record.deadCentre !== null && !pointerStop(record);
  return element(
    "section",
    { class: "readings", "aria-label": "Dead-centre reading" },
    known(workspace),
    asked ? answers(workspace) : null,
    asked && step.id === POINTER ? null : contactsForm(workspace, step.id),
  );
}

/**
 * Whether the pointer was moved or stays. Either is reckoned with: a pointer that was moved is first read again.
 * @param {Workspace} workspace
 */
function answers(workspace) {
  const { pointer, deadCentre } = workspace.record;
  const shows = angleInWords(Fraction.of(deadCentre ?? "0"));
  const answer = (/** @type {"moved" | "stays"} */ said, /** @type {string} */ words, /** @type {string} */ told) =>
    key(words, () => workspace.append("pointer", { answer: said }).then(() => workspace.say(told)), {
      id: `pointer-${said}`,
      class: "wide",
    });
  const moved = answer("moved", "It was moved: read both contacts again", "Moved: now read both contacts again");
  if (pointer !== Pointer.ASKED) return moved;
  return element(
    "div",
    { role: "group", "aria-label": "Moved, or does it stay?" },
    answer("stays", `It stays: it shows ${shows}`, `It stays, and ${shows} is allowed for`),
    moved,
  );
}

/** @param {Workspace} workspace @param {string} step its id; at the step `pointer` the pointer itself may be read */
function contactsForm(workspace, step) {
  const moved = workspace.record.pointer === Pointer.MOVED;
  const empty = () => ({ text: "", unit: "deg", side: "" });
  const draft = workspace.draft(
    `${step} centre`,
    () =>
      /** @type {DeadCentreDraft} */ ({
        way: step === POINTER ? "pointer" : "stops",
        first: empty(),
        second: empty(),
        pointer: empty(),
        round: empty(),
        refused: "",
        doubted: "",
      }),
    ({ first, second, pointer, round }) => [first, second, pointer, round].some(isTyped),
  );
  if (moved && draft.way === "pointer") draft.way = "stops";
  const ways = moved ? WAYS.slice(0, 2) : WAYS;
  const form = element(
    "form",
    { class: "take", novalidate: true, "aria-label": "Take a reading" },
    ...fields(workspace, draft),
    refusal(draft.refused),
    element("div", { class: "two" }, element("button", { type: "submit", class: "main-key", id: "store" }, "Keep")),
    element(
      "details",
      { class: "other-ways", "data-fold": "other-ways" },
      element("summary", {}, `How it is found: ${ways.find(([way]) => way === draft.way)?.[1] ?? ""}`),
      choice("way", "How it is found", ways, draft.way, (way) => {
        Object.assign(draft, { way, refused: "" });
        workspace.redraw();
      }),
    ),
  );
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    void workspace.inTurn(() => store(workspace, draft));
  });
  return form;
}

/** The dead-centre reading so far, with its working. @param {Workspace} workspace */
function known(workspace) {
  const { centred, deadCentre: reads, pointer, stops } = workspace.record;
  const back = (/** @type {string} */ label) =>
    key("Take back", () => workspace.append("take-back", { entry: centred.entry }), {
      id: "centre-back",
      "aria-label": label,
    });
  if (pointer === Pointer.MOVED)
    return element(
      "div",
      {},
      element(
        "p",
        { class: "refused", role: "alert" },
        "The pointer was moved. Until both contacts are read again there is no figure to set by and nothing counts.",
      ),
      back("Take back that the pointer was moved"),
    );
  if (reads === null) return element("p", {}, "None noted yet: until then the pointer is taken to be right.");
  const stopped = pointerStop(workspace.record);
  const said = element(
    "p",
    { class: "answer" },
    `The pointer shows ${angleInWords(Fraction.of(reads))} at true top dead centre`,
  );
  return element(
    "div",
    {},
    said,
    stopped
      ? element(
          "p",
          { class: "refused", role: "alert" },
          `The job stops here: ${stopped}. Note a new reading once that is put right.`,
        )
      : worked(stops),
    pointer === Pointer.STAYS ? element("p", {}, "It stays so, and every reading allows for it.") : null,
    back(pointer === Pointer.STAYS ? "Take back that it stays" : "Take the dead-centre reading back"),
  );
}

/** @param {readonly [string, string] | null} stops */
function worked(stops) {
  if (!stops) return null;
  try {
    const [first, second] = [Fraction.of(stops[0]), Fraction.of(stops[1])];
    const { answer, remarks, steps } = work({ first, second, ...STOPS });
    return element(
      "details",
      {},
      element("summary", {}, answer[1] ?? "How it was worked out"),
      ...workingView(steps),
      lines(remarks),
    );
  } catch (error) {
    if (error instanceof StopscrewError) return element("p", { class: "refused" }, error.message);
    throw error;
  }
}

/** The diameter of the rim, as its file has it. @param {Workspace} workspace */
const diameterOf = ({ page }) => page["flywheel"]?.["rim_diameter"];

/** What is measured, and in what. @param {Workspace} workspace @param {DeadCentreDraft} draft */
function tapeFields(workspace, draft) {
  const diameter = diameterOf(workspace);
  const units = TAPE_UNITS.map((unit) => /** @type {const} */ ([unit, unit]));
  const tapes = [draft.first, draft.second, draft.round];
  const unit = TAPE_UNITS.includes(draft.first.unit) ? draft.first.unit : "mm";
  for (const typed of tapes) typed.unit = unit;
  return [
    element(
      "details",
      { "data-fold": "tape-help" },
      element("summary", {}, "Pencil each contact, then measure"),
      element(
        "p",
        {},
        "At each contact mark the rim with a pencil opposite the pointer, or opposite the zero of a fixed scale; then " +
          "measure along the rim from its dead-centre mark. A degree tape is read in degrees instead. ",
        diameter ? `The rim is ${readQuantity(diameter)} across.` : "Measure once round the rim too.",
      ),
    ),
    choice("tape-unit", "Unit of the tape", units, unit, (chosen) => {
      for (const typed of tapes) typed.unit = chosen;
      workspace.redraw();
    }),
  ];
}

/** @param {Workspace} workspace @param {DeadCentreDraft} draft */
function fields(workspace, draft) {
  const tape = draft.way === "tape";
  const above = tape ? tapeFields(workspace, draft) : [];
  if (!tape) for (const typed of [draft.first, draft.second]) typed.unit = "deg";
  const words = tape ? `${draft.first.unit} along the rim` : "degrees";
  const boxes =
    draft.way === "pointer"
      ? [box("at-centre", `The pointer shows, ${words}`, draft.pointer, SIDE_CHOICES)]
      : [
          box("first", `First contact, ${words}`, draft.first, CONTACT_CHOICES),
          box("second", `Second contact, ${words}`, draft.second, CONTACT_CHOICES),
        ];
  if (tape && !diameterOf(workspace))
    boxes.push(box("round", `Once round the rim, ${draft.round.unit}`, draft.round, []));
  let last = boxes[0]?.querySelector("input");
  for (const one of boxes) {
    const input = one.querySelector("input[type=text]");
    input?.addEventListener("focus", () => {
      last = /** @type {HTMLInputElement} */ (input);
    });
  }
  const keys = digitKeys(() => /** @type {HTMLInputElement} */ (last), tape && draft.first.unit === "in");
  return [...above, element("div", { class: "pair" }, ...boxes), keys];
}

/**
 * @param {string} id
 * @param {string} label
 * @param {TypedReading} typed
 * @param {readonly (readonly [string, string])[]} sides
 */
function box(id, label, typed, sides) {
  const input = element("input", {
    id,
    type: "text",
    class: "reading-box",
    inputmode: "none",
    autocomplete: "off",
    maxlength: "8",
  });
  if (input instanceof HTMLInputElement) {
    input.value = typed.text;
    input.addEventListener("input", () => {
      typed.text = input.value;
    });
  }
  return element(
    "div",
    { class: sides.length ? "pad sided named" : "field" },
    element("label", { for: id }, label),
    input,
    sides.length
      ? choice(
          `${id}-side`,
          `Side of ${label.split(",")[0]?.toLowerCase()}`,
          sides,
          typed.side,
          (side) => {
            typed.side = side;
          },
          "bare",
        )
      : null,
  );
}

/**
 * @param {string} label
 * @param {TypedReading} typed
 * @param {(typed: TypedReading) => Fraction} [read]
 */
function angleOf(label, typed, read = (one) => signedAngle(typedValue(one, SIDES)) ?? Fraction.of(0)) {
  try {
    return read(typed);
  } catch (error) {
    if (error instanceof StopscrewError) throw new StopscrewError(`${label}: ${error.message}`);
    throw error;
  }
}

/** @param {Workspace} workspace @param {DeadCentreDraft} draft */
async function store(workspace, draft) {
  try {
    const along = (/** @type {TypedReading} */ typed) => degreesAlong(typed, diameterOf(workspace), draft.round);
    const read = draft.way === "tape" ? along : undefined;
    const found =
      draft.way === "pointer"
        ? byPointer(angleOf("The pointer shows", draft.pointer))
        : byStops(angleOf("First contact", draft.first, read), angleOf("Second contact", draft.second, read));
    const { reads } = found.said;
    const ask = draft.doubted === reads ? "" : doubt(workspace.record.centred.earlier, reads);
    draft.doubted = ask ? reads : "";
    if (ask) throw new StopscrewError(ask);
    Object.assign(draft, { refused: "" });
    for (const typed of [draft.first, draft.second, draft.pointer]) Object.assign(typed, { text: "", side: "" });
    await workspace.append("dead-centre", found.said);
    workspace.say(found.words);
  } catch (error) {
    if (!(error instanceof StopscrewError)) throw error;
    draft.refused = error.message;
  }
  workspace.redraw();
}
