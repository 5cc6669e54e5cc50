// The pack of page documents on a phone, as kb/publish/site/offline/pack.py writes it.

import { decompressed, Layout, Part } from "../columns.js";

export class Pack {
  /** @param {(path: string) => Promise<ArrayBuffer>} get returns a file of the pack by its name */
  constructor(get) {
    this.get = get;
    /** @type {Promise<{firsts: string[], layout: Layout}>|null} */
    this.opened = null;
    /** @type {Map<number, Promise<Part>>} */
    this.parts = new Map();
  }

  async open() {
    this.opened ||= (async () => {
      const [firsts, shapes] = JSON.parse(new TextDecoder().decode(await decompressed(await this.get("shapes.bin"))));
      return { firsts, layout: new Layout(shapes) };
    })();
    return this.opened;
  }

  /** The number of families. */
  async count() {
    return (await this.open()).layout.count;
  }

  /** @param {number} number */
  async part(number) {
    const { layout } = await this.open();
    const known = this.parts.get(number);
    if (known) return known;
    const part = (async () =>
      new Part(layout, await decompressed(await this.get(`part-${number}.bin`)), number * layout.size))();
    this.parts.clear(); // one at a time is enough, and phones have little memory
    this.parts.set(number, part);
    return part;
  }

  /**
   * The page document of a family; null if there is no such family.
   * @param {string} family
   */
  async read(family) {
    const { firsts, layout } = await this.open();
    const node = layout.node(".id");
    let number = firsts.length - 1;
    while (number >= 0 && comesBefore(family, firsts[number] ?? "")) number--;
    if (number < 0) return null;
    const part = await this.part(number);
    let low = 0;
    let high = part.count - 1;
    while (low <= high) {
      const middle = (low + high) >> 1;
      const id = part.read(middle, node);
      if (id === family) return part.read(middle);
      if (comesBefore(id, family)) low = middle + 1;
      else high = middle - 1;
    }
    return null;
  }
}

/**
 * Whether an id comes before another in the order of Python, which is that of code points; ids are plain letters.
 * @param {string} one
 * @param {string} other
 */
const comesBefore = (one, other) => one < other;
