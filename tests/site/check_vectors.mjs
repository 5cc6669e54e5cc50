/** Usage: node check_vectors.mjs <site/assets> <schema/vectors>; exits 1 and tells each fault if there is one. */

import { readdirSync, readFileSync } from "node:fs";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";
import { calculations, faultsOf } from "./vectors.mjs";

const [assets, folder] = process.argv.slice(2).map((path) => resolve(path));
const works = await calculations(pathToFileURL(assets).href);
let [rows, faults] = [0, []];
const names = readdirSync(folder).filter((name) => name.endsWith(".json") && name !== "schema.json");
for (const name of names) {
  const held = JSON.parse(readFileSync(resolve(folder, name), "utf8"));
  rows += held.rows.length;
  faults = faults.concat(faultsOf(held, works));
}
for (const name of Object.keys(works)) {
  if (!names.includes(`${name}.json`)) faults.push(`${name}: there are no vectors`);
}
console.log(faults.length ? faults.join("\n") : `${names.length} files, ${rows} rows`);
process.exit(faults.length ? 1 : 0);
