// What a run meets: plans and their limits, the rig and the link to it, in German.

export const rigSentences = {
  // Plans.
  "the unit has {} capsules": "der Verteiler hat {} Dosen",
  "give either `speedsRpm` or `speedSteps`, not both":
    "entweder `speedsRpm` oder `speedSteps` angeben, nicht beides",
  "{} is above `toRpm`, {}. Swap them": "{} liegt über `toRpm`, {}. Die beiden vertauschen",
  "{} steps are more than {}": "{} Stufen sind mehr als {}",
  "give either this or `speedsRpm` or `speedSteps`":
    "entweder dies angeben oder `speedsRpm` oder `speedSteps`",
  "give either this or `vacuums`": "entweder dies angeben oder `vacuums`",
  "give the `unit` of its vacuum or dropMax": "`unit` angeben, die Einheit von vacuum oder dropMax",
  "give the `unit` of its lowest or highest": "`unit` angeben, die Einheit von lowest oder highest",
  "its lowest, {}, is not below its highest, {}":
    "der kleinste Wert, {}, liegt nicht unter dem größten, {}",
  reference: "Bezug",
  ramp: "Rampe",
  reading: "Messwert",
  readings: "Messwerte",
  capsules: "Dosen",
  plan: "Plan",
  "speed of vacuum sweeps": "Drehzahl der Unterdruckkurven",
  "hold test of the {}": "Halteprüfung der Dose ({})",
  "vacuum sweep of the {}": "Unterdruckkurve der Dose ({})",
  "speed sweep": "Drehzahlkurve",
  "capsule {}": "Dose {}",
  "rpm per second": "U/min je Sekunde",
  turns: "Umdrehungen",
  seconds: "Sekunden",
  "seconds of settling": "Sekunden Beruhigungszeit",
  degrees: "Grad",
  "{} rpm is above {} rpm": "{} U/min liegen über {} U/min",
  "{} in the plan, {} in the unit": "{} im Plan, {} am Verteiler",
  "{} readings are more than {}": "{} Messwerte sind mehr als {}",
  "there is no range to choose from": "es gibt keinen Bereich, aus dem gewählt werden könnte",
  "{} rpm is no speed": "{} U/min sind keine Drehzahl",
  "{} rpm is below the rig's lowest, {} rpm":
    "{} U/min liegen unter der kleinsten Drehzahl des Prüfstands, {} U/min",
  "{} rpm is above the rig's highest, {} rpm":
    "{} U/min liegen über der größten Drehzahl des Prüfstands, {} U/min",
  "its speedMaxRpm": "sein speedMaxRpm",
  "no speedMaxRpm allows more": "kein speedMaxRpm erlaubt mehr",
  "{} rpm is above the unit's highest, {} distributor rpm ({})":
    "{} U/min liegen über der größten Drehzahl des Verteilers, {} U/min am Verteiler ({})",
  "{} kPa": "{} kPa",
  "{} is no vacuum": "{} sind kein Unterdruck",
  "the rig has no vacuum sensor": "der Prüfstand hat keinen Unterdrucksensor",
  "{} is above the sensor's range, {} kPa": "{} liegen über dem Messbereich des Sensors, {} kPa",
  "{} is more than a pump reaches here, {} kPa":
    "{} sind mehr, als eine Pumpe hier erreicht, {} kPa",
  "a drop of {} kPa is not between 0 and the vacuum itself":
    "ein Abfall von {} kPa liegt nicht zwischen 0 und dem Unterdruck selbst",
  "{} {} is not within {} to {}": "{} {} liegen nicht zwischen {} und {}",
  "the steps do not rise": "die Stufen steigen nicht an",
  "Capsule {} was asked for; the unit file has {}.":
    "Verlangt wurde Dose {}; die Verteilerdatei hat {}.",
  'The unit turns {}; the rig "{}" turns {} only.':
    "Der Verteiler dreht {}; der Prüfstand „{}“ dreht nur: {}.",
  cw: "im Uhrzeigersinn (cw)",
  ccw: "gegen den Uhrzeigersinn (ccw)",

  // The link.
  "the port was closed": "der Anschluss wurde geschlossen",
  "The port {} cannot be opened ({}).": "Der Anschluss {} lässt sich nicht öffnen ({}).",
  "a write did not go out within one second":
    "eine Nachricht ging binnen einer Sekunde nicht hinaus",
  "The command was given up for a stop.": "Der Befehl wurde für einen Halt aufgegeben.",
  "The link broke: {}.": "Die Verbindung riss ab: {}.",
  'The rig "{}" speaks protocol version {} with {} index pulses a turn; this program speaks version {} with 1.':
    "Der Prüfstand „{}“ spricht Protokollversion {} mit {} Nullimpulsen je Umdrehung; dieses Programm spricht Version {} mit 1.",
  "The link to the rig is gone.": "Die Verbindung zum Prüfstand ist weg.",
  'No reply to "{}" within {} ms, sent {} times.':
    "Keine Antwort auf „{}“ binnen {} ms, {}-mal gesendet.",
  "{} good and {} bad lines came": "{} gute und {} schlechte Zeilen kamen",
  "No hello from the rig within {} s ({}).": "Der Prüfstand meldete sich nicht binnen {} s ({}).",
  'The rig refused "{}": {}.': "Der Prüfstand verweigerte „{}“: {}.",
  "set speed {} rpm": "Drehzahl auf {} U/min",
  "set vacuum {} Pa": "Unterdruck auf {} Pa",
  arm: "scharf schalten",
  stop: "anhalten",
  vent: "belüften",
  hold: "absperren",
  ask: "melden",
  "old-number": "alte Befehlsnummer",
  fields: "unverständlicher Befehl",
  "guard-open": "die Schutzhaube steht offen",
  "stop-input": "der Halt am Prüfstand ist gedrückt",
  latched: "eine Störung ist noch nicht zurückgesetzt",
  "not-armed": "nicht scharf geschaltet",
  "bad-token": "falsche Kennung",
  direction: "diese Drehrichtung kann er nicht",
  turning: "die Spindel dreht noch andersherum",
  range: "außerhalb seines Bereichs",
  "no-sensor": "kein Unterdrucksensor",
  "The rig started anew in mid-run.": "Der Prüfstand startete mitten im Lauf neu.",
  "No news of its state came from the rig for one second.":
    "Eine Sekunde lang meldete der Prüfstand seinen Zustand nicht neu.",
  "The rig is no longer armed, and did not say why.":
    "Der Prüfstand ist nicht mehr scharf und meldete nicht, warum.",
  "The rig armed without a token.": "Der Prüfstand wurde scharf, ohne eine Kennung zu nennen.",

  // The run.
  "A run is in progress.": "Ein Lauf ist im Gang.",
  "The program is closing.": "Das Programm wird gerade beendet.",
  "The run was stopped by the user.": "Der Lauf wurde vom Benutzer angehalten.",
  "The controlling page is gone.": "Die Seite, die den Lauf führte, ist weg.",
  "The rig stopped for want of a stay-alive.":
    "Der Prüfstand hielt an, weil das Lebenszeichen ausblieb.",
  "The guard was opened.": "Die Schutzhaube wurde geöffnet.",
  "The stop at the rig was pressed.": "Der Halt am Prüfstand wurde gedrückt.",
  "The rig reports overspeed.": "Der Prüfstand meldet Überdrehzahl.",
  "The rig reports that the spindle does not turn.":
    "Der Prüfstand meldet, dass die Spindel nicht dreht.",
  "The rig reports a fault of its vacuum sensor.":
    "Der Prüfstand meldet eine Störung seines Unterdrucksensors.",
  "The spindle should come to {} rpm and turns at {.0} rpm.":
    "Die Spindel soll auf {} U/min kommen und dreht mit {} U/min.",
  "The spindle should turn at {} rpm and turns at {.0} rpm.":
    "Die Spindel soll mit {} U/min drehen und dreht mit {} U/min.",
  "No turns were seen on the way to {} rpm.":
    "Auf dem Weg zu {} U/min war keine Umdrehung zu sehen.",
  "Only {} of {} turns came at {} rpm.": "Nur {} von {} Umdrehungen kamen bei {} U/min.",
  "No vacuum readings come from the rig.": "Vom Prüfstand kommen keine Unterdruckwerte.",
  "No vacuum lines came in the hold test.": "In der Halteprüfung kamen keine Unterdruckwerte.",
  "The spindle turns, but no firing edge comes.":
    "Die Spindel dreht, aber es kommt keine Zündflanke.",
  "The unit file says {} lobes; {.1} firing edges a turn came, or not at these angles.":
    "Die Verteilerdatei nennt {} Nocken; es kamen {} Zündflanken je Umdrehung, oder nicht bei diesen Winkeln.",
  "At {} rpm the spark comes {.1}° (distributor) later than at the reference speed.":
    "Bei {} U/min kommt der Funke {}° (Verteiler) später als bei der Bezugsdrehzahl.",
  "No usable sparks at {} rpm; this reading is left out.":
    "Keine brauchbaren Funken bei {} U/min; dieser Messwert entfällt.",
  "The vacuum stayed at {.1} kPa where {.1} kPa were asked for; higher ones are left out.":
    "Der Unterdruck blieb bei {} kPa stehen, wo {} kPa verlangt waren; höhere entfallen.",
  rising: "steigend",
  falling: "fallend",
  speed: "Drehzahlkurve",
  vacuum: "Unterdruckkurve",
  "{} to {}": "{} bis {}",
  "{.0} rpm": "{} U/min",
  "{.1} kPa": "{} kPa",
  "On the {} branch of the {} sweep the advance leaps from {}: no reading tells where in between.":
    "Die Verstellung springt ({2}, {1}) von {3}: Kein Messwert sagt, wo dazwischen.",
  "The {} branch of the {} sweep is not known within {}° from {}.":
    "Die Kurve ({2}, {1}) ist nicht auf {3}° genau bekannt von {4}.",
} as const;
