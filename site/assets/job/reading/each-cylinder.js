/**
 * The cylinders at which a maximum is read: each, where each has its own contacts or trigger, or where one serves cylinders
 * that do not fire evenly; their gaps differ, and so do their sparks. The earliest counts.
 */

import { MAXIMUM } from "../../book/catalogue.js";
import { firingAngles } from "../../calc/cylinders.js";
import { StopscrewError } from "../../errors.js";
import { ZERO } from "../../quantity/fraction.js";
import { Cycle } from "../../vocabulary.js";
import { signedAngle } from "../step-figure.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../log/record.js").JobReading} JobReading */

/**
 * The numbers of the cylinders to read; none where one reading is enough, or where the file does not say.
 * @param {Document} page
 * @param {string} figure
 * @returns {string[]}
 */
export function cylindersToRead(page, figure) {
  const many = Number(page["engine"]?.cylinders ?? 1);
  const triggers = Number(page["ignition"]?.triggers ?? 0);
  const isOne = triggers === 1 && page["engine"]?.even_fire === "true";
  if (figure !== MAXIMUM || many < 2 || !triggers || isOne) return [];
  return Array.from({ length: many }, (_, place) => String(place + 1));
}

/**
 * Those of them at which nothing was read.
 * @param {Document} page
 * @param {string} figure
 * @param {readonly JobReading[]} readings
 */
export function cylindersUnread(page, figure, readings) {
  const read = new Set(readings.map(({ cylinder }) => cylinder));
  return cylindersToRead(page, figure).filter((number) => !read.has(number));
}

/**
 * The cylinder by which the screw is turned: the earliest as left, else that of the readings while turning; empty where
 * one reading is enough, and before the first.
 * @param {import("../log/record.js").JobRecord} record
 * @param {string} figure
 */
export function earliestCylinder({ left, turns }, figure) {
  const degrees = (/** @type {JobReading} */ { value }) => signedAngle(value) ?? ZERO;
  const [first, ...others] = left.get(figure) ?? [];
  if (!first) return turns.get(figure)?.at(-1)?.cylinder ?? "";
  return others.reduce((most, one) => (degrees(one).above(degrees(most)) ? one : most), first).cylinder;
}

/** What is read, and by which mark, in words; empty where one reading is enough. @param {Document} page */
export function eachWords(page) {
  if (!cylindersToRead(page, MAXIMUM).length) return "";
  return `Read every cylinder, each by the dead-centre mark of its own${marksOf(page)}. The earliest counts.`;
}

/** Where the marks of the others lie, if the engine fires evenly. @param {Document} page */
function marksOf({ engine }) {
  try {
    const order = engine["firing_order"].map(Number);
    const angles = firingAngles(order, engine["even_fire"] === "true", engine["cycle"] === Cycle.FOUR_STROKE);
    const later = [...angles].slice(1).map(([cylinder, angle]) => `cylinder ${cylinder} ${angle}°`);
    return later.length ? `: after that of cylinder ${order[0]}, as it turns, ${later.join(", ")}` : "";
  } catch (error) {
    if (error instanceof StopscrewError) return "";
    throw error;
  }
}
