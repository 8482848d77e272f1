// Rows of a specification in German, where the program has worded them itself from figures; what a manual
// or the user wrote stays as it is. The words are those of core/unitFile/rows.ts and core/judge/limits.ts.

const DEGREES = String.raw`(distributor|crankshaft) degrees( retard)?(?: with initial timing of (\S+) included)?(?: \(± (\S+) distributor degrees by the workshop\))?`;
const PLACE = String.raw`(\S.*? (?:distributor rpm|crankshaft rpm|Pa|kPa|mbar|inHg|mmHg|cmHg|psi))`;

type Words = (...parts: string[]) => string;

const ROWS: readonly (readonly [RegExp, Words])[] = [
  [
    row(`(\\S.*?) ${DEGREES} (reached )?at ${PLACE}`),
    (figure = "", shaft = "", retard, initial, own, reached, place = "") =>
      `${wanted(figure, shaft, retard, initial, own)}${reached ? ", erreicht" : ""} bei ${placed(place)}`,
  ],
  [
    row(`no (advance|retard) below ${PLACE}: (\\S.*?) ${DEGREES}`),
    (acts, place = "", figure = "", shaft = "", retard, initial, own) =>
      `keine ${moved(acts)} unter ${placed(place)}: ${wanted(figure, shaft, retard, initial, own)}`,
  ],
  [
    row(`(advance|retard) starts at ${PLACE}`),
    (acts, place = "") => `${moved(acts)} beginnt bei ${placed(place)}`,
  ],
  [
    row(`largest (?:advance )?(\\S.*?) ${DEGREES}(?: by ${PLACE})?`),
    (figure = "", shaft = "", retard, initial, own, place) =>
      `größte Verstellung ${wanted(figure, shaft, retard, initial, own)}${place ? `, erreicht bis ${placed(place)}` : ""}`,
  ],
  [
    row("dwell (\\S+) to (\\S+) distributor degrees"),
    (min, max) => `Schließwinkel ${min} bis ${max} Grad Verteilerwelle`,
  ],
  [
    row("lobes within (\\S+) distributor degrees of their places"),
    (deg) => `Nocken auf ${deg} Grad Verteilerwelle an ihrem Platz`,
  ],
  [
    row("comes back to within (\\S+) distributor degrees of the reference"),
    (deg) => `kommt auf ${deg} Grad Verteilerwelle zum Bezug zurück`,
  ],
  [
    row("cam turns by hand and springs back"),
    () => "Nocken lässt sich von Hand drehen und federt zurück",
  ],
  [
    row("falls by at most (\\S+ kPa) in (\\S+) s from (\\S+ kPa)"),
    (drop, seconds, from) => `fällt in ${seconds} s von ${from} um höchstens ${drop}`,
  ],
];

export function rowInGerman(printed: string): string {
  for (const [pattern, words] of ROWS) {
    const match = pattern.exec(printed);
    if (match !== null) return words(...match.slice(1)).replace(/(\d)\.(\d)/g, "$1,$2");
  }
  return printed;
}

function row(pattern: string): RegExp {
  return new RegExp(`^${pattern}$`);
}

function moved(acts: string | undefined): string {
  return acts === "retard" ? "Spätverstellung" : "Verstellung";
}

function placed(place: string): string {
  return figured(place)
    .replace("distributor rpm", "U/min am Verteiler")
    .replace("crankshaft rpm", "U/min an der Kurbelwelle");
}

function figured(figure: string): string {
  return figure
    .replace(/^at most /, "höchstens ")
    .replace(/^at least /, "mindestens ")
    .replace(" to ", " bis ");
}

function wanted(
  figure: string,
  shaft: string,
  retard: string | undefined,
  initial: string | undefined,
  own: string | undefined,
): string {
  return [
    `${figured(figure)} Grad ${shaft === "crankshaft" ? "Kurbelwelle" : "Verteilerwelle"}`,
    retard ? " spät" : "",
    initial ? ` einschließlich ${initial} Grundeinstellung` : "",
    own ? ` (± ${own} Grad Verteilerwelle von der Werkstatt)` : "",
  ].join("");
}
