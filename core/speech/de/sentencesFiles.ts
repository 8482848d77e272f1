// What is wrong in files, tables, notes and typed fields, whichever they are, in German.

export const fileSentences = {
  // Places. What is named may be a file, a field or another sentence.
  "{}": "{}",
  "{}.": "{}.",
  "{} {}": "{} {}",
  "{}: {}.": "{}: {}.",
  "{}, {}: {}.": "{}, {}: {}.",
  "{}, line {}: {}.": "{}, Zeile {}: {}.",
  "{}, line {}, column {}: {}.": "{}, Zeile {}, Spalte {}: {}.",
  "the file": "die Datei",
  "as a whole": "im Ganzen",
  "is missing": "fehlt",
  "there is no such field here": "ein solches Feld gibt es hier nicht",

  // Schemas.
  'expected a number or a text such as "5¼ to 7"':
    'erwartet wird eine Zahl oder ein Text wie "5¼ to 7"',
  "expected {}, received {}": "erwartet wird {}, gegeben ist {}",
  "Invalid input: {}": "Ungültige Eingabe: {}",
  "expected {}": "erwartet wird {}",
  "expected one of {}": "erwartet wird eines von {}",
  "Invalid option: {}": "Ungültige Auswahl: {}",
  "Too small": "Zu klein",
  "too small": "zu klein",
  "Too big": "Zu groß",
  "too big": "zu groß",
  "Invalid ISO date": "Kein Datum der Form JJJJ-MM-TT",
  "invalid ISO date": "kein Datum der Form JJJJ-MM-TT",
  "{}: expected {} to have {}{} characters": "{}: erwartet wird {} mit {}{} Zeichen",
  "{}: expected {} to have {}{} items": "{}: erwartet wird {} mit {}{} Einträgen",
  "{}: expected {} to be {}{}": "{}: erwartet wird {} {}{}",
  number: "eine Zahl",
  int: "eine ganze Zahl",
  string: "ein Text",
  boolean: "Ja oder Nein (true oder false)",
  array: "eine Liste",
  object: "ein Objekt",
  undefined: "nichts",

  // JSON.
  "expected the end, found {}": "erwartet wird das Ende, da steht {}",
  "brackets are nested more than {} deep": "die Klammern sind mehr als {}-fach geschachtelt",
  "expected a key in quotes, found {}":
    "erwartet wird ein Schlüssel in Anführungszeichen, da steht {}",
  'the key "{}" is given twice': 'der Schlüssel "{}" steht zweimal da',
  "expected a colon, found {}": "erwartet wird ein Doppelpunkt, da steht {}",
  'expected a comma or "}", found {}': 'erwartet wird ein Komma oder "}", da steht {}',
  'expected a comma or "]", found {}': 'erwartet wird ein Komma oder "]", da steht {}',
  "a text in quotes is not closed": "ein Text in Anführungszeichen ist nicht geschlossen",
  "a text in quotes runs over the end of its line":
    "ein Text in Anführungszeichen reicht über das Ende seiner Zeile",
  "expected four hexadecimal digits after \\u":
    "erwartet werden vier hexadezimale Ziffern nach \\u",
  '"\\{}" is not allowed in a text': '"\\{}" ist in einem Text nicht erlaubt',
  "expected a value, found {}": "erwartet wird ein Wert, da steht {}",
  "the number {} is too large": "die Zahl {} ist zu groß",
  "the end": "das Ende",

  // Tables in CSV, and the spring drawer's.
  "a quotation mark inside a cell: put the whole cell in quotes and double it":
    "ein Anführungszeichen mitten in einer Zelle: die ganze Zelle in Anführungszeichen setzen und es verdoppeln",
  "a quotation mark is not closed": "ein Anführungszeichen ist nicht geschlossen",
  "something follows a closed quotation mark: double the marks inside a cell":
    "nach dem schließenden Anführungszeichen steht noch etwas: Anführungszeichen in einer Zelle verdoppeln",
  "{} is not a number such as 0.55": "{} ist keine Zahl wie 0.55",
  "{} is not from {} to {}": "{} liegt nicht zwischen {} und {}",
  "a number is missing": "eine Zahl fehlt",
  "{} is empty.": "{} ist leer.",
  "there is no column {}; there are {}": "eine Spalte {} gibt es nicht; es gibt {}",
  "the column {} comes twice": "die Spalte {} kommt zweimal vor",
  "{} cells under {} columns": "{} Zellen unter {} Spalten",
  '"{}" is neither "plugged" nor "on"': '"{}" ist weder "plugged" noch "on"',
  '"{}" comes twice': "„{}“ kommt zweimal vor",
  "a name is missing": "ein Name fehlt",
  "longer than {} letters": "länger als {} Buchstaben",
  "{} is not a whole number": "{} ist keine ganze Zahl",
  "neither wire and coils nor a measured rate is given":
    "weder Draht und Windungen noch eine gemessene Federrate ist angegeben",
  "is missing beside the coils": "fehlt neben den Windungen",
  "is missing beside the wire": "fehlt neben dem Draht",
  "give one of this and outside_diameter_mm":
    "eines von beiden angeben, dies oder outside_diameter_mm",
  "the mean coil diameter, {} mm, is less than {} times the wire, {} mm":
    "der mittlere Windungsdurchmesser, {} mm, ist kleiner als das {}-Fache des Drahtes, {} mm",
  "is missing beside its uncertainty": "fehlt neben ihrer Unsicherheit",
  "a spring without rate is none": "eine Feder ohne Federrate ist keine",
  "a measured rate needs its uncertainty, of 95 % coverage":
    "eine gemessene Federrate braucht ihre Unsicherheit, mit 95 % Überdeckung",
  "the rate is given twice": "die Federrate ist zweimal angegeben",

  // Notes of readings by hand.
  "{} is no line of notes": "{} ist keine Zeile solcher Notizen",
  "there is no reading in it": "es steht kein Messwert darin",
  'there is no setting "{}"': 'eine Angabe "{}" gibt es nicht',
  "a speed in rpm": "eine Drehzahl in U/min",
  "a hold in seconds": "eine Haltezeit in Sekunden",
  "a vacuum in Pa": "ein Unterdruck in Pa",
  "{} rpm comes twice, {}. Keep one line, or the mean of both":
    "{} U/min kommen zweimal vor, {}. Eine Zeile behalten, oder das Mittel aus beiden",
  "this vacuum comes twice, {}. Keep one line, or the mean of both":
    "dieser Unterdruck kommt zweimal vor, {}. Eine Zeile behalten, oder das Mittel aus beiden",
  "a second hold test. Keep the one that counts":
    "eine zweite Halteprüfung. Nur die behalten, die zählt",
  "it reached what was wanted: write how long it was held":
    "es wurde erreicht, was verlangt war: schreiben, wie lange gehalten wurde",
  "it cannot drop by more than there was": "es kann nicht mehr abfallen, als da war",
  '"{}" is given twice': '"{}" steht zweimal da',
  "{} is not {} from {} to {}": "{} ist nicht {} von {} bis {}",
  'a line "{}: {}" is missing': 'eine Zeile "{}: {}" fehlt',
  '"{}" is not {}': '"{}" ist nicht {}',
  '"{}" is neither yes nor no': '"{}" ist weder yes noch no',
  '"{}" is not a number': '"{}" ist keine Zahl',
  '"{}" is no vacuum such as "0.5 inHg"': '"{}" ist kein Unterdruck wie "0.5 inHg"',
  "an uncertainty is never nothing": "eine Unsicherheit ist nie nichts",
  'a line "vacuum rpm: N" is missing, the speed at which vacuum was read':
    'eine Zeile "vacuum rpm: N" fehlt, die Drehzahl, bei der der Unterdruck abgelesen wurde',
  "The notes are of capsule {}; the unit file has {}.":
    "Die Notizen sind von Dose {}; die Verteilerdatei hat {}.",
} as const;
