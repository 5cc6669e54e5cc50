// Documents stored as columns, as kb/publish/site/columns.py writes them; each can be read by itself.

/** @typedef {string|number|boolean|null|{o: string[]}|{a: string[]}|{t: (string|number)[]}|{n: number}} ColumnValue */
/** @typedef {[[string, number?, any?], number, ColumnValue[], Record<string, number>]} Node */
/** @typedef {{count: number, size: number, nodes: Node[]}} Shapes */

/**
 * Bytes decompressed with gzip; bytes that a host has decompressed already stay as they are.
 * @param {ArrayBuffer} bytes
 * @returns {Promise<Uint8Array>}
 */
export async function decompressed(bytes) {
  const raw = new Uint8Array(bytes);
  if (raw[0] !== 0x1f || raw[1] !== 0x8b) return raw;
  const stream = new Blob([raw]).stream().pipeThrough(new DecompressionStream("gzip"));
  return new Uint8Array(await new Response(stream).arrayBuffer());
}

/** The nodes of the documents and their places in a part; one layout for all parts of one kind of documents. */
export class Layout {
  /** @param {Shapes} shapes */
  constructor(shapes) {
    this.nodes = shapes.nodes;
    this.count = shapes.count;
    this.size = shapes.size;
    /** @type {number[]} */
    this.before = [];
    let bytes = 0;
    for (const [mode] of this.nodes) {
      this.before.push(bytes);
      if (mode[0] === "p" || mode[0] === "d") bytes += /** @type {number} */ (mode[1]);
    }
  }

  /**
   * The node at a path of labels: ".name", "[0", "#0"; -1 if no document has it.
   * @param {...string} labels
   */
  node(...labels) {
    let at = 0;
    for (const label of labels) {
      const next = this.nodes[at]?.[3][label];
      if (next === undefined) return -1;
      at = next;
    }
    return at;
  }

  /** The node with a number. @param {number} at */
  nodeAt(at) {
    return /** @type {Node} */ (this.nodes[at]);
  }
}

/**
 * A number of a list that is as long as the columns say; the checksum, checked before, rules out a damaged copy.
 * @param {ArrayLike<number> | Record<string, number>} list
 * @param {number | string} place
 */
export function numberAt(list, place) {
  return /** @type {number} */ (/** @type {Record<number | string, number>} */ (list)[place]);
}

/** A part: consecutive documents with all their columns. */
export class Part {
  /**
   * @param {Layout} layout
   * @param {Uint8Array} bytes
   * @param {number} first the place of the first document
   */
  constructor(layout, bytes, first) {
    this.layout = layout;
    this.bytes = bytes;
    this.first = first;
    this.count = Math.min(layout.size, layout.count - first);
    /** @type {(Uint32Array|undefined)[]} */
    this.columns = [];
  }

  /**
   * A node's column: for each document of this part the number of its value.
   * @param {number} at
   * @returns {Uint32Array}
   */
  column(at) {
    const known = this.columns[at];
    if (known) return known;
    const [mode, numeric, values] = this.layout.nodeAt(at);
    const column = new Uint32Array(this.count);
    this.columns[at] = column;
    const [way, other, more] = mode;
    if (way === "c") {
      if (numeric) column.fill(/** @type {number} */ (values[0]));
    } else if (way === "p" || way === "d") {
      const start = numberAt(this.layout.before, at) * this.count;
      const width = /** @type {number} */ (other);
      const most = width === 4 ? 0xffffffff : 2 ** (8 * width) - 1;
      for (let plane = 0; plane < width; plane++) {
        const from = start + plane * this.count;
        const shift = 8 * plane;
        for (let i = 0; i < this.count; i++)
          column[i] = numberAt(column, i) | (numberAt(this.bytes, from + i) << shift);
      }
      if (way === "d")
        for (let i = 1; i < this.count; i++) column[i] = ((numberAt(column, i) + numberAt(column, i - 1)) & most) >>> 0;
    } else {
      const source = this.column(/** @type {number} */ (other));
      for (let i = 0; i < this.count; i++) {
        const number = numberAt(source, i);
        column[i] = way === "s" ? number + more : more === undefined ? number : more[number];
      }
    }
    return column;
  }

  /**
   * The values at a node in all documents, if they are never mappings or lists.
   * @param {number} at
   * @returns {any[]}
   */
  all(at) {
    const [, numeric, values, children] = this.layout.nodeAt(at);
    const column = this.column(at);
    if (numeric) return [...column];
    const slots = Object.keys(children)
      .sort((a, b) => Number(a.slice(1)) - Number(b.slice(1)))
      .map((label) => this.column(numberAt(children, label)));
    const all = new Array(this.count);
    for (let place = 0; place < this.count; place++) {
      const value = values[numberAt(column, place)] ?? null;
      if (value === null || typeof value !== "object") all[place] = value;
      else if ("n" in value) all[place] = slots[0]?.[place];
      else if ("t" in value) all[place] = filledPattern(value.t, slots, place);
    }
    return all;
  }

  /**
   * The value at a node in one document.
   * @param {number} place the document's place in this part
   * @param {number} [at]
   * @returns {any}
   */
  read(place, at = 0) {
    const [mode, numeric, values, children] = this.layout.nodeAt(at);
    const number = mode[0] === "c" && !numeric ? 0 : numberAt(this.column(at), place);
    if (numeric) return number;
    const value = values[number] ?? null;
    if (value === null || typeof value !== "object") return value;
    if ("o" in value) {
      /** @type {Record<string, any>} */
      const made = {};
      for (const key of value.o) {
        const inner = this.read(place, children[`.${key}`]);
        if (key === "__proto__") Object.defineProperty(made, key, { value: inner, enumerable: true, writable: true });
        else made[key] = inner;
      }
      return made;
    }
    if ("a" in value) return value.a.map((label) => this.read(place, children[`[${label}`]));
    if ("n" in value) return this.read(place, children["#0"]);
    return filledPattern(
      value.t,
      value.t
        .slice(1)
        .filter((_, i) => i % 2)
        .map((_, i) => this.column(numberAt(children, `#${i}`))),
      place,
    );
  }
}

/**
 * A text made of pieces and the numbers between them.
 * @param {(string|number)[]} pieces
 * @param {Uint32Array[]} slots
 * @param {number} place
 */
export function filledPattern(pieces, slots, place) {
  let text = /** @type {string} */ (pieces[0]);
  for (let i = 1; i < pieces.length; i += 2) {
    const width = /** @type {number} */ (pieces[i]);
    let number = String(slots[(i - 1) / 2]?.[place]);
    if (number.length < width) number = number.padStart(width, "0");
    text += number + pieces[i + 1];
  }
  return text;
}
