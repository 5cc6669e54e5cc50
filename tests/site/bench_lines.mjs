/**
 * Works bench aids: a JSON list of [aid, given] on standard input, numbers as exact text; a JSON list out. With
 * {"families": {...}} instead: fills aids in from families as the page does, and works them; with {"printed": [...]}: reads
 * printed words back.
 */

import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

const assets = pathToFileURL(resolve(process.argv[2])).href;
const load = (name) => import(`${assets}/${name}.js`);
const { Fraction } = await load("quantity/fraction");
const { unitOf } = await load("quantity/unit");
const { MODULES } = await load("bench/aid-modules");
const given = JSON.parse(
  await new Promise((done) => {
    let text = "";
    process.stdin.on("data", (part) => (text += part)).on("end", () => done(text));
  }),
);

/** {"exact": "1/2"} is a number, {"size": "62", "unit": "mm"} a size, anything else itself. */
const read = (value) => {
  if (Array.isArray(value)) return value.map(read);
  if (value?.exact) return Fraction.of(value.exact);
  if (value?.value?.exact) return { ...value, value: Fraction.of(value.value.exact) };
  return value?.size ? { value: Fraction.of(value.size), text: value.size, unit: unitOf(value.unit) } : value;
};
const tried = (work) => {
  try {
    return work();
  } catch (error) {
    return error.candidates
      ? { refused: error.name, message: error.message, field: error.field ?? "" }
      : { broken: String(error.stack) };
  }
};

/** Fill an aid's fields in, and read them back as the page does. */
async function filled({ pages, shared, kinds, cases, fields }) {
  const { figureChoice, compressionFields, correctionFields, figureFields, figureOfWay, engineFields, premixFields } =
    await load("bench/family-fields");
  const { readAll } = await load("bench/field-value");
  const answers = [];
  for (const { page: number, aid, figure, state, serial, held, typed } of cases) {
    const page = pages[number];
    const { work } = await import(`${assets}/bench/${MODULES.get(aid)}`);
    answers.push(
      tried(() => {
        const parts = { engine: page.engine, flywheel: page.flywheel, adjusters: page.adjusters };
        let known = engineFields(page, figure);
        let choice = null;
        if (figure) {
          choice = figureChoice(page, shared, { figure, state, serial });
          if (!choice.chosen) return { why: choice.why, ways: choice.ways.map(({ printed, when }) => [printed, when]) };
          if (figure === "premix") {
            const found = premixFields(choice.chosen);
            [known, parts.said] = [{ ...known, ...found.filled }, found.said];
          } else if (figure === "compression") {
            const found = compressionFields(choice.chosen);
            [known, parts.compression] = [{ ...known, ...found.filled }, found.held];
          } else {
            const correction = correctionFields(page, shared, serial);
            known = {
              ...known,
              kind: { raw: { text: figure }, origin: "" },
              ...figureFields(choice.chosen),
              ...(figure === "max-advance" ? correction.filled : {}),
            };
            parts.figure = figureOfWay(page, shared, choice.chosen, figure);
            parts.correction = correction.held;
          }
        }
        const raw = (name, fallback) => typed[name] ?? known[name]?.raw ?? fallback;
        const list = fields[aid].map((field) => {
          if (!field.rows) return { ...field, raw: raw(field.name, { text: field.chosen ?? "" }) };
          const rows = typed[field.name] ?? known[field.name]?.rows ?? [];
          return {
            ...field,
            rows: field.rows.map((row, place) =>
              row.fields.map((one, at) => ({ ...one, raw: rows[place]?.[at] ?? { text: "" } })),
            ),
          };
        });
        const origins = Object.fromEntries(
          Object.keys(known).map((name) => [
            name,
            known[name].origin === "the family's file" ? `file of ${page.id}` : known[name].origin,
          ]),
        );
        const answer = work({ ...readAll(list), kinds, held: held ? parts : {}, origins });
        return { ...answer, origin: choice?.chosen?.origin ?? "" };
      }),
    );
  }
  return answers;
}

const told = [];
if (given.printed) {
  const { readPrinted } = await load("bench/printed-value");
  told.push(...given.printed.map(readPrinted));
} else if (!Array.isArray(given)) told.push(...(await filled(given.families)));
else {
  for (const [aid, typed] of given) {
    const { work } = await import(`${assets}/bench/${MODULES.get(aid)}`);
    told.push(tried(() => work(Object.fromEntries(Object.entries(typed).map(([name, value]) => [name, read(value)])))));
  }
}
console.log(JSON.stringify(told));
