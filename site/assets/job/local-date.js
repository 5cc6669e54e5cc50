/** The day of a moment where the phone is, such as 2026-03-02. @param {string} moment as an entry keeps it */
export function localDate(moment) {
  const then = new Date(moment);
  return [then.getFullYear(), then.getMonth() + 1, then.getDate()]
    .map((part) => String(part).padStart(2, "0"))
    .join("-");
}
