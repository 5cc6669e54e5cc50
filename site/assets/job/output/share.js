/**
 * Sharing text or a file: by the phone's share sheet if there is one, else by copying or as a download. The result is
 * reported in words, and never claims what was not done.
 */

/**
 * The result: `shared`, `copied`, `saved`, `left` (cancelled) or `failed`; and in words.
 * @typedef {{came: "shared" | "copied" | "saved" | "left" | "failed", words: string}} ShareResult
 */

const CLOSED = /** @type {ShareResult} */ ({ came: "left", words: "Not shared: sharing was cancelled." });

/**
 * Share a text; copy it if sharing is not available.
 * @param {string} title
 * @param {string} text
 * @returns {Promise<ShareResult>}
 */
export async function shareText(title, text) {
  return (await offered({ title, text })) ?? copyText(text);
}

/**
 * Share a file; download it if sharing is not available.
 * @param {string} name
 * @param {string} text
 * @param {string} type such as `application/json`
 * @returns {Promise<ShareResult>}
 */
export async function shareFile(name, text, type) {
  const file = new File([text], name, { type });
  return (await offered({ title: name, files: [file] })) ?? download(name, text, type);
}

/**
 * The result of the phone's share sheet; null if there is none, or it does not take this.
 * @param {ShareData} what
 * @returns {Promise<ShareResult | null>}
 */
async function offered(what) {
  // Without canShare, text can be shared, and files are not known to work.
  const takes = navigator.canShare ? navigator.canShare(what) : !what.files;
  if (!navigator.share || !takes) return null;
  try {
    await navigator.share(what);
    return { came: "shared", words: "Shared." };
  } catch (error) {
    // For any other error, refused or not supported after all, there is another way.
    return error instanceof DOMException && error.name === "AbortError" ? CLOSED : null;
  }
}

/**
 * Copy a text to the clipboard.
 * @param {string} text
 * @returns {Promise<ShareResult>}
 */
export async function copyText(text) {
  try {
    await navigator.clipboard.writeText(text); // insecure pages have no clipboard
    return { came: "copied", words: "Copied. Paste it where you want it." };
  } catch {
    return copiedByHand(text)
      ? { came: "copied", words: "Copied. Paste it where you want it." }
      : {
          came: "failed",
          words: "This browser does not allow copying from here: select the text and copy it.",
        };
  }
}

/** The older way: select the text in a field and copy it. @param {string} text */
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
 * Download a file.
 * @param {string} name
 * @param {string} text
 * @param {string} type
 * @returns {ShareResult}
 */
export function download(name, text, type) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60_000); // some browsers start the download a little later
  return { came: "saved", words: `Saved as ${name}; look for it under downloads.` };
}
