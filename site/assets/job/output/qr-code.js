/**
 * A QR code of plain words as a drawing: any phone's reader shows them without a connection. The only module that loads
 * the encoder.
 */

import { correction, generate, mode } from "../../vendor/lean-qr.js";

const SVG = "http://www.w3.org/2000/svg";
const QUIET = 4; // modules of white on each side: ISO/IEC 18004 (from memory)

/**
 * The code as a path of black runs, on a square of `size` modules, white border included. The words are UTF-8 bytes
 * without a byte order mark, as readers expect; it survives 15 % damage, by oil and sun.
 * @param {string} text
 * @param {number} largest the largest version that is not too fine to read
 * @returns {{size: number, path: string}}
 * @throws {Error} the text is too long for that
 */
export function codeOf(text, largest) {
  const bytes = mode.bytes(new TextEncoder().encode(text));
  const code = generate(bytes, { minCorrectionLevel: correction.M, maxVersion: largest });
  const runs = [];
  for (let y = 0; y < code.size; y += 1) {
    for (let x = 0, start = 0; x < code.size; x = start) {
      for (start = x; code.get(start, y) === code.get(x, y) && start < code.size; ) start += 1;
      if (code.get(x, y)) runs.push(`M${x + QUIET} ${y + QUIET}h${start - x}v1h-${start - x}z`);
    }
  }
  return { size: code.size + 2 * QUIET, path: runs.join("") };
}

/**
 * The code as an element, black on white whatever the page's colours.
 * @param {string} text
 * @param {number} largest
 * @param {string} label what a screen reader says
 */
export function drawCode(text, largest, label) {
  const { size, path } = codeOf(text, largest);
  const [svg, ground, ink] = ["svg", "path", "path"].map((name) => document.createElementNS(SVG, name));
  if (!svg || !ground || !ink) throw new TypeError("no drawing");
  const told = { viewBox: `0 0 ${size} ${size}`, "shape-rendering": "crispEdges", role: "img", "aria-label": label };
  for (const [name, value] of Object.entries(told)) svg.setAttribute(name, value);
  for (const [part, fill, d] of /** @type {const} */ ([
    [ground, "#fff", `M0 0h${size}v${size}H0z`],
    [ink, "#000", path],
  ])) {
    part.setAttribute("fill", fill);
    part.setAttribute("d", d);
  }
  svg.append(ground, ink);
  return svg;
}
