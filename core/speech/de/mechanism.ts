// The fitted mechanism in German.
import type { Translated } from "../../language.ts";
import type { Untold } from "../../mechanism/fitted.ts";
import type { mechanism as english } from "../en/mechanism.ts";

const WHY: Readonly<Record<Untold, string>> = {
  "too few readings": "zu wenige Messwerte",
  "does not move": "bei keinem Messwert ändert sich die Verstellung",
  "runs backwards": "die Kurve läuft andersherum",
  "too few on the slope": "zu wenige Messwerte zwischen Beginn und Anschlag",
  "no form fits": "keine Form von Federn, Anschlag und Reibung passt zu den Messwerten",
  "begun at the reference":
    "hatte bei der Bezugsmessung schon begonnen, von der aus alle Verstellung zählt",
  "too few near the start": "zu wenige Messwerte, bevor die zweite Feder greift",
  "none shows": "die Messwerte passen ebenso gut ohne",
  "not reached": "die höchsten Messwerte stehen nicht gleich hoch",
  "no falling readings": "keine Messwerte des Rückwegs zwischen Beginn und Anschlag",
  "too uncertain": "die Messwerte lassen es zu unsicher",
};

export const mechanism: Translated<typeof english> = {
  why: (why) => WHY[why],
  weights: "Fliehgewichte",
  capsule: (number) => `Unterdruckdose ${number}`,
  notFitted: "Nicht errechnet",
  beginsToAdvance: "Beginnt zu verstellen",
  firstAlone: "Erste Feder allein",
  springs: "Federn",
  secondTakesUp: "Zweite Feder greift",
  stop: "Anschlag",
  frictionHalfway: "Reibung, auf halbem Weg",
  formError: "Fehler der Form",
  begins: "Beginnt",
  slope: "Steigung",
  ends: "Endet",
  friction: "Reibung",
  untold: "Nicht zu sagen",
  at: (figure) => `bei ${figure}`,
  nearStart: (deg) => `${deg} je 100 U/min nahe dem Beginn`,
  about: (speed) => `etwa ${speed}`,
  afterwards: (deg) => `dann ${deg} je 100 U/min`,
  heldFor: (speeds) => `dort gehalten über ${speeds}`,
  reachedAt: (place) => `erreicht bei ${place}`,
  gap: (figure) => `Abstand ${figure}`,
  of: (figure) => `von ${figure}`,
  below: (figure) => `unter ${figure}`,
  per: (deg, unit) => `${deg} je ${unit}`,
  noError: "keiner über den der Messwerte hinaus",
  error: (deg) => `${deg} neben dem der Messwerte`,
  untoldStart: "Beginn",
  untoldSlopeNearStart: "Steigung nahe dem Beginn",
  untoldSecond: "zweite Feder",
  untoldStop: "Anschlag",
  untoldFriction: "Reibung",
  untoldSlope: "Steigung",
  untoldEnd: "Ende",
};
