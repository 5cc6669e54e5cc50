/** The shared check vectors, worked by the site's own calculations: under Node and in a browser alike. */

const NAMES = [
  "breaker",
  "compression",
  "correction",
  "coverage",
  "crank",
  "cylinders",
  "dead-centre",
  "offset",
  "plates",
  "plug-hole",
  "premix",
  "readings",
  "rim",
  "screw",
  "speed",
  "target",
];

/** Every calculation under its vectors' name, from an import of the modules of `assets`. */
export async function calculations(assets) {
  const load = (path) => import(`${assets}/${path}.js`);
  const modules = await Promise.all(NAMES.map((name) => load(`calc/${name}`)));
  const calc = Object.assign({}, ...modules);
  const { Fraction } = await load("quantity/fraction");
  const { unitOf } = await load("quantity/unit");
  const exact = (text) => (text === null ? null : Fraction.of(text));
  const ended = (freedom) => (freedom === Infinity ? null : freedom);
  const endless = (freedom) => (freedom === null ? Infinity : freedom);
  return {
    "between-marks": (g) => calc.betweenMarks(g.distance, g.first, g.second),
    "breaker-gap-timing": (g) => ({ timing: calc.timingAtGap(g.readings, g.gap) }),
    "combined-uncertainty": (g) => {
      const { standard, freedom } = calc.combine(g.parts.map(([part, free]) => [part, endless(free)]));
      return { standard, freedom: ended(freedom) };
    },
    "compression-spread": (g) => {
      const { lowest, highest, mean, ofHighest, ofMean, ofLowest } = calc.apart(g.readings);
      return { lowest, highest, mean, of_highest: ofHighest, of_mean: ofMean, of_lowest: ofLowest };
    },
    correction: (g) => ({
      correction: calc
        .correctionAt(
          g.points.map((point) => point.map(exact)),
          exact(g.rpm),
        )
        .toString(),
    }),
    "coverage-factor": (g) => ({ factor: calc.coverageFactor(g.probability, endless(g.freedom)) }),
    "cranking-from-running": (g) => ({
      cranking: calc.crankingFromRunning(exact(g.angle), exact(g.correction)).toString(),
    }),
    "dead-centre": (g) => calc.deadCentre(g.first, g.second, g.first_uncertainty, g.second_uncertainty),
    "degrees-per-length": (g) => ({ slope: calc.degreesPerLength(g.position, g.throw, g.rod) }),
    "delay-between": (g) => ({ seconds: calc.delayBetween(g.degrees_lost, g.slow_rpm, g.fast_rpm) }),
    "delay-degrees": (g) => ({ angle: calc.degreesOfDelay(g.seconds, g.rpm) }),
    "firing-angles": (g) => ({
      angles: Object.fromEntries(calc.firingAngles(g.order, g.even_fire, g.four_stroke)),
    }),
    "first-contact": (g) => {
      const [openAt, shutAt] = calc.firstContact(g.readings);
      return { open_at: openAt, shut_at: shutAt };
    },
    "frequency-from-rpm": (g) => ({ frequency: calc.frequencyFromRpm(g.rpm, g.pulses_per_turn) }),
    "indicated-angle": (g) => ({ indicated: calc.indicatedAngle(g.true, g.dead_centre_reading) }),
    "indicated-target": (g) => ({
      indicated: calc
        .indicatedTarget(exact(g.limit), exact(g.dead_centre_reading), exact(g.margin), exact(g.step))
        .toString(),
    }),
    judging: (g) => {
      const ends = [g.reading, g.low, g.high, g.late_allowance, g.early_allowance].map(exact);
      const { off, degrees } = calc.judgeReading(...ends);
      return { off, degrees: degrees.toString() };
    },
    "lever-angle": (g) => ({ angle: calc.leverAngle(g.arm, g.other, g.rod) }),
    "lever-moved": (g) => ({
      angle: calc.leverMoved(g.arm, g.other, g.rod, g.pitch, g.turns, g.left_and_right),
    }),
    line: (g) => {
      const line = calc.fitLine(g.points);
      const uncertainty = line.count > 2 ? calc.uncertaintyAt(line, g.at) : null;
      return { intercept: line.intercept, slope: line.slope, value: calc.lineAt(line, g.at), uncertainty };
    },
    "mean-angle": (g) => ({ mean: calc.meanAngle(g.angles) }),
    "nearest-mark": (g) => calc.fromNearestMark(g.angle, g.marks, g.division),
    "next-turn": (g) => {
      const { turns, to, slope, fromOneSide } = calc.nextTurn(g.settings, g.target, g.known_sign);
      return { turns, to, slope, from_one_side: fromOneSide };
    },
    "offset-bias": (g) => ({ bias: calc.offsetBias(g.offset, g.position, g.throw, g.rod) }),
    "offset-dead-centres": (g) => calc.deadCentres(g.throw, g.rod, g.offset),
    "offset-piston-angles": (g) => {
      const [near, far] = calc.offsetCrankDegrees(g.position, g.throw, g.rod, g.offset);
      return { near_side: near, far_side: far };
    },
    "offset-piston-position": (g) => ({
      position: calc.offsetPistonPosition(g.angle, g.throw, g.rod, g.offset),
    }),
    "on-marks-of-the-first": (g) => ({
      shown: calc.onMarksOfTheFirst(g.angle, g.cylinder, g.order, g.even_fire, g.four_stroke),
    }),
    "piston-angle": (g) => ({ angle: calc.crankDegrees(g.position, g.throw, g.rod) }),
    "piston-position": (g) => ({ position: calc.pistonPosition(g.angle, g.throw, g.rod) }),
    "piston-speed": (g) => ({ speed: calc.pistonSpeed(g.angle, g.throw, g.rod, g.rpm) }),
    "plate-air-ratio": (g) => ({ ratio: calc.airRatio(g.angle, g.other, g.closed_angle, g.shaft_ratio) }),
    "plate-angle": (g) => ({ angle: calc.angleForPart(g.part, g.closed_angle, g.shaft_ratio) }),
    "plate-open-part": (g) => ({ part: calc.openPart(g.angle, g.closed_angle, g.shaft_ratio) }),
    "plug-hole-position": (g) => ({ position: calc.positionOfTravel(g.travel, g.tilt, g.crown_slope) }),
    "plug-hole-travel": (g) => ({ travel: calc.travelOfPosition(g.position, g.tilt, g.crown_slope) }),
    "premix-oil": (g) => ({
      oil: calc.oilFor(exact(g.petrol), exact(g.ratio), unitOf(g.petrol_unit), unitOf(g.oil_unit)).toString(),
    }),
    "premix-ratio": (g) => ({
      ratio: calc.ratioOf(exact(g.petrol), exact(g.oil), unitOf(g.petrol_unit), unitOf(g.oil_unit)).toString(),
    }),
    readings: (g) => {
      const { mean, scatter, ofMean, combined, freedom, expanded } = calc.spread(g.readings, g.half_widths);
      return { mean, scatter, of_mean: ofMean, combined, freedom: ended(freedom), expanded };
    },
    "rim-arc": (g) => ({ distance: calc.arc(g.angle, g.diameter, g.tape_thickness) }),
    "rim-arc-angle": (g) => ({ angle: calc.angleOfArc(g.distance, g.diameter, g.tape_thickness) }),
    "rim-chord": (g) => ({ distance: calc.chord(g.angle, g.diameter) }),
    "rim-chord-angle": (g) => ({ angle: calc.angleOfChord(g.distance, g.diameter) }),
    "rod-turn": (g) => ({ angle: calc.rodTurnDegrees(g.pitch, g.arm, g.turns, g.left_and_right) }),
    "rpm-from-frequency": (g) => ({ rpm: calc.rpmFromFrequency(g.frequency, g.pulses_per_turn) }),
    "running-from-cranking": (g) => ({
      running: calc.runningFromCranking(exact(g.angle), exact(g.correction)).toString(),
    }),
    "running-of-indicated": (g) => ({
      running: calc
        .runningOfIndicated(exact(g.indicated), exact(g.dead_centre_reading), exact(g.correction))
        .toString(),
    }),
    "stop-shift": (g) => ({ error: calc.shiftError(g.shift, g.contact, g.throw, g.rod) }),
    "true-angle": (g) => ({ true: calc.trueAngle(g.indicated, g.dead_centre_reading) }),
    "true-rpm": (g) => ({ rpm: calc.trueRpm(g.shown, g.set_for, g.has) }),
  };
}

/** Whether a result agrees with the wanted one: the same shape, numbers off by no more than the file allows. */
export function agrees(found, wanted, { relative, absolute }) {
  if (typeof wanted === "number" && typeof found === "number") {
    return Math.abs(found - wanted) <= Math.max(absolute, relative * Math.abs(wanted));
  }
  if (typeof wanted === "object" && wanted !== null && typeof found === "object" && found !== null) {
    const keys = Object.keys(wanted);
    const same = Object.keys(found).length === keys.length;
    return same && keys.every((key) => agrees(found[key], wanted[key], { relative, absolute }));
  }
  return found === wanted;
}

/** What is wrong in one file of vectors, row by row; at most `most` faults. */
export function faultsOf(held, works, most = 5) {
  const work = works[held.calculation];
  if (!work) return [`${held.calculation}: nothing works it`];
  const faults = [];
  for (const row of held.rows) {
    let got;
    try {
      const found = work(row.in);
      const out = Object.fromEntries(Object.keys(held.outputs).map((name) => [name, found[name]]));
      if ("out" in row && agrees(out, row.out, held.tolerance)) continue;
      got = JSON.stringify(out);
    } catch (error) {
      if (error.name === row.error) continue;
      got = `${error.name}: ${error.message}`;
    }
    const wanted = row.error ?? JSON.stringify(row.out);
    faults.push(`${held.calculation} ${JSON.stringify(row.in)}: ${got}, and wanted ${wanted}`);
    if (faults.length >= most) break;
  }
  return faults;
}
