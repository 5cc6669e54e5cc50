// A small finding box at the foot of a page; its scripts are fetched when it is opened.

const home = document.createElement("div");
const box = document.createElement("details");
const summary = document.createElement("summary");
home.id = "find-again";
home.dataset["finding"] = "";
home.dataset["root"] = document.documentElement.dataset["root"] || "";
summary.textContent = "Find another engine";
box.className = "find-again";
box.append(summary, home);
const main = document.querySelector("main") || document.body;
main.append(box);
new MutationObserver(() => box.isConnected || main.append(box)).observe(main, { childList: true }); // redrawn after a choice
box.addEventListener(
  "toggle",
  () => {
    const look = document.createElement("link");
    look.rel = "stylesheet";
    look.href = new URL("../finding.css", import.meta.url).href;
    look.onload = look.onerror = () => void import("./finding-box.js"); // which finds it in the page
    document.head.append(look);
  },
  { once: true },
);
