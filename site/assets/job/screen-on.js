/** Keeps the screen on while a job is in sight, where the browser can: nobody wakes a phone with a hand on the screw. */

export class ScreenOn {
  #wanted = false;
  #asking = false;
  /** @type {WakeLockSentinel | null} */
  #lock = null;

  constructor() {
    document.addEventListener("visibilitychange", () => void this.#settle()); // out of sight the browser takes it away
  }

  /** Whether a job is in sight. @param {boolean} wanted */
  async want(wanted) {
    this.#wanted = wanted;
    await this.#settle();
  }

  /** Take the lock, or give it back. A browser without one, or that refuses it, lets the screen go dark as ever. */
  async #settle() {
    if (this.#asking) return;
    this.#asking = true;
    try {
      if (!this.#wanted) {
        const lock = this.#lock;
        this.#lock = null;
        await lock?.release();
      } else if (!this.#isHeld() && !document.hidden)
        this.#lock = (await navigator.wakeLock?.request("screen")) ?? null;
    } catch {
      this.#lock = null; // a low battery, say; asked again when the page is next seen
    } finally {
      this.#asking = false;
    }
    if (!this.#wanted && this.#isHeld()) await this.#settle(); // left while it was asked for
  }

  #isHeld() {
    return this.#lock !== null && !this.#lock.released;
  }
}
