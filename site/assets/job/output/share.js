/**
 * Giving words or a file to someone else: by the phone's own sharing where there is one, else by copying or as a download.
 * Every way out is told in words; nothing is ever said to be done that was not.
 */

/**
 * What came of it: `shared`, `copied`, `saved`, `left` (closed by hand, nothing happened) or `failed`; and in words.
 * @typedef {{came: "shared" | "copied" | "saved" | "left" | "failed", words: string}} Came
 */

const CLOSED = /** @type {Came} */ ({ came: "left", words: "Not shared: it was closed." });

/**
 * Share words; where that is not to be had, copy them.
 * @param {string} title
 * @param {string} text
 * @returns {Promise<Came>}
 */
export async function shareText(title, text) {
  return (await offered({ title, text })) ?? copyText(text);
}

/**
 * Share a file; where that is not to be had, save it.
 * @param {string} name
 * @param {string} text
 * @param {string} type such as `application/json`
 * @returns {Promise<Came>}
 */
export async function shareFile(name, text, type) {
  const file = new File([text], name, { type });
  return (await offered({ title: name, files: [file] })) ?? download(name, text, type);
}

/**
 * What came of the phone's own sharing; nothing where there is none, or it does not take this.
 * @param {ShareData} what
 * @returns {Promise<Came | null>}
 */
async function offered(what) {
  // A share without canShare takes words, and says nothing of files.
  const takes = navigator.canShare ? navigator.canShare(what) : !what.files;
  if (!navigator.share || !takes) return null;
  try {
    await navigator.share(what);
    return { came: "shared", words: "Shared." };
  } catch (error) {
    // Whatever else it is, refused or not supported after all, there is still another way.
    return error instanceof DOMException && error.name === "AbortError" ? CLOSED : null;
  }
}

/**
 * Copy words, to be pasted elsewhere.
 * @param {string} text
 * @returns {Promise<Came>}
 */
export async function copyText(text) {
  try {
    await navigator.clipboard.writeText(text); // there is none where the page is not served securely
    return { came: "copied", words: "Copied. Paste it where you want it." };
  } catch {
    return copiedByHand(text)
      ? { came: "copied", words: "Copied. Paste it where you want it." }
      : {
          came: "failed",
          words: "This browser does not let it be copied: mark the words with your finger and copy them.",
        };
  }
}

/** The older way: mark the words in a field, and ask for the copy. @param {string} text */
function copiedByHand(text) {
  const before = document.activeElement;
  const field = document.createElement("textarea");
  field.value = text;
  field.readOnly = true;
  field.className = "copy-field";
  document.body.append(field);
  field.select();
  let done = false;
  try {
    done = document.execCommand("copy");
  } catch {
    done = false;
  }
  field.remove();
  if (before instanceof HTMLElement) before.focus({ preventScroll: true });
  return done;
}

/**
 * Save a file where this browser puts what it fetches.
 * @param {string} name
 * @param {string} text
 * @param {string} type
 * @returns {Came}
 */
export function download(name, text, type) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60_000); // some browsers fetch it only a little later
  return { came: "saved", words: `Saved as ${name}; look for it under downloads.` };
}
