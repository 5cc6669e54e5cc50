// Draws a family's page from its page document, as the server does; the worker uses it for pages never visited.

import { draw as drawn, readTemplate } from "../family/template.js";
import { pageTitle, view } from "../family/view.js";

/** @type {Record<string, string>} */
const SAFE = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#x27;" };

/**
 * @param {any} page the page document
 * @param {string} framed the page's frame with marks for title and body; after a third mark the template
 * @param {any} shared the shared document
 * @returns {string}
 */
export function draw(page, framed, shared) {
  const [head = "", middle = "", foot = "", template = ""] = framed.split(/[\uE000\uE001\uE002]/);
  const title = pageTitle(page, shared).replace(/[&<>"']/g, (mark) => SAFE[mark] ?? mark);
  return head + title + middle + drawn(readTemplate(template), view(page, shared)) + foot;
}
