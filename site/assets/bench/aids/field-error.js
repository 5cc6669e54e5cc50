/** The field of a bench aid that an error is about, so that the page can show it there. */

/** @template {Error} T @param {string} field the field's name @param {T} error @returns {T} */
export const atField = (field, error) => Object.assign(error, { field });

/** The name of the field; empty if the error is not about one field. @param {Error} error */
export const fieldOfError = (error) => ("field" in error && typeof error.field === "string" ? error.field : "");
