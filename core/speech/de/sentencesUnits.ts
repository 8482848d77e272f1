// What is wrong in a unit file, or in a unit as it is typed, in German. Field names and what has to be
// typed stay as the file has them.

export const unitSentences = {
  "The unit": "Der Verteiler",
  "one lobe cannot scatter. Take the field out":
    "ein einziger Nocken kann nicht streuen. Das Feld weglassen",
  "is missing, and so is lobeAnglesDeg": "fehlt, und lobeAnglesDeg auch",
  "give either `lobes` or `lobeAnglesDeg`, not both":
    "entweder `lobes` oder `lobeAnglesDeg` angeben, nicht beides",
  "the first lobe stands at 0. Count the others from it":
    "der erste Nocken steht bei 0. Die anderen von ihm aus zählen",
  "the next lobe must come at least {}° after {}°":
    "der nächste Nocken muss mindestens {}° nach {}° kommen",
  'is missing: say whether this {} trigger fires on edge "a" or "b"':
    'fehlt: angeben, ob dieser Geber ({}) an der Flanke "a" oder "b" zündet',
  "has no unit: say it in the capsule's `vacuum`":
    "hat keine Einheit: sie in `vacuum` der Dose angeben",
  "{} {} is more than there can be": "{} {} sind mehr, als es geben kann",
  "distributor rpm": "U/min am Verteiler",
  "crankshaft rpm": "U/min der Kurbelwelle",
  "must be less than the vacuum itself": "muss weniger sein als der Unterdruck selbst",

  // Bands.
  "this is a vacuum. Put it into the capsule's lines":
    "das ist ein Unterdruck. Er gehört in die Zeilen der Dose",
  "weights that retard are not known":
    "Fliehgewichte, die nach spät verstellen, sind nicht bekannt",
  "degrees before top dead centre include the initial timing. How much is it? Say so in `includesInitialDeg`":
    "Grad vor dem oberen Totpunkt enthalten die Grundeinstellung. Wie groß ist sie? In `includesInitialDeg` angeben",
  "this is a speed. Put it into the lines of `speed`":
    "das ist eine Drehzahl. Sie gehört in die Zeilen von `speed`",
  "a capsule's degrees are without initial timing":
    "die Grade einer Dose sind ohne Grundeinstellung",
  "the line says {}, `acts` does not. Which is right?":
    "die Zeile sagt „{}“, `acts` nicht. Was stimmt?",
  "is missing: the unit of its vacuums": "fehlt: die Einheit der Unterdrücke",
  "is missing: where are the rows printed": "fehlt: Wo sind die Zeilen gedruckt",
  'is missing: "distributor" or "crankshaft"':
    'fehlt: "distributor" (Verteiler) oder "crankshaft" (Kurbelwelle)',
  "give either `rows` or `lines`, not both": "entweder `rows` oder `lines` angeben, nicht beides",
  "is missing, and so is `rows`": "fehlt, und `rows` auch",
  "there is no line in it": "es steht keine Zeile darin",
  "are its degrees the distributor's or the crankshaft's? Say so in the line, \"14 crank at …\", or in `degrees`":
    'sind es Grad am Verteiler oder an der Kurbelwelle? In der Zeile angeben, "14 crank at …", oder in `degrees`',
  "is its speed the distributor's or the engine's? Say so in the line, \"… at 2000 engine rpm\", or in `rpm`":
    'ist es die Drehzahl des Verteilers oder des Motors? In der Zeile angeben, "… at 2000 engine rpm", oder in `rpm`',
  'which unit is its vacuum in? Say so in the line, "… at 250 mmHg", or in `vacuum`':
    'welche Einheit hat der Unterdruck? In der Zeile angeben, "… at 250 mmHg", oder in `vacuum`',
  "the line says {}, `{}` says {}. Which is right? Change one, or take `{}` out":
    "die Zeile sagt „{}“, `{}` sagt „{}“. Was stimmt? Eines ändern, oder `{}` weglassen",

  // Dwell.
  "the dwell of a {} trigger is not measured. Take the field out":
    "bei einem Geber dieser Art ({}) wird kein Schließwinkel gemessen. Das Feld weglassen",
  "the unit has one set of contacts, so {} of two cannot be chosen. Add secondSet, or choose none":
    "der Verteiler hat einen Kontaktsatz; „{}“ von zweien lässt sich nicht wählen. secondSet ergänzen, oder keinen wählen",
  "a {} trigger has no contacts. Take the field out":
    "ein Geber dieser Art ({}) hat keine Kontakte. Das Feld weglassen",
  "staggered sets share the lobes evenly, and there are {}":
    "versetzte Kontaktsätze teilen sich die Nocken zu gleichen Teilen, und es sind {}",
  "give one of `degrees` and `percent`": "eines von `degrees` und `percent` angeben",
  'a single figure cannot be met exactly. Write a range, or "51 ± 4"':
    'eine einzelne Zahl lässt sich nicht genau treffen. Einen Bereich schreiben, oder "51 ± 4"',
  "a share of the spacing is not plain where lobes are spaced unevenly. Give degrees":
    "ein Anteil der Nockenteilung ist nicht eindeutig, wo die Nocken ungleich stehen. Grad angeben",
  "the lower limit is negative": "die untere Grenze ist negativ",
  "more than the spacing of the lobes, {} distributor degrees":
    "mehr als die Nockenteilung, {} Verteilergrad",

  // Typed lines.
  "a comma between digits parts decimals in one country and thousands in the next. Write 5.25 and 2300":
    "ein Komma zwischen Ziffern trennt im einen Land Dezimalen, im nächsten Tausender. 5.25 und 2300 schreiben",
  '{} is no line such as "14 at 2300", "5¼–7 at 1600 engine rpm", "9 at 250 mmHg", "no advance below 400", "starts at 350–450" or "max 14 by 2400"':
    '{} ist keine Zeile wie "14 at 2300", "5¼–7 at 1600 engine rpm", "9 at 250 mmHg", "no advance below 400", "starts at 350–450" oder "max 14 by 2400"',
  "{}: only a vacuum can stand twice, in two units that are named":
    "{}: Nur ein Unterdruck kann zweimal dastehen, in zwei Einheiten, die genannt sind",
  "{}: the two vacuums are not the same": "{}: Die beiden Unterdrücke sind nicht gleich",

  // Rows.
  "this row stands below the one before. Put the rows in rising order":
    "diese Zeile liegt unter der vorigen. Die Zeilen aufsteigend ordnen",
  "there is already a row with {}": "es gibt schon eine Zeile mit {}",
  "there is already a row at this place": "es gibt schon eine Zeile an dieser Stelle",
  "a row has exactly one of {}; this one has {}": "eine Zeile hat genau eines von {}; diese hat {}",
  "a row with a range in `at` needs one figure in `degrees`, without tolerance":
    "eine Zeile mit einem Bereich in `at` braucht eine Zahl in `degrees`, ohne Toleranz",
  "a row with noneBelow takes `max` only": "eine Zeile mit noneBelow hat nur `max`",
  "give either `max` or `tolerance`, not both":
    "entweder `max` oder `tolerance` angeben, nicht beides",
  "a row with start takes no degrees": "eine Zeile mit start hat keine Grade",
  "a single figure cannot be met exactly. Write a range, or use noneBelow":
    "eine einzelne Zahl lässt sich nicht genau treffen. Einen Bereich schreiben, oder noneBelow verwenden",
  "give either `degrees` or `min` and `max`, not both":
    "entweder `degrees` oder `min` und `max` angeben, nicht beides",
  "a tolerance needs one figure in `degrees`": "eine Toleranz braucht eine Zahl in `degrees`",
  "`degrees`, `min` or `max` is missing": "`degrees`, `min` oder `max` fehlt",
  "{} is above `max`, {}. Swap them": "{} liegt über `max`, {}. Die beiden vertauschen",
  "`degrees` already says how far it may be off":
    "`degrees` sagt schon, um wie viel es abweichen darf",
  "{} is less than the initial timing that it includes, {}":
    "{} ist weniger als die Grundeinstellung, die darin enthalten ist, {}",
  "{} is more than {} distributor degrees, which no unit has":
    "{} ist mehr als {} Verteilergrad, und das hat kein Verteiler",
  "{} is negative": "{} ist negativ",
  '{} is not a figure. Write 5.25, "5¼", "5 1/4", "5¼ to 7" or "5 ± 1"':
    '{} ist keine Zahl. 5.25, "5¼", "5 1/4", "5¼ to 7" oder "5 ± 1" schreiben',
  "the range runs backwards, from {} to {}": "der Bereich läuft rückwärts, von {} bis {}",
  "one figure is wanted here, not a range": "hier ist eine einzelne Zahl verlangt, kein Bereich",
} as const;
