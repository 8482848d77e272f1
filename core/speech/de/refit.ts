// Advice on springs, stop and capsules, in German.
import type { Translated } from "../../language.ts";
import type { refit as english } from "../en/refit.ts";

export const refit: Translated<typeof english> = {
  fit: (name, which) => `„${name}“ als ${which === "first" ? "erste" : "zweite"} Feder einsetzen`,
  bendFirst: (isMore, until, far) =>
    `Die Haltestifte der ersten Feder ${isMore ? "auseinander" : "zusammen"} biegen${[far, until].filter((one) => one !== "").join(",")}`,
  untilPulls: (percent, isMore) =>
    ` bis sie in Ruhe ${percent} % ${isMore ? "stärker" : "schwächer"} zieht`,
  byAbout: (millimetres) => ` um etwa ${millimetres} mm`,
  bendSecond: (deg, isLater) =>
    `Den Haltestift der zweiten Feder biegen, bis sie ${deg} ${isLater ? "später" : "früher"} greift`,
  moreStop: (deg) =>
    `Dem Anschlag ${deg} mehr geben: feilen, dünnere Büchse oder das andere Langloch`,
  lessStop: (deg) => `Vom Weg ${deg} wegnehmen: Büchse oder das andere Langloch`,
  leave: "Lassen, wie es ist",
  nothing: "Nichts Bekanntes führt wahrscheinlich zum Ziel.",
  nearest: "Am nächsten kommt:",
  surer: (wanted) => `Sicherer als alles davon: ${wanted}`,
  chance: (percent) => `Aussicht, innerhalb zu liegen: ${percent} von 100`,
  wanted: (firstRate, firstLoad, secondRate) =>
    `Zum Ziel führte eine erste Feder mit dem ${firstRate}-Fachen der Rate und dem ${firstLoad}-Fachen der Kraft in Ruhe der eingebauten, und eine zweite mit dem ${secondRate}-Fachen der Rate.`,
  leaveCapsule: (name) => `${name}: lassen, wie sie ist.`,
  exchangeCapsule: (name) =>
    `${name}: Keine Vorspannung ihrer Feder bringt sie in ihre Grenzen. Tauschen, oder zuerst nach Platte und Zugstange sehen.`,
  loadCapsule: (name, isMore, vacuum) =>
    `${name}: ihre Feder ${isMore ? "stärker" : "schwächer"} vorspannen (Scheiben, Schraube oder Umdrehungen), bis sie etwa ${vacuum} ${isMore ? "später" : "früher"} beginnt.`,
};
