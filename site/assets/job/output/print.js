/** Printing one element of a page alone. */

/**
 * Print an element, once everything in it is drawn.
 * @param {HTMLElement} thing
 */
export async function printAlone(thing) {
  await drawn(thing);
  document.querySelector(".print-room")?.remove();
  const room = document.createElement("div");
  room.className = "print-room";
  room.append(thing.cloneNode(true));
  document.body.append(room);
  document.body.classList.add("prints-one");
  addEventListener(
    "afterprint",
    () => {
      room.remove();
      document.body.classList.remove("prints-one");
    },
    { once: true },
  );
  print();
}

/**
 * Wait until nothing in an element is still being drawn.
 * @param {HTMLElement} thing
 */
export async function drawn(thing) {
  const busy = () => thing.querySelector("[aria-busy]") !== null;
  if (!busy()) return;
  await new Promise((resolve) => {
    const watch = new MutationObserver(() => {
      if (busy()) return;
      watch.disconnect();
      resolve(null);
    });
    watch.observe(thing, { subtree: true, attributes: true });
  });
}
