/**
 * A phone that serves many jobs: `node phone.mjs linkedom.js page.js`, a line of JSON for what is wanted, a line for what
 * is then on the screen.
 *
 * {"reset": seed, "documents": {path: document}} an empty phone; documents without it keep those of before
 * {"open": hash, "tab": number} the Jobs page in a tab, anew in one that is there: a reload
 * {"hands": [[what, ...], ...], "tab": number, "later": ms} what a hand does one after the other, see screen.mjs
 * {"entries": true} what the phone keeps
 */

import { readFileSync } from "node:fs";
import { registerHooks } from "node:module";
import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";
import { Browser } from "./browser.mjs";
import { HANDS, read } from "./screen.mjs";

/** A map of listeners for every node and every attribute would cost more than all the rest of a page. */
const LISTENERS = /linkedom\/esm\/interface\/event-target\.js$/;
registerHooks({
  load(url, context, next) {
    const loaded = next(url, context);
    if (!LISTENERS.test(url)) return loaded;
    const source = String(loaded.source)
      .replace("wm.set(this, new Map);", "")
      .replaceAll("wm.get(this);", "wm.get(this) ?? wm.set(this, new Map()).get(this);");
    return { ...loaded, source };
  },
});

const [, , linkedom = "", page = ""] = process.argv;
const browser = new Browser({ linkedom: await import(pathToFileURL(linkedom).href), page });
const style = readFileSync(new URL("../job-step.css", pathToFileURL(page)), "utf8");
const [, forTheEar = ""] = /\/\* for the ear alone \*\/([^{]+)\{/.exec(style) ?? [];
let documents = {};

/** @param {Record<string, any>} wanted */
async function answer(wanted) {
  if (wanted.reset !== undefined) {
    documents = { ...documents, ...wanted.documents };
    browser.reset(wanted.reset, documents);
    return {};
  }
  if (wanted.entries) return [...browser.database.rows.values()];
  browser.now += wanted.later ?? 0;
  if (wanted.open !== undefined) await browser.open(wanted.open, wanted.tab ?? 0);
  const tab = browser.tabs[wanted.tab ?? 0];
  browser.front = tab;
  for (const [what, ...given] of wanted.hands ?? []) {
    HANDS[what](tab.document, ...given);
    await browser.settle();
    browser.now += 1000;
  }
  return read(tab.document, tab.hash.slice(1), forTheEar);
}

const write = process.stdout.write.bind(process.stdout);
for await (const line of createInterface({ input: process.stdin })) {
  let said;
  try {
    said = await answer(JSON.parse(line));
  } catch (error) {
    said = { error: String(error?.stack ?? error) };
  }
  write(`${JSON.stringify(said)}\n`);
}
