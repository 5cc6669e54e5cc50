/** Where nothing is turned: nothing is known that moves a figure, or what moves it is a pin in fixed holes. */

/** @typedef {Readonly<Record<string, any>>} Document */

/**
 * Why no turn is advised for a figure; empty if it has a screw.
 * @param {Document} page the family's page as published
 * @param {string} figure
 */
export function noScrew(page, figure) {
  const adjuster = page["adjusters"]?.[figure];
  if (!adjuster) return "nothing is known here that moves it: no turn is advised";
  const { part, holes } = adjuster;
  return holes
    ? `the ${part} has ${holes} fixed holes: no turn is advised; take the hole that is nearest to the figure and not early`
    : "";
}
