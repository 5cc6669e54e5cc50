/**
 * The readings of a figure in a job, those as found first, then those as left before the nut was slack again.
 * @param {Pick<import("./record.js").JobRecord, "found" | "loosened" | "left">} record
 * @param {string} figure
 */
export const readingsOf = ({ found, loosened, left }, figure) =>
  [found, loosened, left].flatMap((readings) => readings.get(figure) ?? []);
