// What was found of the trigger, in German.
import type { Translated } from "../../language.ts";
import type { ConnectedContacts, ContactSets, Trigger } from "../../unit.ts";
import type { trigger as english } from "../en/trigger.ts";

const KINDS: Readonly<Record<Trigger["kind"], string>> = {
  contacts: "Unterbrecherkontakte",
  magnetic: "Induktionsgeber",
  hall: "Hallgeber",
  optical: "Lichtschranke",
};
const ARRANGEMENTS: Readonly<Record<ContactSets["arrangement"], string>> = {
  overlapped: "überlappend",
  staggered: "versetzt",
};
const CONNECTED: Readonly<Record<ConnectedContacts, string>> = {
  first: "nur der erste angeschlossen, der zweite isoliert",
  second: "nur der zweite angeschlossen, der erste isoliert",
  both: "beide angeschlossen",
};

export const trigger: Translated<typeof english> = {
  kind: (kind) => KINDS[kind],
  contactSets: (arrangement, connected) =>
    `zwei Kontaktsätze, ${ARRANGEMENTS[arrangement]}: ${CONNECTED[connected]}`,
  label: {
    lobes: "Schließwinkel je Nocken",
    overSpeed: "Schließwinkel über der Drehzahl",
    overVacuum: "Schließwinkel über dem Unterdruck",
    bounce: "Prellen",
    missing: "Ausgebliebene Öffnungen",
    fixed: "Streuung der Nocken",
    oncePerTurn: "Streuung einmal je Umdrehung",
    random: "Zufällige Streuung",
  },
  lobes: (dwells, uncertain, speed) => `${dwells.join("; ")}°, jeder ± ${uncertain}, bei ${speed}`,
  sameUpTo: (place, uncertain) => `gleich bis ${place}, auf ± ${uncertain}`,
  same: (uncertain) => `gleich auf ± ${uncertain}`,
  falls: (by, uncertain) => `fällt um ${by} ± ${uncertain}`,
  grows: (by, uncertain) => `wächst um ${by} ± ${uncertain}`,
  at: (figure, place) => `${figure} bei ${place}`,
  both: (low, high) => `${low} und ${high}`,
  fromTo: (from, to) => `von ${from} auf ${to}`,
  noneAbove: (uncertain) => `keine über ${uncertain}`,
  below: (figure) => `unter ${figure}`,
  bounce: (percent, speed) => `${percent} der Schließungen öffnen bei ${speed} kurz noch einmal`,
  bounceUntold: "darüber nicht bei jeder Drehzahl, sodass kein Beginn zu sagen ist",
  bounceFrom: (speed) => `bei jeder gemessenen Drehzahl, ab ${speed}`,
  bounceBetween: (after, by) => `beginnt zwischen ${after} und ${by}`,
  missingEverywhere: (percent, places) => `${percent} bei ${places}, überall, wo gemessen wurde`,
  missingAtSome: (percent, places) => `${percent} bei ${places}, an einigen Stellen`,
  missingOnly: (percent, places) => `${percent} bei ${places}, nur dort`,
  plateMoved: (range) => `die Unterdruckdose hatte die Platte dort um ${range} verdreht`,
};
