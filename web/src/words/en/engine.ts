// Words on the engine figures: the form, the picture, the owner's readings.
import type { VacuumPort } from "../../../../core/unit.ts";
import type { EngineLack } from "../../engineForm.ts";

const PORTS: Readonly<Record<VacuumPort, string>> = {
  manifold: "The manifold: high vacuum at idle",
  ported: "A port above the throttle plate: almost none at idle",
  none: "Nothing",
};
const LACKS: Readonly<Record<EngineLack, string>> = {
  initial: "Type the initial timing: degrees before top dead centre, from −60 to 60 (crankshaft).",
  initialOf: "Say whose degrees the initial timing is in.",
  setAt: "The speed at which it is set is not a number.",
  setAtOf: "Say whose speed it is set at.",
  vacuumPort: "Say what feeds the capsule.",
  idle: "The idle speed is not a number from 1 to 3000.",
  speeds: "The engine speeds are not numbers, with commas between.",
  unloaded: "The vacuum without load is not a number that an engine can draw.",
  cruise: "The vacuum at a cruise is not a number that an engine can draw.",
  readings: "A reading needs its engine speed and its mark, both numbers.",
};

export const engine = {
  title: "On the engine: marks for the timing light",
  note: "Worked out from this record's curve, for whoever fits the unit. Nothing on the rig moves.",
  initial: "Initial timing, degrees before top dead centre (after it: with a minus)",
  initialOf: "The initial timing's degrees are those of the",
  setAt: "Set at, rpm (empty: at rest)",
  setAtOf: "This speed is that of the",
  port: "The capsule is fed by",
  portOf: (port: VacuumPort) => PORTS[port],
  idle: "Idle speed, engine rpm (empty: not known)",
  speeds: "Engine speeds for the marks, with commas (empty: as the curve has it)",
  capsule: "The vacuum line is on",
  unloaded: (unit: string, common: string) => `Vacuum without load, ${unit} (empty: ${common})`,
  cruise: (unit: string, common: string) => `Vacuum at a steady cruise, ${unit} (empty: ${common})`,
  lack: (lack: EngineLack) => LACKS[lack],
  chart: {
    title: "Marks over engine speed",
    x: "engine rpm",
    y: "crankshaft degrees",
    describe:
      "Chart: marks in crankshaft degrees before top dead centre over engine rpm. The table below has every figure.",
    rising: "Line plugged, speed rising: filled dots, solid line",
    falling: "Plugged, speed falling: open squares, dashed line",
    specified: "Bars: by specification, line plugged",
    unloaded: "Line on, no load, the least and the most: dotted lines",
    cruise: "Line on, at a cruise: triangles, dash-dotted line",
    readPlugged: "Read on the engine, line plugged: filled diamonds",
    readOn: "Read on the engine, line on: open diamonds",
  },
  before: "Before the engine runs",
  how: "How to read them",
  compared: "Bench and engine",
  readings: "Read on the engine",
  readingsNote:
    "What the timing light shows, in crankshaft degrees before top dead centre at engine rpm. It is compared with the marks above; nothing here changes the record.",
  reading: (number: number) => `Reading ${number}`,
  rpm: "Engine rpm",
  mark: "Mark, crankshaft °",
  line: "Vacuum line",
  lineOf: (line: "plugged" | "on") => (line === "on" ? "on" : "off and plugged"),
  add: "One more reading",
  takeOff: (number: number) => `Take reading ${number} off`,
  keep: "Keep with the record",
  kept: "Kept beside the record, which stays as it is.",
  print: "Open to print (A4)",
  printLetter: "Open to print (Letter)",
};
