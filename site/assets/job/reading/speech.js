/** Reading aloud and listening, where the browser can: off until it is wanted, and the wish is kept on this phone. */

import { recall, remember } from "../../phone-storage.js";
import { key } from "../controls.js";

const WISH = "stopscrew-aloud";

/** Whether the browser can speak at all. */
export const canSpeak = () => typeof speechSynthesis !== "undefined" && typeof SpeechSynthesisUtterance !== "undefined";

/** Whether it is wanted on this phone. */
export const wished = () => recall(WISH) === "on";

/** @param {boolean} on @returns {boolean} whether the wish outlives this page */
export const wish = (on) => remember(WISH, on ? "on" : "off");

/** Say it now, in the place of what is being said. @param {string} words */
export function speak(words) {
  if (!canSpeak() || !words) return;
  speechSynthesis.cancel();
  // A voice swallows signs: say them.
  const said = words
    .replaceAll("°", " degrees")
    .replace(/\bBTDC\b/g, "before top dead centre")
    .replace(/\bATDC\b/g, "after top dead centre")
    .replace(/\bTDC\b/g, "top dead centre");
  const utterance = new SpeechSynthesisUtterance(said);
  utterance.lang = "en";
  speechSynthesis.speak(utterance);
}

/** The browser's ear, under either of its names. @returns {any} */
const ear = () =>
  /** @type {any} */ (globalThis)["SpeechRecognition"] ?? /** @type {any} */ (globalThis)["webkitSpeechRecognition"];

/**
 * A key that listens once. What is heard is only put into the box: the hand still notes it.
 * @param {string} words
 * @param {(heard: string) => unknown} hear
 * @returns {HTMLElement | null} nothing where the browser has no ear
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
