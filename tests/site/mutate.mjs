/**
 * Changes one digit or one sign of the arithmetic at a time and sees whether the vectors notice.
 * Usage: node mutate.mjs <site/assets> <schema/vectors> <a folder to write in>; prints the changes that none noticed.
 */

import { cpSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { calculations, faultsOf } from "./vectors.mjs";

const [assets, folder, room] = process.argv.slice(2).map((path) => resolve(path));
const vectors = readdirSync(folder)
  .filter((name) => name.endsWith(".json") && name !== "schema.json")
  .map((name) => JSON.parse(readFileSync(join(folder, name), "utf8")));

/** Where comments, imports and words stand, so that nothing is changed there. */
const QUIET = /\/\*[\s\S]*?\*\/|\/\/.*|import [^;]*;|`[^`]*`|"[^"]*"/g;
const DIGITS = /(?<![\w.])\d+(?:\.\d+)?(?:e-?\d+)?n?(?![\w.])/g;
const SIGNS = / [+\-*/] /g;
const OTHER = { " + ": " - ", " - ": " + ", " * ": " / ", " / ": " * " };

function* changes(text) {
  const loud = text.replace(QUIET, (quiet) => quiet.replace(/[^\n]/g, " "));
  for (const found of loud.matchAll(DIGITS)) {
    const more = found[0].replace(/\d/, (digit) => String((Number(digit) % 9) + 1));
    yield [found.index, found[0], more];
  }
  for (const found of loud.matchAll(SIGNS)) yield [found.index, found[0], OTHER[found[0]]];
}

let [count, unnoticed] = [0, []];
const files = ["calc", "quantity"].flatMap((part) => readdirSync(join(assets, part)).map((name) => `${part}/${name}`));
const names = process.argv[5] ? process.argv[5].split(",") : files.filter((name) => name.startsWith("calc/"));
for (const name of names) {
  const text = readFileSync(join(assets, name), "utf8");
  for (const [index, was, is] of changes(text)) {
    count += 1;
    const copy = join(room, String(count));
    mkdirSync(copy, { recursive: true });
    cpSync(assets, copy, { recursive: true, filter: (path) => !/bench|\.css$/.test(path) });
    writeFileSync(join(copy, name), text.slice(0, index) + is + text.slice(index + was.length));
    let noticed;
    try {
      const works = await calculations(pathToFileURL(copy).href);
      noticed = vectors.some((held) => faultsOf(held, works, 1).length);
    } catch {
      noticed = true; // it does not even load
    }
    const line = text.slice(0, index).split("\n").length;
    if (!noticed)
      unnoticed.push(`${name}:${line}: ${text.split("\n")[line - 1].trim()}  (${was.trim()} to ${is.trim()})`);
  }
}
console.log([`${count} changes`, ...unnoticed].join("\n"));
