// Serial numbers in the index: places that sort as serial numbers do; the same as kb/book/find/serials.py.

const DIGITS = /^[0-9]+$/;
const NOUGHTS = /^0+(?=[0-9])/;

/** The shape of a serial number, and its place: a text that sorts as serial numbers do. @param {string} serial */
export function serialPlace(serial) {
  if (serial.length < 65 && DIGITS.test(serial)) {
    const plain = serial.replace(NOUGHTS, "");
    return { shape: "9", place: String(plain.length).padStart(3, "0") + plain };
  }
  const runs =
    [...serial]
      .slice(0, 64)
      .join("")
      .toUpperCase()
      .match(/[A-Z]+|[0-9]+/g) || [];
  let shape = "";
  let place = "";
  for (const run of runs) {
    const isNumber = run.charAt(0) <= "9";
    const plain = isNumber ? run.replace(NOUGHTS, "") : run;
    shape += isNumber ? "9" : "A";
    place += isNumber ? String(plain.length).padStart(3, "0") + plain : `${plain} `;
  }
  return { shape, place };
}

/** The place of the letters with which a serial number begins. @param {string} serial */
export const lettersPlace = (serial) => serialPlace(serial.replace(/[0-9]+$/, "")).place;
