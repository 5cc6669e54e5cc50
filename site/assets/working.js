/** The steps of a working, as `kb.working` has them. */

/** @typedef {{name: string, value: string, source: string}} Input */
/** @typedef {{name: string, formula: string, inputs: Input[], result: string, rounding: string}} Step */
/** @typedef {readonly [string, string, string?]} InputEntry the name, value and source of an input */

/**
 * One step of a working.
 * @param {string} name
 * @param {string} formula
 * @param {readonly InputEntry[]} inputs
 * @param {string} result
 * @param {string} [rounding]
 * @returns {Step}
 */
export function step(name, formula, inputs, result, rounding = "") {
  return {
    name,
    formula,
    inputs: inputs.map(([what, value, source = ""]) => ({ name: what, value, source })),
    result,
    rounding,
  };
}
