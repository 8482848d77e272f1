// What to do about each error, in German.
import type { ErrorCode } from "../../errors.ts";

export const remedies: Readonly<Record<ErrorCode, string>> = {
  USAGE: "Siehe --help.",
  FILE_UNREADABLE: "Den Pfad prüfen, und ob die Datei gelesen werden darf.",
  FILE_NOT_JSON: "Das JSON an der genannten Stelle berichtigen.",
  FILE_NOT_KEPT: "Freien Platz und die Rechte in ihrem Ordner prüfen.",
  FILE_INVALID: "Das genannte Feld ändern; `bobweight schema` gibt aus, was erlaubt ist.",
  CURVE_UNTOLD:
    "Sich um das kümmern, was die Befunde nennen, oder mehr Drehzahlen zwischen Beginn und Anschlag messen, dann wieder fragen.",
  NO_UNITS:
    "Verteilerdateien oder einen Ordner damit nennen (*.unit.json), oder sie in den Datenordner legen.",
  TABLE_INVALID: "Die genannte Stelle ändern; siehe --help des Befehls.",
  NOTES_INVALID: "Die Zeile berichtigen; `bobweight by-hand --help` zeigt die Form.",
  TARGET_INVALID:
    "Die Zeile berichtigen, oder in ihr oder mit --degrees, --rpm und --initial sagen, was ihre Zahlen sind.",
  PLAN_BEYOND_LIMITS:
    "Drehzahl oder Unterdruck im Plan senken, oder in der Verteilerdatei mehr erlauben.",
  RIG_NOT_AVAILABLE:
    "Das Kabel prüfen, den Namen des Anschlusses (`bobweight rigs`), und dass kein anderes Programm ihn geöffnet hat.",
  RIG_NO_HELLO:
    "Die Stromversorgung des Prüfstands prüfen, seine Baudrate, und ob es der Anschluss des Prüfstands ist.",
  RIG_VERSION: "Firmware des Prüfstands und dieses Programm auf dieselbe Protokollversion bringen.",
  RIG_REPLY_TIMEOUT: "Stromversorgung und Kabel des Prüfstands prüfen.",
  RIG_REFUSED: "Siehe den Grund; am Prüfstand in Ordnung bringen und neu starten.",
  RIG_GUARD_OPEN: "Die Schutzhaube schließen und neu starten.",
  RIG_STOP_INPUT: "Den Halt am Prüfstand lösen und neu starten.",
  RIG_OVERSPEED: "Vor dem nächsten Lauf die Drehzahlregelung des Antriebs prüfen.",
  RIG_STALL:
    "Prüfen, ob sich die Spindel bei abgeschalteter Stromversorgung des Prüfstands leicht von Hand drehen lässt, und ob der Winkelgeber für den Nullimpuls arbeitet.",
  RIG_SENSOR: "Den Unterdrucksensor und seine Leitung prüfen.",
  RIG_ALIVE_LOST:
    "Der Prüfstand hielt an, weil unser Lebenszeichen nicht bei ihm ankam. Das Kabel und die Last des Rechners prüfen.",
  RIG_DISARMED:
    "Die Stromversorgung des Prüfstands prüfen, und dass kein anderes Programm seinen Anschluss benutzt.",
  RIG_REBOOTED: "Die Stromversorgung des Prüfstands prüfen.",
  RIG_SPEED_NOT_REACHED: "Den Antrieb prüfen; die Drehzahl im Plan senken.",
  RIG_NO_TURNS: "Den Winkelgeber für den Nullimpuls und seine Leitung prüfen.",
  LINK_LOST: "Das Kabel prüfen. Der Prüfstand hält von selbst an; nichts läuft von selbst weiter.",
  NO_SPARKS: "Die Leitung zum Geber, den Kontaktabstand und die Zündflanke des Verteilers prüfen.",
  LOBES_UNKNOWN:
    "Zahl und Winkel der Nocken in der Verteilerdatei und die Flanke des Gebers prüfen.",
  ROTATION_DOUBTFUL:
    "Stimmt die Drehrichtung in der Verteilerdatei? Am Antrieb oder am Arm der Unterdruckdose nachsehen; ändern und neu messen.",
  CAM_NOT_LOCKED:
    "Nocken und Platte feststellen, sodass sich keines von beiden bewegen kann, den Schlauch von der Dose nehmen und wieder prüfen.",
  CHECK_TOO_LITTLE: "Der Prüfung geben, was sie braucht, und sie neu starten.",
  CHECK_DOUBTFUL: "Die Ursache suchen und wieder prüfen; nichts wurde gespeichert.",
  STOPPED_BY_USER: "Neu starten, wenn alles bereit ist.",
  STOPPED_PAGE_GONE: "Die Seite offen lassen, solange die Spindel dreht.",
  RIG_BUSY: "Das Ende des Laufs abwarten, oder ihn anhalten.",
  PORT_TAKEN: "Das andere Bobweight schließen, oder mit --port einen anderen Port wählen.",
  REQUEST_REFUSED:
    "Die Seite unter der Adresse verwenden, die Bobweight beim Start ausgegeben hat.",
  FOLDER_SERVED:
    "Die Seite des anderen Bobweight benutzen, es beenden, oder mit --data einen anderen Ordner nennen.",
  NOT_ADMITTED: "Die Adresse, die Bobweight beim Start ausgegeben hat, ganz öffnen.",
  PASSWORD_WRONG: "Noch einmal eintippen.",
  STORE_DAMAGED:
    "Bobweight beenden, dann eine Sicherung zurückholen oder `bobweight rescue` aufrufen: es überträgt das Lesbare in eine neue Datei und behält die beschädigte.",
  DATABASE_AWAY:
    "Dafür sorgen, dass die Datenbank läuft und erreichbar ist. Gemessen werden kann inzwischen: Aufzeichnungen warten auf diesem Computer und werden von selbst übergeben.",
  STORE_FAILED: "Freien Platz und die Rechte des Datenordners prüfen.",
  PSEUDO_TERMINAL_UNAVAILABLE:
    "Unter Linux oder macOS das zusätzliche Paket node-pty installieren; sonst den simulierten Prüfstand im Programm verwenden.",
  RECORD_UNKNOWN: "Die Aufzeichnungen mit `bobweight sheet --list` auflisten.",
  UNIT_UNKNOWN: "Den Verteiler aus der Liste der Verteiler wählen.",
  UNIT_REPLACED: "Die Seite neu laden, ansehen, was aus ihm geworden ist, und das bearbeiten.",
  RECORD_NOTE_REFUSED:
    "Die Aufzeichnung neu laden; zurücknehmen, was nicht mehr gilt, oder auf die Auftragskarte schreiben.",
  BACKUP_BUSY: "Warten, bis sie fertig ist, dann wieder fragen.",
  BACKUP_BROKEN: "Eine andere Sicherung nehmen; diese wird nicht zurückgeholt.",
  JOB_UNKNOWN: "Den Auftrag aus der Liste der Aufträge wählen.",
  JOB_INVALID: "Das genannte Feld auf der Auftragskarte ändern.",
  PHOTO_INVALID: "JPEG-, PNG- oder WebP-Bilder von höchstens 15 MB nehmen.",
  SETTINGS_INVALID:
    "Die genannte Einstellung ändern; `bobweight settings --help` zeigt, was jede sein darf.",
  LOGO_INVALID: "Ein PNG- oder JPEG-Bild von höchstens 200 kB nehmen.",
  LOGO_UNKNOWN: "Auf der Seite unter Einstellungen eines hinzufügen.",
  RECORD_FILE_BROKEN:
    "Nichts wurde eingelesen. Die Aufzeichnung dort noch einmal ausgeben, wo sie entstand.",
  RECORD_OTHER_CONTENT:
    "Nichts wurde überschrieben. Eine der beiden wurde nach ihrer Entstehung geändert: mit der vergleichen, von der sie kommt.",
  RECORD_EARLIER_MISSING: "Jene Aufzeichnung zuerst einlesen, oder beide Dateien zugleich.",
  RECORD_OTHER_UNIT:
    "Ein Lauf kann nur auf eine Aufzeichnung desselben Verteilers folgen, beide echt oder beide simuliert.",
  RECORD_INCOMPLETE:
    "Die Werte der Aufzeichnung gelten, wie sie waren; nur die Rohzeilen sind nicht vollständig.",
  BUG: "Das ist unser Fehler. Die Meldung aufheben und melden.",
};
