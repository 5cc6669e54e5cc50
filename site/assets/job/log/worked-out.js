/** What is worked out once for a record of a job, which never changes, since one screen asks for it many times. */

/** @typedef {{record: object, job?: object, page?: object, shared?: object}} Work */

/**
 * An answer that is kept as long as the record is, and worked out anew for another record, job or page.
 * @template {Work} Given
 * @template Answer
 * @param {(work: Given) => Answer} answer from nothing but the job, the record, the page and the shared document
 * @returns {(work: Given) => Answer}
 */
export function workedOutOnce(answer) {
  /** @type {WeakMap<object, {from: (object | undefined)[], answer: Answer}>} */
  const known = new WeakMap();
  return (work) => {
    const from = [work.job, work.page, work.shared];
    const held = known.get(work.record);
    if (held?.from.every((one, place) => one === from[place])) return held.answer;
    const fresh = answer(work);
    known.set(work.record, { from, answer: fresh });
    return fresh;
  };
}
