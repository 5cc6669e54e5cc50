// The line that says what this phone has for when there is no signal; and figures withdrawn since the copy was made.
// Its room on the page is reserved, so that nothing moves under a thumb when its words come.

const root = document.documentElement.dataset["root"] || "./";
const base = new URL(root, location.href).href;
let said = "";
/** @type {any} */
let withdrawn = null;

/** @param {string} text */
function say(text) {
  const line = document.getElementById("copy-state");
  said = text;
  if (!line || !text || line.textContent === text) return;
  line.textContent = text;
}

/** @param {string} path */
async function asked(path) {
  try {
    const answer = await fetch(base + path, { cache: "no-cache" });
    return answer.ok ? await answer.json() : null;
  } catch {
    return null;
  }
}

/** @param {string} then */
function ago(then) {
  const days = Math.max(0, Math.floor((Date.now() - Date.parse(then)) / 86_400_000));
  return days === 0 ? "of today" : days === 1 ? "one day old" : `${days} days old`;
}

/** Mark withdrawn figures, on pages older than the withdrawal too. */
function showWithdrawn() {
  const family = /families\/([^/]+\/[^/]+)\/(?:index\.html)?$/.exec(decodeURIComponent(location.pathname))?.[1];
  for (const entry of withdrawn?.withdrawn || []) {
    if (entry.family !== family) continue;
    // A newer page has it among its sources.
    if ([...document.querySelectorAll(".cited")].some((cited) => cited.textContent?.includes(entry.because))) continue;
    const place = document.getElementById(entry.figure) || document.querySelector("main") || document.body;
    const note = document.createElement("p");
    note.className = "withdrawn-since";
    note.setAttribute("role", "alert");
    note.textContent = `Withdrawn since ${entry.since}, do not use: ${entry.told}. ${entry.because}`;
    if (![...document.querySelectorAll(".withdrawn-since")].some((one) => one.textContent === note.textContent))
      place.prepend(note);
  }
}

/** @param {any} state the message of the worker */
async function showState(state) {
  if (state.copy === "fetching")
    return say(`Fetching a copy for when there is no signal: ${state.kept} of ${state.of}`);
  if (state.copy === "failed") {
    return say(
      state.full
        ? "No room on this phone for a copy: without a signal only open pages work. What you noted is safe."
        : state.refused
          ? "This browser does not store a copy, as in a private window: without a signal only open pages work."
          : "The copy for when there is no signal is not complete; it continues at the next visit.",
    );
  }
  if (state.copy === "torn") return say("Part of the copy on this phone is missing; it is being fetched again.");
  const published = await asked("version.json");
  const older = published && state.hash && published.hash !== state.hash;
  const copy = `the copy on this phone, data of ${state.date}, ${ago(state.built || state.date)}`;
  if (state.by === "copy") say(`From ${copy}${older ? `; a newer one of ${published.date} is published` : ""}`);
  else if (older) say(`Out of date: ${copy}; that of ${published.date} is being fetched`);
  else say(`All ${state.families} families are on this phone, for when there is no signal`);
  return undefined;
}

/** A page redrawn after a choice shows the line again. */
function start() {
  const main = document.querySelector("main");
  const again = () => {
    say(said);
    showWithdrawn();
  };
  if (main) new MutationObserver(again).observe(main, { childList: true });
  asked("withdrawn.json").then((list) => {
    withdrawn = list;
    showWithdrawn();
  });
  return keep();
}

async function keep() {
  const workers = navigator.serviceWorker;
  if (!workers) {
    return say(
      isSecureContext
        ? "This browser cannot store a copy, as in a private window: without a signal only open pages work."
        : "A copy for when there is no signal needs an address that begins with https.",
    );
  }
  workers.addEventListener("message", (event) => showState(event.data));
  workers.controller?.postMessage("how?");
  try {
    const registration = await workers.register(`${base}worker.js`, { scope: base, updateViaCache: "none" });
    registration.addEventListener("updatefound", () => {
      const found = registration.installing;
      found?.addEventListener("statechange", () => {
        if (found.state === "redundant" && !registration.active)
          say(
            said.startsWith("Fetching")
              ? "The copy for when there is no signal is not complete; it continues at the next visit."
              : said,
          );
      });
    });
    if (!workers.controller) registration.active?.postMessage("how?");
    registration.update().catch(() => undefined); // there is no signal
  } catch (error) {
    if (!workers.controller)
      say(
        `This browser does not store a copy (${/** @type {Error} */ (error).name}): without a signal only open pages work.`,
      );
  }
  return undefined;
}

start();
