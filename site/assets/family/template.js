/**
 * An interpreter of the few things that the page template uses, so that the browser draws from the same file as the
 * server, byte for byte: `{{ path }}` (always escaped), `{% for name in path %}` to `{% endfor %}`, `{% if path %}` with
 * or without `{% else %}` to `{% endif %}`; the end of the line after a tag is no part of the page. A path is names with
 * points between them. Anything else is refused, and so is a path that leads nowhere.
 */

/** What is wrong with a template, or with what it is given. */
export class TemplateError extends Error {
  name = "TemplateError";
}

/**
 * A part of a template: text as it is, a value to write, a loop, or a choice.
 * @typedef {{kind: "text", text: string} | {kind: "value", path: readonly string[]} | Loop | Branch} TemplatePart
 * @typedef {{kind: "for", name: string, path: readonly string[], body: TemplatePart[]}} Loop
 * @typedef {{kind: "if", path: readonly string[], body: TemplatePart[], otherwise: TemplatePart[]}} Branch
 * @typedef {readonly TemplatePart[]} Template
 */

const PIECE = /\{\{([\s\S]*?)\}\}|\{%([\s\S]*?)%\}\n?|\{#[\s\S]*?#\}\n?/g;
const PATH = /^[A-Za-z_]\w*(?:\.[A-Za-z_]\w*)*$/;
const NAME = /^[A-Za-z_]\w*$/;

/** Names that the server's template language reads otherwise: its own words, and what every mapping there can do. */
const TAKEN = new Set(
  (
    "and as block by call else endfor endif false for if import in include is loop none not or recursive self set true " +
    "False None True with without context caller varargs kwargs " +
    "clear copy fromkeys get items keys pop popitem setdefault update values"
  ).split(" "),
);

const SAFE = new Map([
  ["&", "&amp;"],
  ["<", "&lt;"],
  [">", "&gt;"],
  ["'", "&#39;"],
  ['"', "&#34;"],
]);

/**
 * Text that is safe in a page and in a quoted attribute.
 * @param {string} text
 */
export const escaped = (text) => text.replace(/[&<>'"]/g, (mark) => SAFE.get(mark) ?? mark);

/**
 * Read a template once, to draw with it often.
 * @param {string} source
 * @returns {Template}
 * @throws {TemplateError} something other than the few things is in it, or a block is not closed
 */
export function readTemplate(source) {
  const text = source.replace(/\r\n?/g, "\n").replace(/\n$/, "");
  /** @type {TemplatePart[]} */
  const whole = [];
  /** @type {{block: Loop | Branch, into: TemplatePart[]}[]} */
  const open = [];
  const into = () => open.at(-1)?.into ?? whole;
  let from = 0;
  for (const found of text.matchAll(PIECE)) {
    if (found.index > from) into().push({ kind: "text", text: text.slice(from, found.index) });
    from = found.index + found[0].length;
    if (found[1] !== undefined) into().push({ kind: "value", path: readPath(found[1]) });
    else if (found[2] !== undefined) readTag(found[2].trim(), open, into);
  }
  const rest = text.slice(from);
  if (/\{\{|\{%|\{#/.test(rest)) throw new TemplateError("something is opened and not closed");
  if (rest) into().push({ kind: "text", text: rest });
  if (open.length) throw new TemplateError(`a block is not closed: ${open.at(-1)?.block.kind}`);
  return whole;
}

/**
 * @param {string} tag
 * @param {{block: Loop | Branch, into: TemplatePart[]}[]} open
 * @param {() => TemplatePart[]} into
 */
function readTag(tag, open, into) {
  const last = open.at(-1);
  const [word = "", ...rest] = tag.split(/\s+/);
  if (word === "for" && rest.length === 3 && rest[1] === "in" && NAME.test(rest[0] ?? "")) {
    /** @type {Loop} */
    const block = { kind: "for", name: readPath(rest[0] ?? "")[0] ?? "", path: readPath(rest[2] ?? ""), body: [] };
    into().push(block);
    open.push({ block, into: block.body });
  } else if (word === "if" && rest.length === 1) {
    /** @type {Branch} */
    const block = { kind: "if", path: readPath(rest[0] ?? ""), body: [], otherwise: [] };
    into().push(block);
    open.push({ block, into: block.body });
  } else if (tag === "else" && last?.block.kind === "if" && last.into === last.block.body) {
    last.into = last.block.otherwise;
  } else if (last && tag === `end${last.block.kind}`) {
    open.pop();
  } else {
    throw new TemplateError(`{% ${tag} %} is none of the few things, or stands where it must not`);
  }
}

/** @param {string} words */
function readPath(words) {
  const text = words.trim();
  if (!PATH.test(text)) throw new TemplateError(`'${text}' is no path of names`);
  const path = text.split(".");
  const bad = path.find((name) => TAKEN.has(name) || name.startsWith("__"));
  if (bad) throw new TemplateError(`'${bad}' means something else to the server`);
  return path;
}

/**
 * The text that a template makes of a view.
 * @param {Template} template
 * @param {Readonly<Record<string, unknown>>} view
 * @returns {string}
 * @throws {TemplateError} a path leads nowhere, or to something that is not written, looped over or chosen by
 */
export function draw(template, view) {
  /** @type {string[]} */
  const written = [];
  write(template, new Map(Object.entries(view)), written);
  return written.join("");
}

/** @param {Template} parts @param {Map<string, unknown>} scope @param {string[]} written */
function write(parts, scope, written) {
  for (const part of parts) {
    if (part.kind === "text") {
      written.push(part.text);
      continue;
    }
    const value = valueAt(part.path, scope);
    if (part.kind === "if") {
      write(isSomething(value) ? part.body : part.otherwise, scope, written);
    } else if (part.kind === "value") {
      if (typeof value !== "string" && !Number.isInteger(value)) {
        throw new TemplateError(`${part.path.join(".")} is neither text nor a whole number`);
      }
      written.push(escaped(String(value)));
    } else {
      if (!Array.isArray(value)) throw new TemplateError(`${part.path.join(".")} is no list`);
      for (const item of value) write(part.body, new Map(scope).set(part.name, item), written);
    }
  }
}

/** @param {readonly string[]} path @param {Map<string, unknown>} scope */
function valueAt(path, scope) {
  const [head = "", ...rest] = path;
  let value = scope.get(head);
  for (const name of rest) {
    const holder = typeof value === "object" && value !== null && !Array.isArray(value) ? value : {};
    value = Object.hasOwn(holder, name) ? /** @type {Record<string, unknown>} */ (holder)[name] : undefined;
  }
  if (value === undefined) throw new TemplateError(`${path.join(".")} leads nowhere`);
  return value;
}

/** What counts as something: no empty text, list or mapping, not zero, null or false. @param {unknown} value */
function isSomething(value) {
  if (typeof value === "object" && value !== null) return Object.keys(value).length > 0;
  return Boolean(value);
}
