/**
 * The drawn page as data: what someone at the phone sees of it, in its order, by role, label and words; and what a hand
 * does to it. Nothing here asks the job's modules anything.
 */

/** @param {any} one */
const words = (one) => (one?.textContent ?? "").replace(/\s+/g, " ").trim();

/** The words of a part in sight: without what is folded away. @param {any} node @returns {string} */
function seen(node) {
  if (node.nodeType === 3) return node.textContent;
  if (node.nodeType !== 1 || node.hasAttribute("hidden")) return "";
  const inner = [...node.childNodes];
  if (node.localName === "details" && !node.open)
    return inner
      .filter((one) => one.localName === "summary")
      .map(seen)
      .join(" ");
  return inner.map(seen).join(["p", "li", "div", "section", "label", "h2", "h3"].includes(node.localName) ? " " : "");
}

/**
 * All words in sight, those of fields not among them.
 * @param {any} node
 * @param {ReadonlySet<any>} unseen what is there for the ear alone
 * @returns {string}
 */
function sight(node, unseen) {
  if (node.nodeType === 3) return node.textContent;
  if (node.nodeType !== 1 || node.hasAttribute("hidden") || node.localName === "svg" || unseen.has(node)) return "";
  const inner = [...node.childNodes];
  const shown =
    node.localName === "details" && !node.open ? inner.filter((one) => one.localName === "summary") : inner;
  const around = ["span", "strong", "em", "small"].includes(node.localName) ? "" : " ";
  return around + shown.map((/** @type {any} */ one) => sight(one, unseen)).join("") + around;
}

/** Whether it is folded away: in a closed part, and not its summary. @param {any} node @param {any} top */
function folded(node, top) {
  for (let at = node; at && at !== top; at = at.parentNode) {
    if (at.hasAttribute?.("hidden")) return true;
    const around = at.parentNode;
    if (around?.localName === "details" && !around.hasAttribute("open") && at.localName !== "summary") return true;
  }
  return false;
}

/** The names of the parts it stands in, the innermost last. @param {any} node @param {any} top */
function within(node, top) {
  const names = [];
  for (let at = node; at && at !== top; at = at.parentNode) {
    const name = at.getAttribute?.("aria-label");
    if (name && at !== node) names.unshift(name);
  }
  return names;
}

/**
 * One thing on the screen; null for what is none.
 * @param {any} node
 * @param {any} top
 * @returns {Record<string, any> | null}
 */
function thing(node, top) {
  const type = node.getAttribute("type") ?? "";
  const name = node.localName;
  const id = node.id || "";
  const about = { id, words: words(node) };
  const look = node.getAttribute("class") ?? "";
  if (/^h[1-6]$/.test(name)) return { kind: "heading", ...about };
  if (name === "button")
    return {
      kind: "button",
      ...about,
      words: node.getAttribute("aria-label") || about.words,
      shut: node.getAttribute("aria-disabled") === "true" || node.hasAttribute("disabled"),
      look,
    };
  if (name === "a") return { kind: "link", ...about, to: node.getAttribute("href") ?? "", look };
  if (name === "fieldset") {
    const options = [...node.querySelectorAll("input")].map((box) => ({
      value: box.getAttribute("value") ?? "",
      id: box.id,
      words: words(box.closest("label")),
      on: box.checked,
    }));
    const first = node.querySelector("input");
    return { kind: "choice", name: first?.getAttribute("name") ?? "", legend: words(node.querySelector("legend")), options };
  }
  if (name === "input" && type === "checkbox") return { kind: "tick", id, words: words(node.closest("label")), on: node.checked };
  if ((name === "input" && type !== "radio") || name === "textarea" || name === "select") {
    const label = top.querySelector(`label[for="${id}"]`);
    return { kind: "field", id, words: words(label), value: node.value ?? "" };
  }
  if (name === "p" || name === "li" || name === "summary") {
    const text = seen(node).replace(/\s+/g, " ").trim();
    return text ? { kind: name === "summary" ? "summary" : "text", words: text, look, role: node.getAttribute("role") ?? "" } : null;
  }
  return null;
}

/**
 * All that is on the screen.
 * @param {any} document
 * @param {string} route
 * @param {string} forTheEar selects what only a screen reader says
 */
export function read(document, route, forTheEar) {
  const home = document.getElementById("job");
  const things = [];
  for (const node of home.querySelectorAll("*")) {
    const one = thing(node, home);
    if (!one) continue;
    const part = within(node, home);
    if (part.length) one.within = part;
    if (folded(node, home)) one.folded = true;
    things.push(one);
  }
  const title = words(document.getElementById("job-title"));
  const unseen = new Set(home.querySelectorAll(forTheEar));
  return { route, title, things, sight: `${title} ${sight(home, unseen)}`.replace(/\s+/g, " ").trim() };
}

/** @param {any} document @param {string} id */
function element(document, id) {
  const found = document.getElementById(id);
  if (!found) throw new Error(`nothing on the screen is called ${id}`);
  return found;
}

/** @param {any} node @param {string} name */
function happen(node, name) {
  const event = new globalThis.Event(name, { bubbles: true, cancelable: true });
  node.dispatchEvent(event);
  return !event.defaultPrevented;
}

/** What a hand can do. @type {Record<string, (document: any, ...given: any[]) => void>} */
export const HANDS = {
  type(document, id, text) {
    const box = element(document, id);
    box.value = text;
    happen(box, "input");
    happen(box, "change");
  },
  choose(document, name, value) {
    const boxes = [...document.querySelectorAll("input[type=radio]")].filter((box) => box.getAttribute("name") === name);
    const wanted = boxes.find((box) => (box.getAttribute("value") ?? "") === value);
    if (!wanted) throw new Error(`${name} has no ${value}`);
    if (wanted.checked) return;
    for (const box of boxes) box.checked = box === wanted;
    happen(wanted, "change");
  },
  tick(document, id, on) {
    const box = element(document, id);
    if (box.checked === on) return;
    box.checked = on;
    happen(box, "change");
  },
  /** A key by its id, or by its place among the keys of the screen. */
  tap(document, which) {
    const keys = document.querySelectorAll("#job button");
    const pressed = typeof which === "number" ? keys[which] : element(document, which);
    if (!pressed) throw new Error(`there is no key ${which}`);
    if (pressed.hasAttribute("disabled")) return;
    if (happen(pressed, "click") && pressed.getAttribute("type") === "submit") {
      const form = pressed.closest("form");
      if (form) happen(form, "submit");
    }
  },
  follow(document, to) {
    globalThis.location.hash = to;
  },
};
