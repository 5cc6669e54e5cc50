// A small finding box at the foot of any page; what it needs is fetched when it is opened.

const home = document.createElement("div"), box = document.createElement("details");
const summary = document.createElement("summary");
home.id = "find-again";
home.dataset.finding = "";
home.dataset.root = document.documentElement.dataset.root || "";
summary.textContent = "Find another engine";
box.className = "find-again";
box.append(summary, home);
(document.querySelector("main") || document.body).append(box);
box.addEventListener("toggle", () => import("./start.js"), { once: true });
