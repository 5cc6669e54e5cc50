/**
 * The readings of a figure in a job, those as found first.
 * @param {Pick<import("./record.js").JobRecord, "found" | "left">} record
 * @param {string} figure
 */
export const readingsOf = ({ found, left }, figure) => [...(found.get(figure) ?? []), ...(left.get(figure) ?? [])];
