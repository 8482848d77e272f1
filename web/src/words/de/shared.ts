// Words that several parts of the page use, in German.
import type { Ending } from "../../../../core/documents.ts";
import type { Branch, Shaft } from "../../../../core/unit.ts";

export const ENDINGS: Readonly<Record<Ending, string>> = {
  completed: "Vollständig",
  stopped: "Angehalten",
  "rig fault": "Durch eine Störung des Prüfstands beendet",
  "link lost": "Beendet, weil die Verbindung zum Prüfstand abriss",
};
export const BRANCHES: Readonly<Record<Branch, string>> = {
  rising: "steigend",
  falling: "fallend",
};
export const AT_SHAFT: Readonly<Record<Shaft, string>> = {
  distributor: "am Verteiler",
  crankshaft: "an der Kurbelwelle",
};
