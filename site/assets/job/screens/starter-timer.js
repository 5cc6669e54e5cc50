/**
 * The timer of the starter: ten seconds of cranking, two minutes of rest. It counts from stored times, not ticks, so a
 * locked phone or a reloaded page does not shorten the rest.
 */

import { element } from "../../dom.js";
import { recall, remember } from "../../phone-storage.js";
import { State } from "../../vocabulary.js";
import { key } from "../controls.js";

export const CRANK = 10;
export const REST = 120;

/**
 * When cranking began and when it stopped, in milliseconds; 0 if it did not.
 * @typedef {{began: number, ended: number}} Starter
 */
/** @typedef {{phase: "ready" | "cranking" | "resting", left: number}} StarterState `left` in whole seconds, rounded up */

const KEY = "stopscrew-starter:";
/** Under which the phone keeps that an engine starts by a rope. */
const ROPE = "stopscrew-rope:";
/** For this page alone, if the phone stores nothing. @type {Map<string, boolean>} */
const ropes = new Map();
/** For this page alone, if the phone stores nothing. @type {Map<string, Starter>} */
const unkept = new Map();
/** The phase last announced for each job, so that each change is announced once. @type {Map<string, string>} */
const told = new Map();
/** @type {AudioContext | null} */
let sound = null;

/**
 * The state of the starter at a time. If the clock was put back, the rest is at most a full one.
 * @param {Starter} starter
 * @param {number} now
 * @returns {StarterState}
 */
function starterAt({ began, ended }, now) {
  if (!began) return { phase: "ready", left: 0 };
  const since = (/** @type {number} */ then) => Math.max(0, now - then) / 1000;
  const stopped = ended || (since(began) >= CRANK ? began + CRANK * 1000 : 0);
  if (!stopped) return { phase: "cranking", left: Math.ceil(CRANK - since(began)) };
  const left = Math.ceil(REST - since(stopped));
  return left > 0 ? { phase: "resting", left } : { phase: "ready", left: 0 };
}

/** @param {string} job @returns {Starter} */
function kept(job) {
  try {
    const [began = 0, ended = 0] = JSON.parse(recall(KEY + job) || "[]");
    if (Number.isFinite(began) && Number.isFinite(ended) && began) return { began, ended };
  } catch {
    // Damaged: what this page knows counts.
  }
  return unkept.get(job) ?? { began: 0, ended: 0 };
}

/** @param {string} job @param {Starter} starter */
function keep(job, starter) {
  unkept.set(job, starter);
  remember(KEY + job, JSON.stringify([starter.began, starter.ended]));
}

/** `1:05`, or `9` below a minute. @param {number} seconds */
const clockWords = (seconds) =>
  seconds < 60 ? String(seconds) : `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;

/** A tone and a vibration, where they are allowed. @param {number} pitch @param {number[]} shake */
function signal(pitch, shake) {
  navigator.vibrate?.(shake);
  if (!sound) return;
  const [tone, loud] = [sound.createOscillator(), sound.createGain()];
  tone.frequency.value = pitch;
  loud.gain.value = 0.4;
  tone.connect(loud).connect(sound.destination);
  tone.start();
  tone.stop(sound.currentTime + 0.7);
}

/** Browsers allow sound only after a tap. */
function wakeSound() {
  try {
    sound ??= new AudioContext();
    void sound.resume();
  } catch {
    sound = null;
  }
}

/**
 * The timer of a job's starter, for a step where the engine is cranked.
 * @param {string} job
 * @param {(words: string) => void} say
 * @param {string} shut why it must not be cranked yet; empty if it may
 */
export function starterTimer(job, say, shut) {
  const place = element("div", {});
  const draw = () => {
    const byRope = ropes.get(job) ?? recall(ROPE + job) !== "";
    const swap = () => {
      ropes.set(job, !byRope);
      remember(ROPE + job, byRope ? "" : "rope");
      draw();
    };
    place.replaceChildren(byRope ? ropeLine(shut, swap) : timerLine(job, say, shut, swap));
  };
  draw();
  return place;
}

/** Of three pulls the earliest counts; nothing gets hot. @param {string} shut @param {() => void} swap */
const ropeLine = (shut, swap) =>
  element(
    "section",
    { class: "starter", "aria-label": "Starter" },
    element("p", { class: "count" }, "3"),
    element(
      "p",
      { class: "starter-words" },
      shut ? `Do not pull yet: ${shut}` : "pulls of the rope, the same way each time: the earliest reading counts",
    ),
    key("Starter", swap, { id: "electric-starter", "aria-label": "It has an electric starter" }),
  );

/**
 * @param {string} job
 * @param {(words: string) => void} say
 * @param {string} shut
 * @param {() => void} swap
 */
function timerLine(job, say, shut, swap) {
  const big = element("p", { class: "count", role: "timer", "aria-live": "off" });
  const words = element("p", { class: "starter-words" });
  const press = key(
    "",
    () => {
      const now = Date.now();
      const { phase, left } = starterAt(kept(job), now);
      if (shut && phase === "ready") {
        refused.textContent = `Do not crank yet: ${shut}.`;
        return;
      }
      if (phase === "resting") {
        const more = `${clockWords(left)} ${left < 60 ? "seconds" : "minutes"} more`;
        refused.textContent = `The starter is still hot: let it rest ${more}. Do not crank.`;
        return;
      }
      wakeSound();
      keep(job, phase === "cranking" ? { ...kept(job), ended: now } : { began: now, ended: 0 });
      show();
    },
    { class: "main-key", id: "starter" },
  );
  const refused = element("p", { class: "refused", role: "alert" });
  const home = element(
    "section",
    { class: "starter", "aria-label": "Starter" },
    big,
    words,
    press,
    key("Rope", swap, { id: "rope", "aria-label": "It starts by a rope" }),
    refused,
  );

  const show = () => {
    const { phase, left } = starterAt(kept(job), Date.now());
    home.dataset["phase"] = phase;
    big.textContent = phase === "ready" ? `${CRANK} s` : clockWords(left);
    words.textContent =
      phase === "cranking" ? "seconds left" : phase === "resting" ? "STOP. Let the starter rest" : "then 2 min rest";
    press.textContent = phase === "cranking" ? "Stopped" : "Crank now";
    press.setAttribute("aria-disabled", String(phase === "resting" || (Boolean(shut) && phase === "ready")));
    const before = told.get(job) ?? phase;
    told.set(job, phase);
    if (before === phase) return;
    refused.textContent = "";
    if (phase === "cranking") say("Crank");
    else if (phase === "resting") {
      signal(880, [600, 150, 600]);
      say("Stop. The starter rests for two minutes");
    } else {
      signal(440, [200]);
      say("The starter has rested");
    }
  };
  const ticking = setInterval(() => {
    if (home.isConnected) show();
    else clearInterval(ticking);
  }, 200);
  show();
  return home;
}

/**
 * Whether the engine is cranked at a step: its text or a line of its gate says so, or a figure of it is read
 * only while cranking.
 * @param {import("../../book/job.js").JobStep} step
 * @param {Readonly<Record<string, any>>} kinds of figures, by id
 */
export function isCranked(step, kinds) {
  const onlyCranked = (/** @type {string} */ figure) =>
    kinds[figure]?.["states"].length === 1 && kinds[figure]["states"][0] === State.CRANKING;
  return (
    /\bcrank(s|ing)?\b/i.test(step.do) ||
    step.cautions.includes("starter-rest") ||
    step.figures.some(onlyCranked) ||
    step.gate.some((line) => /\bcranking\b/.test(line))
  );
}
