/**
 * The words that Python and these scripts share, each list as it stands in `kb/vocabulary/` and `kb/quantity/`.
 * Written by `python -m kb.publish.browser_vocabulary site/assets/vocabulary.js`: change them there, not here.
 */

export const State = Object.freeze({
  CRANKING: "cranking",
  RUNNING: "running",
  STATIC: "static",
  AT_REST: "at-rest",
});

export const Condition = Object.freeze({
  RPM: "rpm",
  GEAR: "gear",
  CYLINDER: "cylinder",
  BANK: "bank",
  CARBURETTOR: "carburettor",
  MODULE: "module",
  ENGINE: "engine",
  PLUGS: "plugs",
  OCTANE: "octane",
  ALTITUDE: "altitude",
});

export const OctaneScale = Object.freeze({
  RON: "ron",
  MON: "mon",
  AKI: "aki",
});

export const Cycle = Object.freeze({
  TWO_STROKE: "two-stroke",
  FOUR_STROKE: "four-stroke",
});

export const Linkage = Object.freeze({
  CAM_TOUCHES_AT_IDLE: "cam-touches-at-idle",
  CAM_CLEAR_AT_IDLE: "cam-clear-at-idle",
  ROLLER_ON_MARK: "roller-on-mark",
  PLATES_CRACKED_AT_IDLE: "plates-cracked-at-idle",
  FIXED_SPARK: "fixed-spark",
});

export const TurningIn = Object.freeze({
  EARLIER: "earlier",
  LATER: "later",
  LARGER: "larger",
  SMALLER: "smaller",
});

export const Rotation = Object.freeze({
  CLOCKWISE: "clockwise",
  ANTICLOCKWISE: "anticlockwise",
});

export const MarksOn = Object.freeze({
  FLYWHEEL: "flywheel",
  FIXED_SCALE: "fixed-scale",
});

export const HazardTier = Object.freeze({
  A: "A",
  B: "B",
  C: "C",
});

export const AimPoint = Object.freeze({
  EARLY_END: "early-end",
  MIDDLE: "middle",
  LATE_END: "late-end",
  NONE: "none",
});

export const SafestEnd = Object.freeze({
  LATER: "later",
  EARLIER: "earlier",
  SMALLER: "smaller",
  LARGER: "larger",
  NONE: "none",
});

export const HowSure = Object.freeze({
  AGREED: "agreed",
  SINGLE: "single",
  DERIVED: "derived",
  DISPUTED: "disputed",
});

export const CautionSeverity = Object.freeze({
  DANGER: "danger",
  WARNING: "warning",
  CARE: "care",
});

export const Noted = Object.freeze({
  AS_FOUND: "as-found",
  AS_LEFT: "as-left",
});

export const Turned = Object.freeze({
  BY_HAND: "by-hand",
  BY_STARTER: "by-starter",
});

export const IgnitionLeft = Object.freeze({
  DEAD: "dead",
  LIVE: "live",
});

export const Fitted = Object.freeze({
  FITTED: "fitted",
  NONE: "none",
});

export const Presence = Object.freeze({
  PRESENT: "present",
  NONE: "none",
});

export const AngleRead = Object.freeze({
  TRUE_ANGLE: "true-angle",
  AS_SHOWN: "as-shown",
});

export const Instrument = Object.freeze({
  TIMING_LIGHT: "timing-light",
  DEGREE_WHEEL: "degree-wheel",
  DEPTH_GAUGE: "depth-gauge",
  METER_OR_LAMP: "meter-or-lamp",
  BY_EYE: "by-eye",
});

export const FalseLate = Object.freeze({
  LEVER: "lever",
  CLIP: "clip",
  DIAL: "dial",
  SUPPLY: "supply",
  SPEED: "speed",
  MARK: "mark",
});

export const SETTING_STATES = ["cranking", "static", "running"];

export const SCREEN_STATES = ["cranking", "static", "running", "at-rest"];

export const CORRECTED_STATES = ["cranking", "running"];

export const SIDES = ["btdc", "atdc", "tdc"];

export const SET_WORDS = new Map([
  ["cranking", "set while cranking"],
  ["running", "set running"],
  ["static", "set standing still"],
]);

export const PLACE_WORDS = new Map([
  ["cranking", "cranking, on land"],
  ["static", "standing still"],
  ["running", "running, in the water"],
]);

export const CHOICES = new Map([
  ["gear", ["in-gear", "neutral"]],
  ["engine", ["cold", "warm"]],
  ["module", ["connected", "disconnected"]],
  ["plugs", ["in", "out"]],
  ["bank", ["port", "starboard"]],
]);

export const COUNTED = new Map([
  ["cylinder", "cylinders"],
  ["carburettor", "carburettors"],
]);

export const MEASURED = new Map([
  ["altitude", ["m", "ft"]],
  ["octane", ["ron", "mon", "aki"]],
]);

export const FALSE_LATE_WORDS = new Map([
  [
    "lever",
    [
      "the lever on its stop",
      "Paper laid between the stop and what meets it is held fast while the engine turns.",
      "Tie the lever hard against its stop, so that paper there is held.",
    ],
  ],
  [
    "clip",
    [
      "the light's clip on lead one, its arrow toward the plug",
      "The light's clip is on the lead of cylinder one, clear of the others, its arrow toward the plug.",
      "Put the clip on lead one, its arrow toward the plug.",
    ],
  ],
  ["dial", ["its dial at nought", "The dial of the light stands at nought.", "Turn the dial to nought."]],
  [
    "supply",
    [
      "a battery of its own",
      "The light is fed by a battery of its own, not by the engine's, which sinks while cranking.",
      "Feed the light from another battery.",
    ],
  ],
  [
    "speed",
    [
      "cranking speed and voltage up to their figures",
      "Cranking speed and voltage are not below their figures.",
      "Charge the battery and clean its terminals until speed and voltage are reached; with a rope, pull briskly.",
    ],
  ],
  [
    "mark",
    [
      "the mark that is read one before top dead centre",
      "The mark that was read is one before top dead centre: turning as it runs, it passes the pointer first.",
      "Find the marks before top dead centre, and read one of those.",
    ],
  ],
]);

export const FALSE_LATE_IN_SHORT = [...FALSE_LATE_WORDS.values()].map(([short]) => short).join(", ");

export const UNIT_TABLE = [
  { key: "crank_deg", dimension: "crank-angle", symbol: "°", name: "degree of crank" },
  { key: "piston_mm", dimension: "piston-position", symbol: "mm", name: "millimetre of piston travel" },
  {
    key: "piston_in",
    dimension: "piston-position",
    symbol: "in",
    name: "inch of piston travel",
    factor: "127/5",
    fractions: true,
  },
  { key: "deg", dimension: "angle", symbol: "°", name: "degree" },
  { key: "mm", dimension: "length", symbol: "mm", name: "millimetre" },
  { key: "in", dimension: "length", symbol: "in", name: "inch", factor: "127/5", fractions: true },
  { key: "m", dimension: "length", symbol: "m", name: "metre", factor: "1000" },
  { key: "ft", dimension: "length", symbol: "ft", name: "foot", factor: "1524/5" },
  { key: "rpm", dimension: "rotational-speed", symbol: "rpm", name: "revolution per minute" },
  { key: "kW", dimension: "power", symbol: "kW", name: "kilowatt", factor: "1000" },
  {
    key: "hp",
    dimension: "power",
    symbol: "hp",
    name: "horsepower (550 ft lbf/s)",
    factor: "37284993579113511/50000000000000",
  },
  { key: "PS", dimension: "power", symbol: "PS", name: "metric horsepower (75 kgf m/s)", factor: "588399/800" },
  { key: "kPa", dimension: "pressure", symbol: "kPa", name: "kilopascal", factor: "1000" },
  { key: "bar", dimension: "pressure", symbol: "bar", name: "bar", factor: "100000" },
  {
    key: "psi",
    dimension: "pressure",
    symbol: "psi",
    name: "pound-force per square inch",
    factor: "8896443230521/1290320000",
  },
  {
    key: "kgf_cm2",
    dimension: "pressure",
    symbol: "kgf/cm²",
    name: "kilogram-force per square centimetre",
    factor: "196133/2",
  },
  { key: "Nm", dimension: "torque", symbol: "N m", name: "newton metre" },
  {
    key: "lbf_ft",
    dimension: "torque",
    symbol: "lbf ft",
    name: "pound-force foot",
    factor: "3389544870828501/2500000000000000",
  },
  {
    key: "lbf_in",
    dimension: "torque",
    symbol: "lbf in",
    name: "pound-force inch",
    factor: "1129848290276167/10000000000000000",
  },
  { key: "kgf_m", dimension: "torque", symbol: "kgf m", name: "kilogram-force metre", factor: "196133/20000" },
  { key: "cm3", dimension: "volume", symbol: "cm³", name: "cubic centimetre" },
  { key: "mL", dimension: "volume", symbol: "mL", name: "millilitre" },
  { key: "L", dimension: "volume", symbol: "L", name: "litre", factor: "1000" },
  { key: "us_gal", dimension: "volume", symbol: "US gal", name: "US gallon", factor: "473176473/125000" },
  { key: "imp_gal", dimension: "volume", symbol: "imp gal", name: "imperial gallon", factor: "454609/100" },
  { key: "us_fl_oz", dimension: "volume", symbol: "US fl oz", name: "US fluid ounce", factor: "473176473/16000000" },
  { key: "imp_fl_oz", dimension: "volume", symbol: "imp fl oz", name: "imperial fluid ounce", factor: "454609/16000" },
  { key: "V", dimension: "voltage", symbol: "V", name: "volt" },
  { key: "to_one", dimension: "ratio", symbol: ":1", name: "to one" },
  { key: "turns", dimension: "turns", symbol: "turns", name: "turn", fractions: true },
  { key: "s", dimension: "time", symbol: "s", name: "second" },
  { key: "ms", dimension: "time", symbol: "ms", name: "millisecond", factor: "1/1000" },
  { key: "us", dimension: "time", symbol: "µs", name: "microsecond", factor: "1/1000000" },
  { key: "min", dimension: "time", symbol: "min", name: "minute", factor: "60" },
  { key: "h", dimension: "time", symbol: "h", name: "hour", factor: "3600" },
  { key: "degC", dimension: "temperature", symbol: "°C", name: "degree Celsius", offset: "5463/20", signed: true },
  {
    key: "degF",
    dimension: "temperature",
    symbol: "°F",
    name: "degree Fahrenheit",
    factor: "5/9",
    offset: "45967/180",
    signed: true,
  },
  { key: "delta_degC", dimension: "temperature-difference", symbol: "°C", name: "Celsius degree of difference" },
  {
    key: "delta_degF",
    dimension: "temperature-difference",
    symbol: "°F",
    name: "Fahrenheit degree of difference",
    factor: "5/9",
  },
];
