// Sets of families, one bit for each.

/** @param {number} count @returns {Uint32Array} */
export const emptySet = (count) => new Uint32Array((count + 31) >> 5);

/** @param {Uint32Array} set @param {number} place */
export function mark(set, place) {
  set[place >> 5] = (set[place >> 5] ?? 0) | (1 << (place & 31));
}

/** @param {Uint32Array} set @param {number} place */
export const has = (set, place) => (((set[place >> 5] ?? 0) >>> (place & 31)) & 1) === 1;

/** The families in both sets. @param {Uint32Array} set @param {Uint32Array} other @returns {Uint32Array} */
export const intersection = (set, other) => set.map((bits, at) => bits & (other[at] ?? 0));

/** Add the families of another set. @param {Uint32Array} set @param {Uint32Array} other */
export function addAll(set, other) {
  for (const [at, bits] of other.entries()) if (bits) set[at] = (set[at] ?? 0) | bits;
}

/**
 * The places in a set in order, at most so many.
 * @param {Uint32Array} set
 * @param {number} [most]
 */
export function placesIn(set, most = Infinity) {
  const places = [];
  for (let at = 0; at < set.length; at++) {
    for (let bits = set[at] ?? 0; bits; bits &= bits - 1) {
      places.push(at * 32 + 31 - Math.clz32(bits & -bits));
      if (places.length >= most) return places;
    }
  }
  return places;
}
