// What the uncertainty of a reading is made of.
import type { PartName, UncertaintyPart } from "../../documents.ts";

const PARTS: Readonly<Record<PartName, string>> = {
  "between readings": "where between two readings it begins",
  sensor: "vacuum sensor",
  repeatability: "turns that differ from one another",
  tick: "rounding to the ticks of the rig's clock",
  interpolation: "speed that bends between two pulses",
  drift: "drift during the reading",
  reference: "the reference reading, from which advance counts",
  pickup: "places of the pickup's edges",
  "ripple not seen": "ripple of the drive that the pickup cannot see",
  "ripple elsewhere": "that ripple at the places the advance has moved the lobes to",
  zero: "reference, delay and unseen ripple together, as the slow readings tell them",
  delay: "delay of the trigger input",
  speed: "the speed, by the slope of the curve",
  reading: "the degree wheel or the timing light, read by eye",
  vacuum: "the vacuum, by the slope of the curve",
  together: "all parts together; the version that recorded it did not keep them apart",
};
const SHAPES: Readonly<Record<UncertaintyPart["shape"], string>> = {
  normal: "normal",
  rectangular: "rectangular",
};

export const budget = {
  part: (name: PartName) => PARTS[name],
  shape: (shape: UncertaintyPart["shape"]) => SHAPES[shape],
  inThis: "this reading",
  inAll: "all readings",
};
