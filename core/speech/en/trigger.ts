// What was found of the trigger, in a workshop's words: dwell, bounce, missing openings, scatter.
import type { ConnectedContacts, ContactSets, Trigger } from "../../unit.ts";

const KINDS: Readonly<Record<Trigger["kind"], string>> = {
  contacts: "contacts",
  magnetic: "magnetic",
  hall: "hall",
  optical: "optical",
};
const ARRANGEMENTS: Readonly<Record<ContactSets["arrangement"], string>> = {
  overlapped: "overlapped",
  staggered: "staggered",
};
const CONNECTED: Readonly<Record<ConnectedContacts, string>> = {
  first: "the first alone connected, the second insulated",
  second: "the second alone connected, the first insulated",
  both: "both connected",
};

export const trigger = {
  kind: (kind: Trigger["kind"]) => KINDS[kind],
  contactSets: (arrangement: ContactSets["arrangement"], connected: ConnectedContacts) =>
    `two sets of contacts, ${ARRANGEMENTS[arrangement]}: ${CONNECTED[connected]}`,
  label: {
    lobes: "Dwell of each lobe",
    overSpeed: "Dwell over speed",
    overVacuum: "Dwell over vacuum",
    bounce: "Bounce",
    missing: "Openings missing",
    fixed: "Scatter of the lobes",
    oncePerTurn: "Scatter once a turn",
    random: "Scatter by chance",
  },
  lobes: (dwells: readonly string[], uncertain: string, speed: string) =>
    `${dwells.join(", ")}°, each ± ${uncertain}, at ${speed}`,
  sameUpTo: (place: string, uncertain: string) => `the same to ${place}, within ± ${uncertain}`,
  same: (uncertain: string) => `the same within ± ${uncertain}`,
  falls: (by: string, uncertain: string) => `falls by ${by} ± ${uncertain}`,
  grows: (by: string, uncertain: string) => `grows by ${by} ± ${uncertain}`,
  at: (figure: string, place: string) => `${figure} at ${place}`,
  both: (low: string, high: string) => `${low}, ${high}`,
  fromTo: (from: string, to: string) => `from ${from} to ${to}`,
  noneAbove: (uncertain: string) => `none above ${uncertain}`,
  below: (figure: string) => `below ${figure}`,
  bounce: (percent: string, speed: string) =>
    `${percent} of the closings open again for a moment at ${speed}`,
  bounceUntold: "not at every speed above, so no beginning can be told",
  bounceFrom: (speed: string) => `at every speed read, from ${speed} on`,
  bounceBetween: (after: string, by: string) => `begins between ${after} and ${by}`,
  missingEverywhere: (percent: string, places: string) =>
    `${percent} at ${places} everywhere it was read`,
  missingAtSome: (percent: string, places: string) => `${percent} at ${places} at some places`,
  missingOnly: (percent: string, places: string) => `${percent} at ${places} only`,
  plateMoved: (range: string) => `the capsule had the plate moved by ${range} there`,
};
