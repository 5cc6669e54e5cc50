/** What the report of a job says of an angle: whether it is true, what it was reckoned by, and what it was read with. */

import { exactly } from "../../bench/aids/wording.js";
import { meanDeadCentre } from "../../calc/dead-centre.js";
import { Fraction } from "../../quantity/fraction.js";
import { plain } from "../../quantity/spoken.js";
import { AngleRead, Instrument, State } from "../../vocabulary.js";
import { isAngle, isReadByPointer, sidedValue } from "../log/report-value.js";

/** @typedef {Readonly<Record<string, any>>} Document */
/** @typedef {import("../log/record.js").JobReading} JobReading */

/**
 * The keys of a reading in a report that say how an angle was read; none for any other reading. An angle by a pointer that
 * nobody checked is as it was shown.
 * @param {JobReading} reading with its value as it was read
 * @returns {Document}
 */
export function angleKeys(reading) {
  const { value, pointer, stops } = reading;
  if (!isAngle(value)) return {};
  if (!isReadByPointer(value)) return { reads: AngleRead.TRUE_ANGLE, instrument: Instrument.DEPTH_GAUGE };
  const instrument = instrumentOf(reading);
  if (pointer === null) return { reads: AngleRead.AS_SHOWN, ...instrument };
  const off = Fraction.of(pointer);
  return {
    reads: AngleRead.TRUE_ANGLE,
    ...(off.sign() ? shownKeys(value) : {}),
    dead_centre: sidedValue(off, 9),
    ...uncertaintyKeys(stops),
    ...instrument,
  };
}

/** While the engine turns only a light shows the spark; what was used at rest is not asked. @param {JobReading} reading */
const instrumentOf = ({ state }) =>
  state === State.CRANKING || state === State.RUNNING ? { instrument: Instrument.TIMING_LIGHT } : {};

/** What was shown, if it was one number. @param {Document} value */
const shownKeys = (value) =>
  "from" in value || Object.values(value).some((said) => Array.isArray(said)) ? {} : { shown: value };

/** The expanded uncertainty of a dead-centre reading that came from two contacts. @param {JobReading["stops"]} stops */
function uncertaintyKeys(stops) {
  const [first, second] = (stops ?? []).map(Number);
  if (first === undefined || second === undefined || first === second) return {};
  const { expanded } = meanDeadCentre([[first, second]]);
  return { dead_centre_uncertainty: { deg: plain(exactly(expanded), 2) } };
}
