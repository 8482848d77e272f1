// What is refused beside the rig: records, jobs, units, springs, settings, backups, requests, in German.

export const deskSentences = {
  // Requests.
  "The message is not JSON.": "Die Nachricht ist kein JSON.",
  "the message": "der Nachricht",
  "the query": "der Abfrage",
  "the body": "dem Inhalt",
  "In {}{}: {}.": "In {}{}: {}.",
  "Something went wrong inside the program.": "Im Programm ging etwas schief.",
  "The Host header is not this server's address.":
    "Der Host-Kopf ist nicht die Adresse dieses Servers.",
  "The Origin header is not this server's own page.":
    "Der Origin-Kopf ist nicht die eigene Seite dieses Servers.",
  "The Content-Type header is not application/json, nor a picture's.":
    "Der Content-Type-Kopf ist weder application/json noch der eines Bildes.",
  "There is nothing at this address.": "Unter dieser Adresse gibt es nichts.",
  "Port {} is in use.": "Port {} ist belegt.",
  "Only /live takes WebSockets.": "Nur /live nimmt WebSockets an.",
  "Too many pages are open.": "Zu viele Seiten sind offen.",
  "The cautions have not been ticked as read.":
    "Die Warnhinweise sind nicht als gelesen angekreuzt.",
  "There is no {} {} to choose.": "Nicht zur Wahl: {} {}.",
  rig: "Prüfstand",
  unit: "Verteiler",
  scenario: "simulierter Verteiler",

  "Simulation: no real rig, no real unit.":
    "Simulation: kein echter Prüfstand, kein echter Verteiler.",
  "On {}.": "An {}.",
  "On {}, which is not there now.": "An {}; der Anschluss ist gerade nicht da.",

  // Settings and logo.
  "Settings, {}: {}.": "Einstellungen, {}: {}.",
  "The logo is neither PNG nor JPEG.": "Das Logo ist weder PNG noch JPEG.",
  "The logo is not whole.": "Das Logo ist nicht vollständig.",
  "The logo has {} bytes.": "Das Logo hat {} Bytes.",
  "No logo is kept.": "Es ist kein Logo hinterlegt.",
  "What was sent is no picture.": "Was gesendet wurde, ist kein Bild.",

  // Files.
  "{} cannot be read ({}).": "{} lässt sich nicht lesen ({}).",
  "{} is larger than {} bytes.": "{} ist größer als {} Bytes.",
  "{} cannot be written ({}).": "{} lässt sich nicht schreiben ({}).",

  // Backups.
  "There is no such backup: make one first.":
    "Eine solche Sicherung gibt es nicht: erst eine machen.",
  "The body is no backup.": "Der Inhalt ist keine Sicherung.",
  "A backup is being made or brought back.":
    "Eine Sicherung wird gerade gemacht oder zurückgeholt.",
  "The program ended with {}: {}.": "Das Programm endete mit {}: {}.",
  "The file is larger than {} bytes. Bring it back by `bobweight restore` instead.":
    "Die Datei ist größer als {} Bytes. Stattdessen mit `bobweight restore` zurückholen.",
  "the backup {} cannot be written": "Die Sicherung {} lässt sich nicht schreiben",
  "the backup cannot be restored to {}": "Die Sicherung lässt sich nicht nach {} zurückholen",
  "SQLite finds: {}": "SQLite findet: {}",
  "its table {} is not what was copied": "ihre Tabelle {} ist nicht, was kopiert wurde",
  "{} is no whole backup: {}.": "{} ist keine vollständige Sicherung: {}.",

  // Records.
  "Record {} has no end: it runs still, or the program died. It is not carried off.":
    "Die Aufzeichnung {} hat kein Ende: Der Lauf geht noch weiter, oder das Programm brach ab. Sie wird nicht mitgenommen.",
  "its documents are not those whose fingerprint it has":
    "ihre Dokumente sind nicht die, deren Prüfsumme sie trägt",
  "{} is a run after a change: it follows record {}, which is not on file here.":
    "{} ist ein Lauf nach einer Änderung: Er folgt auf die Aufzeichnung {}, die hier nicht abgelegt ist.",
  "its raw lines cannot be inflated": "ihre Rohzeilen lassen sich nicht entpacken",
  "its raw lines are not those whose fingerprint it has":
    "ihre Rohzeilen sind nicht die, deren Prüfsumme sie trägt",
  "its documents do not go from one start to one end":
    "ihre Dokumente gehen nicht von einem Anfang zu einem Ende",
  "its documents cannot be read as a record ({})":
    "ihre Dokumente lassen sich nicht als Aufzeichnung lesen ({})",
  "{} has the id of record {}, which is on file with other content.":
    "{} trägt die Kennung der Aufzeichnung {}, die mit anderem Inhalt abgelegt ist.",
  "{} is no whole record: {}.": "{} ist keine vollständige Aufzeichnung: {}.",
  "There is no record {}.": "Eine Aufzeichnung {} gibt es nicht.",
  "Record {} is of {}; this run is of {}.":
    "Die Aufzeichnung {} ist von {}; dieser Lauf ist von {}.",
  simulated: "simuliert",
  "of a real unit": "von einem echten Verteiler",
  "Record {} is {}; this run is {}.": "Die Aufzeichnung {} ist {}; dieser Lauf ist {}.",
  "The record has {} notes.": "Die Aufzeichnung hat {} Notizen.",
  "The record has no note {}.": "Die Aufzeichnung hat keine Notiz {}.",
  "there is no start": "es gibt keinen Anfang",
  "it was read by hand, without a rig that sent lines":
    "von Hand abgelesen, ohne Prüfstand, der Zeilen sandte",
  "the lobes cannot be found at the reference": "die Nocken lassen sich am Bezug nicht finden",
  "the turns of the reference are not in it": "die Umdrehungen des Bezugs sind nicht darin",
  "the turns of the reading at {} rpm are not in it":
    "die Umdrehungen des Messwerts bei {} U/min sind nicht darin",
  "the vacuum lines of the hold test are not in it":
    "die Unterdruckwerte der Halteprüfung sind nicht darin",
  "The record cannot be computed again: {}.":
    "Die Aufzeichnung lässt sich nicht neu berechnen: {}.",
  "The unit has no specification over speed. Give a target of your own by --target, or compare it with the units on file by `bobweight nearest`.":
    "Der Verteiler hat keine Vorgabe über der Drehzahl. Mit --target ein eigenes Ziel angeben, oder ihn mit `bobweight nearest` mit den abgelegten Verteilern vergleichen.",
  "The weights hardly move, or too few readings lie between start and stop.":
    "Die Fliehgewichte bewegen sich kaum, oder zu wenige Messwerte liegen zwischen Beginn und Anschlag.",

  // Units and jobs.
  "Unit {} has been edited elsewhere meanwhile.":
    "Der Verteiler {} wurde inzwischen anderswo bearbeitet.",
  "There is no unit {}.": "Einen Verteiler {} gibt es nicht.",
  "{} is not a picture of a known kind.": "{} ist kein Bild einer bekannten Art.",
  "Job card, {}: {}.": "Auftragskarte, {}: {}.",
  "There is no edit to take back.": "Es gibt keine Änderung, die sich zurücknehmen ließe.",
  "Another job has the number {}.": "Ein anderer Auftrag hat die Nummer {}.",
  "There is no {}.": "Nicht vorhanden: {}.",
  "job with the number {}": "Auftrag mit der Nummer {}",
  "photo {}": "Foto {}",
  "job {}": "Auftrag {}",

  // What the store could not do; why follows.
  "the record store {} cannot be opened": "Die Ablage {} lässt sich nicht öffnen",
  "This page has not been opened by its own address.":
    "Diese Seite wurde nicht über ihre eigene Adresse geöffnet.",
  "Open the address that Bobweight printed when it started, all of it.":
    "Die Adresse, die Bobweight beim Start ausgegeben hat, ganz öffnen.",
  "No password is taken for {} s.": "{} s lang wird kein Passwort angenommen.",
  "That is not the password.": "Das ist nicht das Passwort.",
  "Too many requests.": "Zu viele Anfragen.",
  Password: "Passwort",
  "Come in": "Eintreten",
  "{} is damaged": "{} ist beschädigt",
  "Another Bobweight serves the folder {}.": "Ein anderes Bobweight bedient den Ordner {}.",
  "Of record {} raw lines are missing between others.":
    "Von der Aufzeichnung {} fehlen Rohzeilen zwischen anderen.",
  "the folder {} cannot be taken": "Der Ordner {} lässt sich nicht belegen",
  "the store in {} cannot be rescued": "Die Ablage in {} lässt sich nicht retten",
  "the records cannot be listed": "Die Aufzeichnungen lassen sich nicht auflisten",
  "the records cannot be read": "Die Aufzeichnungen lassen sich nicht lesen",
  "the records cannot be searched": "Die Aufzeichnungen lassen sich nicht durchsuchen",
  "the records' units cannot be listed":
    "Die Verteiler der Aufzeichnungen lassen sich nicht auflisten",
  "the records' jobs cannot be read": "Die Aufträge der Aufzeichnungen lassen sich nicht lesen",
  "record {} cannot be brought in": "Die Aufzeichnung {} lässt sich nicht einlesen",
  "record {} cannot be read": "Die Aufzeichnung {} lässt sich nicht lesen",
  "record {} cannot be archived": "Die Aufzeichnung {} lässt sich nicht archivieren",
  "record {} cannot be written": "Die Aufzeichnung {} lässt sich nicht schreiben",
  "record {} cannot be put to job {}": "Die Aufzeichnung {} lässt sich nicht zum Auftrag {} legen",
  "the raw lines of record {} cannot be read":
    "Die Rohzeilen der Aufzeichnung {} lassen sich nicht lesen",
  "the notes of record {} cannot be read":
    "Die Notizen der Aufzeichnung {} lassen sich nicht lesen",
  "the note cannot be kept with record {}":
    "Die Notiz lässt sich nicht bei der Aufzeichnung {} speichern",
  "a note of record {} cannot be taken back":
    "Eine Notiz der Aufzeichnung {} lässt sich nicht zurücknehmen",
  "the history of record {} cannot be read":
    "Die Vorgeschichte der Aufzeichnung {} lässt sich nicht lesen",
  "the job of record {} cannot be read": "Der Auftrag der Aufzeichnung {} lässt sich nicht lesen",
  "{} cannot be read from the store": "{} lässt sich nicht aus der Ablage lesen",
  "{} cannot be kept": "{} lässt sich nicht speichern",
  "the bench's name in {} cannot be read": "Der Name des Prüfstands in {} lässt sich nicht lesen",
  "record {} cannot be handed over": "Die Aufzeichnung {} lässt sich nicht übergeben",
  "the store cannot be moved": "Der Bestand lässt sich nicht übertragen",
  "The target is not empty, and has other rows.": "Das Ziel ist nicht leer und hat andere Zeilen.",
  "the records that wait cannot be read": "Die wartenden Aufzeichnungen lassen sich nicht lesen",
  "Record {} is in the database with other content.":
    "Die Aufzeichnung {} ist mit anderem Inhalt in der Datenbank.",
  "The database took {.0} s to answer: the run was not begun. Press start again.":
    "Die Datenbank brauchte {.0} s für eine Antwort: Der Lauf wurde nicht begonnen. Bitte noch einmal starten.",
  "the units cannot be listed": "Die Verteiler lassen sich nicht auflisten",
  "unit {} cannot be read": "Der Verteiler {} lässt sich nicht lesen",
  "the unit cannot be kept": "Der Verteiler lässt sich nicht speichern",
  "the jobs cannot be listed": "Die Aufträge lassen sich nicht auflisten",
  "job {} cannot be read": "Der Auftrag {} lässt sich nicht lesen",
  "the job cannot be kept": "Der Auftrag lässt sich nicht speichern",
  "job {} cannot be kept": "Der Auftrag {} lässt sich nicht speichern",
  "the photo cannot be kept with job {}": "Das Foto lässt sich nicht beim Auftrag {} speichern",
  "a photo of job {} cannot be read": "Ein Foto des Auftrags {} lässt sich nicht lesen",
  "a photo of job {} cannot be taken off": "Ein Foto des Auftrags {} lässt sich nicht abnehmen",
} as const;
