/** Which field of a bench aid an error is about, so that the page can say it there. */

/** @template {Error} T @param {string} field the field's name @param {T} error @returns {T} */
export const at = (field, error) => Object.assign(error, { field });

/** The field's name; empty where the error is about no one field. @param {Error} error */
export const faultyField = (error) => ("field" in error && typeof error.field === "string" ? error.field : "");
