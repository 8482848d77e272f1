// The cautions of core/cautions.ts in German, one for one.

const rig: readonly string[] = [
  "Handschuhe, Ärmel und Ringe weg; lange Haare zusammengebunden. Nichts Loses darf in die Nähe der Spindel kommen.",
  "Augen geschützt: Ein Gewicht, eine Feder oder das Futter kann sich bei Drehzahl lösen.",
  "Futterschlüssel aus dem Futter, Verteiler eingespannt, Spindel einmal von Hand durchgedreht.",
  "Schutzhaube zu. Ein fest verdrahteter Not-Halt, der dem Antrieb den Strom nimmt, muss in Reichweite sein; das Anhalten in diesem Programm ist keiner.",
  "Zündspule und Hochspannung aus, wenn nicht gebraucht; mit einem Herzschrittmacher Abstand halten.",
  "Örtliche Vorschriften und Arbeit nur durch Befugte gehen vor.",
];

const engine: readonly string[] = [
  "Die Stroboskoplampe lässt Lüfter, Riemen und Riemenscheiben aussehen, als stünden sie still. Sie drehen sich. Hände, Haare, Ärmel, Krawatten und Kabel fernhalten, und niemand in die Ebene des Lüfters.",
  "Abgase töten: im Freien, oder mit nach draußen geführten Abgasen.",
  "Handbremse angezogen, Räder verkeilt, Schalthebel im Leerlauf (Automatik: P).",
  "Auspuff, Kühler und Motor sind heiß; den Kühlerdeckel zulassen.",
  "Benzin und Funken: nichts undicht, kein offener Vergaser, Stroboskoplampe angeklemmt, bevor der Motor läuft, Feuerlöscher in Reichweite.",
  "Hochspannung kann töten: Kabel, Kappe und Spule bei laufendem Motor nicht berühren; mit einem Herzschrittmacher Abstand halten.",
  "Ohne Last nicht schneller und nicht länger, als der Hersteller des Motors erlaubt.",
];

const shortEngine: readonly string[] = [
  "Im Licht der Stroboskoplampe scheinen Lüfter, Riemen und Scheiben stillzustehen: Sie drehen sich. Hände, Haare, Ärmel, Krawatten und Kabel weg, niemand in die Ebene des Lüfters.",
  "Abgase töten: im Freien oder nach draußen geführt.",
  "Handbremse, Räder verkeilt, Leerlauf oder P.",
  "Heiße Teile; Kühlerdeckel bleibt zu.",
  "Benzin und Funken: nichts undicht, kein offener Vergaser, Lampe vor dem Start angeklemmt, Feuerlöscher in Reichweite.",
  "Hochspannung kann töten: Hände weg von Kabeln, Kappe und Spule; Abstand mit Herzschrittmacher.",
  "Ohne Last nicht schneller und nicht länger, als der Hersteller erlaubt.",
];

export const cautions = { rig, engine, shortEngine };
