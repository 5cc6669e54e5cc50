// A family's page as the server makes it, from its page document: the worker draws with this what was never visited.

import { draw as drawn, readTemplate } from "../family/template.js";
import { view } from "../family/view.js";

/** @type {Record<string, string>} */
const SAFE = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#x27;" };

/**
 * @param {any} page the page document
 * @param {string} framed the page's frame, with a mark for the title and one for the body; behind a third the template
 * @param {any} shared what all pages share
 * @returns {string}
 */
export function draw(page, framed, shared) {
  const [head = "", middle = "", foot = "", template = ""] = framed.split(/[\uE000\uE001\uE002]/);
  const title = `${shared.makers[page.maker] ?? page.maker} ${page.name}`.replace(
    /[&<>"']/g,
    (mark) => SAFE[mark] ?? mark,
  );
  return head + title + middle + drawn(readTemplate(template), view(page, shared)) + foot;
}
