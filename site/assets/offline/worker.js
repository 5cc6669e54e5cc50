// The service worker: keeps one copy of the book on this phone and answers from it when the network does not.
// kb/publish/site/offline/phone_copy.py makes one plain script of this, its modules, and the list of what is kept.

import { decompressed } from "../columns.js";
import { COPY } from "./copy.js";
import { draw } from "./draw.js";
import { Pack } from "./pack.js";

/**
 * @typedef {{hash: string, date: string, built: string, families: number, files: Record<string, string>}} Copy
 *   `files` are the checksums by path
 */

const worker = /** @type {any} */ (self);
const NAME = `copy-${COPY.hash}`;
const SEEN = "seen";
const PATIENCE = 1500;
const REST = 10_000;
const ROOT = new URL("./", worker.location.href).href;
const ALWAYS_ASKED = ["version.json", "withdrawn.json"];
let silentUntil = 0; // after no answer, the network is not waited for until then
/** @type {Pack|null} */
let pack = null;
/** @typedef {Map<string, {type: string, bytes: Uint8Array}>} Files */
/** @type {Map<string, Promise<Files>>} */
const bundles = new Map();
/** @type {Map<string, string>} where the page of each client came from */
const answeredBy = new Map();

/** @param {any} message */
async function tell(message) {
  for (const client of await worker.clients.matchAll({ includeUncontrolled: true })) client.postMessage(message);
}

/** @param {ArrayBuffer} bytes */
async function checksum(bytes) {
  return [...new Uint8Array(await crypto.subtle.digest("SHA-256", bytes))]
    .map((byte) => byte.toString(16).padStart(2, "0"))
    .join("");
}

/** Fetch the files not here yet, each whole or not at all; an interrupted download continues. */
async function keepCopy() {
  const cache = await caches.open(NAME);
  const paths = Object.keys(COPY.files);
  let kept = 0;
  let fault = null;
  for (const path of paths) {
    try {
      if (!(await cache.match(ROOT + path))) await keepFile(cache, path);
      kept += 1;
      await tell({ copy: "fetching", kept, of: paths.length });
    } catch (error) {
      fault = /** @type {Error} */ (error);
      if (fault.name === "QuotaExceededError") break; // there is no room for the rest either
    }
  }
  if (fault) throw fault;
}

/** @param {Cache} cache @param {string} path */
async function keepFile(cache, path) {
  const answer = await fetch(ROOT + path, { cache: "reload" });
  const bytes = await answer.arrayBuffer();
  if (!answer.ok || (await checksum(bytes)) !== COPY.files[path]) throw new Error(`${path} is not what was published`);
  await cache.put(ROOT + path, new Response(bytes, { headers: { "Content-Type": "application/octet-stream" } }));
}

/** Fetch what is always asked of the network; the last answer is stored. */
async function keepSeen() {
  const cache = await caches.open(SEEN);
  for (const path of ALWAYS_ASKED) {
    const answer = await fetch(ROOT + path, { cache: "no-cache" });
    if (answer.ok) await cache.put(ROOT + path, answer);
  }
}

worker.addEventListener("install", (/** @type {any} */ event) => {
  event.waitUntil(
    keepCopy().then(
      () => worker.skipWaiting(),
      async (error) => {
        await tell({
          copy: "failed",
          full: error.name === "QuotaExceededError",
          refused: error.name === "SecurityError",
        });
        throw error;
      },
    ),
  );
});

worker.addEventListener("activate", (/** @type {any} */ event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name.startsWith("copy-") && name !== NAME) await caches.delete(name);
      await worker.clients.claim();
      await keepSeen().catch(() => undefined); // fetched again with each page
      await tell({ copy: "kept", date: COPY.date, families: COPY.families });
    })(),
  );
});

/** A file of the copy. @param {string} path */
async function kept(path) {
  const answer = await (await caches.open(NAME)).match(ROOT + path);
  if (!answer) throw new Error(`the copy has no ${path}`);
  return answer.arrayBuffer();
}

/**
 * The files of a bundle of the copy, by path: `drawing` draws families, `shell` has pages, scripts and style sheets.
 * @param {string} name
 */
function bundle(name) {
  const found = bundles.get(name) || unbundled(name);
  bundles.set(name, found);
  found.catch(() => bundles.delete(name));
  return found;
}

/** @param {string} name */
async function unbundled(name) {
  const raw = await decompressed(await kept(`offline/${name}.bin`));
  const length = new DataView(raw.buffer).getUint32(0, true);
  /** @type {Files} */
  const files = new Map();
  let at = 4 + length;
  for (const [path, type, size] of JSON.parse(new TextDecoder().decode(raw.subarray(4, at)))) {
    files.set(path, { type, bytes: raw.subarray(at, at + size) });
    at += size;
  }
  return files;
}

/** The answer of the copy for a path; null if it has none. @param {string} path */
async function fromCopy(path) {
  try {
    const family = /^families\/([^/]+\/[^/]+)\/(index\.html|page\.json|rim\.svg)?$/.exec(path);
    const drawn = family && family[2] !== "rim.svg";
    pack ||= new Pack((name) => kept(`offline/${name}`));
    const [drawing, document] = await Promise.all([
      bundle("drawing"),
      drawn ? pack.read(decodeURIComponent(family[1] ?? "")) : null,
    ]);
    const text = (/** @type {string} */ name) => new TextDecoder().decode(drawing.get(name)?.bytes);
    if (drawn) {
      if (!document) return null;
      if (family[2] === "page.json") return Response.json(document);
      const html = draw(document, text("offline/family.html"), JSON.parse(text("shared.json")));
      return new Response(html, { headers: { "Content-Type": "text/html; charset=utf-8" } });
    }
    // the template for redrawing a family is part of what the worker draws with
    if (path === "assets/family.template") return new Response(text("offline/family.html").split("\uE002")[1]);
    if (path in COPY.files)
      return new Response(await kept(path), { headers: { "Content-Type": "application/octet-stream" } });
    // instead of a drawing, a picture that says it is missing
    const name = family ? "offline/no-drawing.svg" : path === "" || path.endsWith("/") ? `${path}index.html` : path;
    const file = drawing.get(name) || (await bundle("shell")).get(name);
    return file ? new Response(/** @type {any} */ (file.bytes), { headers: { "Content-Type": file.type } }) : null;
  } catch {
    pack = null;
    return null;
  }
}

/** A page that says that a page is not here. @param {string} path */
async function notInThisCopy(path) {
  const file = (await bundle("drawing").catch(() => new Map())).get("offline/missing.html");
  const text = file
    ? new TextDecoder().decode(file.bytes)
    : "<!doctype html><title>Not in this copy</title><p>Not in this copy";
  const root = "../".repeat(path.split("/").length - 1) || "./";
  return new Response(text.replaceAll("{root}", root), {
    status: 503,
    headers: { "Content-Type": "text/html; charset=utf-8" },
  });
}

/** @param {Request} request @param {string} path @param {string} client */
async function answer(request, path, client) {
  const asked = ALWAYS_ASKED.includes(path);
  const silent = Date.now() < silentUntil;
  /** @param {Response} response @param {string} by */
  const by = (response, by) => {
    if (client) answeredBy.set(client, by);
    return response;
  };
  const held = async () => (asked ? await (await caches.open(SEEN)).match(ROOT + path) : await fromCopy(path));
  if (silent) {
    const copy = await held();
    if (copy) return by(copy, "copy");
  }
  const network = fetch(request, asked ? { cache: "no-cache" } : {});
  network.catch(() => undefined);
  const late = new Promise((resolve) => setTimeout(resolve, PATIENCE, null));
  const first = await Promise.race([network, late]).catch(() => null);
  if (first && first.status < 500) {
    silentUntil = 0;
    if (asked && first.ok) await (await caches.open(SEEN)).put(ROOT + path, first.clone()).catch(() => undefined);
    return by(first, "network");
  }
  silentUntil = Date.now() + REST;
  const copy = await held();
  if (copy) return by(copy, "copy");
  const waited = request.mode === "navigate" || asked ? null : await network.catch(() => null);
  return waited || (request.mode === "navigate" ? by(await notInThisCopy(path), "copy") : Response.error());
}

worker.addEventListener("fetch", (/** @type {any} */ event) => {
  const url = new URL(event.request.url);
  if (event.request.method !== "GET" || !url.href.startsWith(ROOT)) return;
  const path = `${url.origin}${url.pathname}`.slice(ROOT.length);
  if (path === "worker.js") return;
  event.respondWith(answer(event.request, path, event.resultingClientId));
});

worker.addEventListener("message", (/** @type {any} */ event) => {
  if (event.data === "how?") {
    event.waitUntil(
      (async () => {
        const complete = (
          await Promise.all(
            Object.keys(COPY.files).map((path) => caches.open(NAME).then((cache) => cache.match(ROOT + path))),
          )
        ).every(Boolean);
        event.source.postMessage({
          copy: complete ? "kept" : "torn",
          hash: COPY.hash,
          date: COPY.date,
          built: COPY.built,
          families: COPY.families,
          by: answeredBy.get(event.source.id) || "network",
        });
        if (!complete) await keepCopy().catch(() => undefined); // the browser deleted some of it
      })(),
    );
  }
});
