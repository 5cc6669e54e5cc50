/**
 * What the job's modules ask of a browser, without one: a document by linkedom, an address, stores, a clock that stands
 * still unless it is moved, chance from a seed. Several tabs share the stores; one of them is in front at a time.
 */

import { pathToFileURL } from "node:url";

const FRAME =
  '<!doctype html><html lang="en" data-root="../"><body><main class="job"><h1 id="job-title" tabindex="-1">Jobs</h1>' +
  '<div id="job"></div></main></body></html>';

/** The same numbers for the same seed (mulberry32). @param {number} seed */
function chance(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return (mixed ^ (mixed >>> 14)) & 0xff;
  };
}

/** A request as IndexedDB answers it: later, by a call. @param {() => any} work */
function request(work) {
  const made = { result: undefined, error: null, onsuccess: null, onerror: null, onupgradeneeded: null };
  queueMicrotask(() => {
    made.result = work();
    made.onupgradeneeded?.();
    made.onsuccess?.();
  });
  return made;
}

/** The database of the phone's entries, as much of one as the log asks for. */
class Database {
  /** @type {Map<string, any>} */
  rows = new Map();
  /** Transactions that are not finished. */
  unfinished = 0;

  open() {
    const index = { createIndex: () => undefined };
    return request(() => ({
      createObjectStore: () => index,
      close: () => undefined,
      transaction: () => this.#transaction(),
    }));
  }

  #transaction() {
    const transaction = { oncomplete: null, onabort: null, error: null, objectStore: () => this.#entries() };
    this.unfinished += 1;
    setImmediate(() => {
      this.unfinished -= 1; // by now every request of it was answered
      transaction.oncomplete?.();
    });
    return transaction;
  }

  #entries() {
    const all = () => [...this.rows.values()].map((entry) => structuredClone(entry));
    const of = (job) => [...this.rows.values()].filter((entry) => entry.job === job);
    return {
      index: () => ({
        getAll: (job) => request(() => of(job).map((entry) => structuredClone(entry))),
        getAllKeys: (job) => request(() => of(job).map(({ id }) => id)),
        count: (job) => request(() => of(job).length),
      }),
      getAll: () => request(all),
      getKey: (id) => request(() => (this.rows.has(id) ? id : undefined)),
      add: (entry) => this.rows.set(entry.id, structuredClone(entry)),
      delete: (id) => this.rows.delete(id),
    };
  }
}

/** What a page stores, in the map that is there when it asks. @param {() => Map<string, string>} kept */
const storage = (kept) => ({
  getItem: (name) => kept().get(name) ?? null,
  setItem: (name, words) => void kept().set(name, String(words)),
  removeItem: (name) => void kept().delete(name),
});

/** One tab: its document, its address, and what listens to it. */
class Tab {
  /** @type {Map<string, Function[]>} */
  listeners = new Map();
  moved = false;

  /** @param {Browser} browser @param {string} hash @param {Map<string, string>} [kept] what the tab stored until it closes */
  constructor(browser, hash, kept = new Map()) {
    this.browser = browser;
    this.kept = kept;
    this.hash = hash;
    ({ document: this.document, window: this.window } = browser.parse(FRAME));
    const tab = this;
    this.location = {
      get hash() {
        return tab.hash;
      },
      set hash(to) {
        tab.go(to);
      },
      get href() {
        return `https://phone.test/job/${tab.hash}`;
      },
      reload: () => undefined,
    };
    this.history = { replaceState: (_state, _title, to) => this.#set(to) };
  }

  /** @param {string} to */
  #set(to) {
    this.hash = to === "#" || !to ? "" : `#${to.replace(/^.*?#/, "")}`;
  }

  /** Follow an address within the page. @param {string} to */
  go(to) {
    const before = this.hash;
    this.#set(to);
    this.moved ||= this.hash !== before;
  }
}

/** A phone's browser: `seed` for its ids, `documents` by path for what it fetches. */
export class Browser {
  #waiting = [];
  #pages = 0;
  database = new Database();
  kept = new Map();
  now = Date.UTC(2026, 10, 28, 9);
  /** @type {Tab[]} */
  tabs = [];
  /** @type {Error | null} */
  wrong = null;

  /** @param {{linkedom: any, page: string}} given */
  constructor({ linkedom, page }) {
    this.parse = linkedom.parseHTML;
    this.page = pathToFileURL(page).href;
    this.documents = {};
    this.front = new Tab(this, "");
    this.#install();
    this.reset(0, {});
  }

  /** Another phone, with nothing on it. @param {number} seed @param {Record<string, any>} documents */
  reset(seed, documents) {
    this.random = chance(seed);
    this.documents = documents;
    this.database = new Database();
    this.kept = new Map();
    this.now = Date.UTC(2026, 10, 28, 9);
    this.tabs = [];
    this.channels = new Set();
    this.wrong = null;
  }

  /** Open the Jobs page in a new tab, or in the place of one: as a reload does. @param {string} hash @param {number} at */
  async open(hash, at = this.tabs.length) {
    const tab = new Tab(this, hash, this.tabs[at]?.kept);
    for (const channel of this.channels) if (channel.tab === this.tabs[at]) this.channels.delete(channel);
    this.tabs[at] = tab;
    this.front = tab;
    this.#pages += 1;
    await import(`${this.page}?${this.#pages}`);
    await this.settle();
  }

  /** Until nothing happens any more: addresses that changed, and what one tab tells the others. */
  async settle() {
    const front = this.front;
    for (let quiet = 0; ; ) {
      await new Promise((resolve) => setImmediate(resolve));
      if (this.front.moved) {
        this.front.moved = false;
        for (const listener of this.front.listeners.get("hashchange") ?? []) listener({});
        quiet = 0;
        continue;
      }
      quiet = this.database.unfinished ? 0 : quiet + 1;
      if (quiet < 2) continue;
      const told = this.#waiting.shift(); // only when the tab in front has come to rest: what is asked of the address
      if (!told) break; // and the document is asked of that tab
      this.front = told.to.tab;
      told.to.onmessage?.({ data: told.data });
      quiet = 0;
    }
    this.front = front;
    if (this.wrong) throw this.wrong;
  }

  #install() {
    const browser = this;
    const { window } = this.front;
    const put = (name, value) =>
      Object.defineProperty(globalThis, name, { value, configurable: true, writable: true });
    const get = (name, read) => Object.defineProperty(globalThis, name, { get: read, configurable: true });
    for (const name of ["HTMLElement", "HTMLInputElement", "HTMLTextAreaElement", "Node", "Event", "Element"])
      put(name, window[name]);
    for (const name of ["document", "location", "history"]) get(name, () => browser.front[name]);
    get("indexedDB", () => browser.database);
    put("localStorage", storage(() => browser.kept));
    put("sessionStorage", storage(() => browser.front.kept));
    put("addEventListener", (name, listener) => {
      const { listeners } = browser.front;
      listeners.set(name, [...(listeners.get(name) ?? []), listener]);
    });
    put("removeEventListener", () => undefined);
    put("scrollTo", () => undefined);
    put("matchMedia", () => ({ matches: false, addEventListener: () => undefined }));
    put("requestAnimationFrame", (draw) => queueMicrotask(() => draw(browser.now)));
    put("setTimeout", () => 0); // what waits for a time waits for ever: nothing here is slow
    put("setInterval", () => 0);
    put("clearTimeout", () => undefined);
    put("clearInterval", () => undefined);
    put("navigator", {});
    put("fetch", async (path) => {
      const key = String(path).replace(/^(\.\.?\/)+/, "");
      const found = Object.hasOwn(browser.documents, key);
      return { ok: found, status: found ? 200 : 404, json: async () => browser.documents[key] };
    });
    put("crypto", { getRandomValues: (bytes) => bytes.map((_, at) => (bytes[at] = browser.random())) });
    put(
      "Date",
      class extends Date {
        constructor(...given) {
          super(...(given.length ? given : [browser.now]));
        }

        static now() {
          return browser.now;
        }
      },
    );
    put(
      "BroadcastChannel",
      class {
        constructor() {
          this.tab = browser.front;
          browser.channels.add(this);
        }

        postMessage(data) {
          for (const to of browser.channels) if (to !== this) browser.#waiting.push({ to, data: structuredClone(data) });
        }
      },
    );
    lend(window);
    process.on("unhandledRejection", (error) => {
      browser.wrong = error instanceof Error ? error : new Error(String(error));
    });
  }
}

/** What linkedom lacks and the pages use. @param {any} window */
function lend({ HTMLElement, HTMLInputElement, document }) {
  for (const name of ["scrollIntoView", "focus", "blur", "showModal", "close"])
    HTMLElement.prototype[name] = () => undefined;
  const flag = (name) => ({
    get() {
      return this.hasAttribute(name);
    },
    set(on) {
      if (on) this.setAttribute(name, "");
      else this.removeAttribute(name);
    },
    configurable: true,
  });
  Object.defineProperty(Object.getPrototypeOf(document.createElement("details")), "open", flag("open"));
  Object.defineProperty(HTMLInputElement.prototype, "checked", flag("checked"));
}
