// What the uncertainty of a reading is made of, in German.
import type { PartName, UncertaintyPart } from "../../documents.ts";
import type { Translated } from "../../language.ts";
import type { budget as english } from "../en/budget.ts";

const PARTS: Readonly<Record<PartName, string>> = {
  "between readings": "wo es zwischen zwei Messwerten beginnt",
  sensor: "Unterdrucksensor",
  repeatability: "Umdrehungen, die voneinander abweichen",
  tick: "Rundung auf den Takt der Uhr des Prüfstands",
  interpolation: "Drehzahl, die sich zwischen zwei Impulsen ändert",
  drift: "Drift während der Messung",
  reference: "die Bezugsmessung, von der aus die Verstellung zählt",
  pickup: "Lage der Flanken des Winkelgebers",
  "ripple not seen": "Ungleichförmigkeit des Antriebs, die der Winkelgeber nicht sieht",
  "ripple elsewhere":
    "dieselbe Ungleichförmigkeit da, wohin die Verstellung die Nocken verschoben hat",
  zero: "Bezug, Verzögerung und ungesehene Ungleichförmigkeit zusammen, wie die langsamen Messwerte sie zeigen",
  delay: "Verzögerung des Triggereingangs",
  speed: "die Drehzahl, über die Steigung der Kurve",
  reading: "die Gradscheibe oder die Stroboskoplampe, mit dem Auge abgelesen",
  vacuum: "der Unterdruck, über die Steigung der Kurve",
  together: "alle Anteile zusammen; die aufzeichnende Version hielt sie nicht getrennt",
};
const SHAPES: Readonly<Record<UncertaintyPart["shape"], string>> = {
  normal: "Normalverteilung",
  rectangular: "Rechteckverteilung",
};

export const budget: Translated<typeof english> = {
  part: (name) => PARTS[name],
  shape: (shape) => SHAPES[shape],
  inThis: "diesem Messwert",
  inAll: "allen Messwerten",
};
