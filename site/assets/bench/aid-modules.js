/** The module of each bench aid, by the name that the aid has in addresses. @type {ReadonlyMap<string, string>} */
export const MODULES = new Map([
  ["compression", "./aids/compression.js"],
  ["cylinders", "./aids/cylinders.js"],
  ["dead-centre", "./aids/dead-centre.js"],
  ["judge", "./aids/judge.js"],
  ["piston", "./aids/piston.js"],
  ["plates", "./aids/plates.js"],
  ["premix", "./aids/premix.js"],
  ["rim", "./aids/rim.js"],
  ["rpm", "./aids/rpm.js"],
  ["target", "./aids/target.js"],
  ["turn", "./aids/next-turn.js"],
]);
