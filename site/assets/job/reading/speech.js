/** Reading aloud and speech recognition, where the browser has them; whether to read aloud is stored on this phone. */

import { recall, remember } from "../../phone-storage.js";
import { key } from "../controls.js";

const READ_ALOUD = "stopscrew-aloud";

/** Whether the browser can speak. */
export const canSpeak = () => typeof speechSynthesis !== "undefined" && typeof SpeechSynthesisUtterance !== "undefined";

/** Whether reading aloud is on. */
export const readsAloud = () => recall(READ_ALOUD) === "on";

/** @param {boolean} on @returns {boolean} whether the choice is stored */
export const setReadAloud = (on) => remember(READ_ALOUD, on ? "on" : "off");

/** Read words aloud, cutting off what is being read. @param {string} words */
export function speak(words) {
  if (!canSpeak() || !words) return;
  speechSynthesis.cancel();
  // Voices leave out signs and spell abbreviations.
  const said = words
    .replaceAll("°", " degrees")
    .replace(/\bBTDC\b/g, "before top dead centre")
    .replace(/\bATDC\b/g, "after top dead centre")
    .replace(/\bTDC\b/g, "top dead centre");
  const utterance = new SpeechSynthesisUtterance(said);
  utterance.lang = "en";
  speechSynthesis.speak(utterance);
}

/** The browser's speech recognition, under either of its names. @returns {any} */
const ear = () =>
  /** @type {any} */ (globalThis)["SpeechRecognition"] ?? /** @type {any} */ (globalThis)["webkitSpeechRecognition"];

/**
 * A key that listens once. What is heard only fills the box; noting it takes another key.
 * @param {string} words
 * @param {(heard: string) => unknown} hear
 * @returns {HTMLElement | null} null if the browser has no speech recognition
 */
export function listenKey(words, hear) {
  const Recognition = ear();
  if (typeof Recognition !== "function") return null;
  const made = key(
    words,
    () => {
      const recognition = new Recognition();
      Object.assign(recognition, { lang: "en", interimResults: false, maxAlternatives: 1 });
      recognition.onresult = (/** @type {any} */ event) => void hear(String(event.results?.[0]?.[0]?.transcript ?? ""));
      const stop = (/** @type {any} */ event) => {
        made.textContent = event?.error ? `${words} (not heard: ${event.error}; type it)` : words;
        made.setAttribute("aria-pressed", "false");
      };
      recognition.onerror = stop;
      recognition.onend = () => made.getAttribute("aria-pressed") === "true" && stop(null);
      made.textContent = "Listening …";
      made.setAttribute("aria-pressed", "true");
      recognition.start();
    },
    { class: "listen", "aria-pressed": "false", id: "listen" },
  );
  return made;
}
