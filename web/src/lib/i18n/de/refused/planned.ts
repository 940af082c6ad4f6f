import type { Told } from '../../told';

/** Meets, divisions, benches, entries and tables. */
export const planned: Told = {
  'bad-id':
    'Die Kennung „{id}“ geht nicht: 1 bis 64 Buchstaben, Ziffern, Punkte, Binde- und Unterstriche, am Anfang ein Buchstabe oder eine Ziffer.',
  'plan-name': 'Gib dem Renntag einen Namen von 1 bis 200 Zeichen.',
  'plan-date': '„{date}“ ist kein Datum: Schreib es als JJJJ-MM-TT.',
  'plan-hour': '„{hour}“ ist keine Uhrzeit: Schreib sie als SS:MM.',
  'plan-hours': 'Die Halle öffnet um {opens} und schließt um {closes}: Schließen muss nach dem Öffnen kommen.',
  'plan-tasks': 'Ein Plan hat neben den Rennen höchstens {most} Aufgaben.',
  'plan-task-opens': 'Schreib, wann die Halle öffnet: Danach richten sich die Aufgaben des Tages.',
  'plan-task-kind': '{kind} ist keine Aufgabe eines Tages: Nimm set-up, bench-check, practice, briefing oder lunch.',
  'plan-task-minutes': 'Eine Aufgabe dauert 1 bis {most} Minuten: Schreib, wie viele.',
  'plan-lunch-time': 'Schreib, ab wann Mittag ist. Ein Ende hat nur ein Mittag, das jedes Kind für sich hat.',
  'plan-lunch-window': '{minutes} Minuten Mittag passen nicht zwischen {at} und {until}.',
  'plan-task-hours':
    'Eine Aufgabe von {minutes} Minuten läge außerhalb der Zeit der Halle: Ändere ihre Uhrzeit oder die Zeiten.',
  adults: 'Schreib, wie viele Erwachsene an den Prüfständen sind: 1 bis {most}.',
  'cuts-fixed': 'Der erste Lauf ist aufgerufen: Die Liste der Kürzungen bleibt, wie sie gedruckt wurde.',
  'cuts-many': 'Eine Liste von Kürzungen hat höchstens {most}: Wähle die wichtigsten.',
  'cut-twice': 'Eine Kürzung der Klasse {division} steht zweimal auf der Liste.',
  'cut-unknown':
    'Diese Kürzung der Klasse {division} spart nach dem jetzigen Plan keine Minute: Sieh die Liste noch einmal an.',
  'rehearse-nothing':
    'Es lässt sich nichts proben: Der Tag braucht Prüfstände, die laufen, und Klassen mit gemeldeten Kindern.',
  'plan-minutes': 'Aufräumen und Siegerehrung dauern je 0 bis {most} Minuten: Schreib, wie viele.',
  'plan-drawn':
    'Eine Klasse ist schon ausgelost: Das Datum {date} und der Stichtag bleiben; Name, Ort und Zeiten dürfen sich ändern.',
  planned: 'Dieser Renntag ist schon geplant: Öffne ihn, statt ihn noch einmal zu planen.',
  'not-planned': 'Diesen Renntag gibt es noch nicht: Plane ihn zuerst.',
  'rules-range':
    'Eine Regel liegt außerhalb ihrer Grenzen: Einspruchsfrist 0 bis 24 Stunden, Aufrufzeit 0 bis 1 Stunde, Wiederholungen 0 bis 20, versprochene Rennen 0 bis 50.',
  'incident-twice': '„{incident}“ steht zweimal in der Tabelle, was passieren kann: Sag einmal, was daraus folgt.',
  'incident=off-rollers': 'Auto von den Rollen gesprungen',
  'incident=stalled': 'Stehen geblieben',
  'incident=false-start': 'Fehlstart',
  'incident=bench-failed': 'Stand ausgefallen',
  'stage-late':
    'Abschnitt {stage} der Klasse „{division}“ kann diese Regel für späte Anmeldungen nicht haben: Nur ein erster Abschnitt nimmt Anmeldungen auf, und nicht, wo ein Plan alle Durchgänge auf einmal auslost; wähle „niemand“ oder „im nächsten Durchgang“.',
  'rules-word': 'Eine Regel hat ein Wort, das nicht zur Auswahl steht: Sieh in die Liste der Regeln.',
  'rules-fixed': 'Die Regeln stehen fest, seit der erste Lauf aufgerufen wurde.',
  'no-division': 'Diese Klasse gibt es an diesem Renntag nicht: Sieh in den Plan.',
  'division-name': 'Gib jeder Klasse einen Namen von 1 bis 100 Zeichen.',
  'division-ages':
    'Das Alter der Klasse „{division}“ passt nicht: Es muss von einem niedrigeren zu einem höheren gehen.',
  'division-lengths':
    'Die Längen der Autoklasse von „{division}“ passen nicht: Eine Runde ist 1 mm bis 1 km, ein Rad höchstens 1 m.',
  'division-class':
    'Die Autoklasse von „{division}“ passt nicht: Sie hat 0 bis {cells} Zellen und wiegt höchstens {kg} kg.',
  'division-stages': 'Die Klasse „{division}“ braucht 1 bis {most} Abschnitte.',
  'division-drawn': 'Die Klasse „{division}“ ist schon ausgelost: Sie kann nicht mehr geändert werden.',
  'stage-kind': 'Abschnitt {stage} der Klasse „{division}“ hat eine unbekannte Form: Wähle eine aus der Liste.',
  'stage-race': 'Abschnitt {stage} der Klasse „{division}“: Ein Rennen dauert 1 Sekunde bis 4 Stunden.',
  'stage-lanes': 'Abschnitt {stage} der Klasse „{division}“: Ein Lauf hat 1 bis {most} Bahnen.',
  'stage-entries':
    'Abschnitt {stage} der Klasse „{division}“: Wie viele weiterkommen, ist 0 (alle) oder mehr, und der erste Abschnitt nimmt alle.',
  'knockout-lanes': 'Abschnitt {stage} der Klasse „{division}“ ist ein K. o.: Seine Läufe haben 2 Bahnen.',
  'knockout-rounds':
    'Abschnitt {stage} der Klasse „{division}“ ist ein K. o.: Seine Durchgänge folgen aus den Anmeldungen, lass sie weg.',
  'timed-rounds': 'Abschnitt {stage} der Klasse „{division}“ braucht 1 bis {most} Durchgänge.',
  'timed-rule':
    'Abschnitt {stage} der Klasse „{division}“ hat eine unbekannte Regel: Wähle die beste, den Mittelwert, die mittlere oder die Summe.',
  'stage-pairs': 'Abschnitt {stage} der Klasse „{division}“ ({kind}) hat Läufe zu zweit: Gib ihm 2 Bahnen.',
  'stage-setting':
    'Abschnitt {stage} der Klasse „{division}“ ({kind}) kennt eine der Einstellungen nicht: Lass sie weg.',
  'kind=timed-rounds': 'Durchgänge auf Zeit',
  'kind=knockout': 'K. o.',
  'kind=double-elimination': 'Doppel-K.-o.',
  'kind=round-robin': 'Jeder gegen jeden',
  'kind=swiss': 'Schweizer System',
  'kind=groups': 'Gruppen',
  'kind=heats': 'Läufe mit vielen Bahnen',
  'kind=points-rounds': 'Durchgänge um Punkte nach Platz',
  'stage-cycles': 'Abschnitt {stage} der Klasse „{division}“: Je zwei treffen 1- bis {most}-mal aufeinander.',
  'stage-seeding':
    'Abschnitt {stage} der Klasse „{division}“ kann so nicht gesetzt werden: Ein erster Abschnitt wird nach Los, von Hand oder nach Wertungszahl gesetzt, ein späterer nach den Plätzen des Abschnitts davor, bis jemand eine andere Reihenfolge gibt.',
  'stage-seeds': 'Abschnitt {stage} der Klasse „{division}“ kann 0 (alle) bis {most} Gesetzte haben.',
  'stage-groups': 'Abschnitt {stage} der Klasse „{division}“ braucht 2 bis {most} Gruppen.',
  'stage-heats':
    'Abschnitt {stage} der Klasse „{division}“ hat Läufe mit vielen: 2 bis {lanes} Bahnen, höchstens {heats} Läufe im ersten Durchgang (0 für so wenige wie möglich); aus jedem Lauf kommen 1 bis einer weniger als Bahnen weiter, mit 0 bis {lanes} Nächstbesten.',
  'division-merged':
    'Die Klasse „{division}“ fährt in der Klasse „{into}“: Gib die Anweisung dort, oder trenne sie zuerst.',
  'merge-with': 'Nenne die Klassen, die in „{division}“ fahren sollen.',
  'merge-twice': 'Die Klasse „{division}“ ist zweimal genannt: Nenne jede, die in einer anderen fahren soll, einmal.',
  'merge-host':
    'In der Klasse „{division}“ fahren schon andere: Trenne sie zuerst, oder lass sie in ihr zusammen fahren.',
  'merge-class':
    'Die Autos der Klassen „{division}“ und „{into}“ sind von verschiedenen Autoklassen: Nur eine Autoklasse fährt zusammen.',
  'stage-lane-design':
    'Abschnitt {stage} der Klasse „{division}“ verteilt Bahnen nach einem Plan: Gib ihm 2 bis {lanes} Bahnen.',
  'stage-place-points':
    'Abschnitt {stage} der Klasse „{division}“ hat Läufe um Punkte: 2 bis {lanes} Bahnen, höchstens eine Punktzahl je Bahn, vom ersten Platz an und nie steigend, der erste Platz 1 bis {most}.',
  'stage-place-tie-break':
    'Abschnitt {stage} der Klasse „{division}“ kann diese Regel bei Gleichstand dort nicht haben: Läufe um Punkte kennen bessere Plätze, Siege und zuletzt die nächstbeste Fahrt, je einmal.',
  'heats-benches':
    'Abschnitt {stage} der Klasse „{division}“ hat Läufe mit {lanes} Bahnen, und {benches} Stände sind in Betrieb: Hol Stände zurück, oder plane weniger Bahnen.',
  'stage-points':
    'Abschnitt {stage} der Klasse „{division}“: Ein Sieg ist höchstens {most} Punkte wert und mehr als ein Unentschieden, ein Unentschieden mindestens so viel wie eine Niederlage, eine Niederlage 0 oder mehr.',
  'stage-tie-break':
    'Abschnitt {stage} der Klasse „{division}“ nennt eine Regel bei Gleichstand zweimal, oder sie ist keine für Läufe zu zweit: Sieh in die Liste.',
  'timed-third':
    'Abschnitt {stage} der Klasse „{division}“ hat Durchgänge auf Zeit: Ein Lauf um Platz 3 gehört zu einem K. o.',
  'knockout-legs':
    'Abschnitt {stage} der Klasse „{division}“ ist ein K. o.: Seine Läufe haben ein Rennen oder zwei Teile.',
  'promise-short':
    'Die Regeln versprechen allen {promised} Rennen, und das Programm der Klasse „{division}“ sichert den bisher Angemeldeten {sure} zu: Ändere das Versprechen oder das Programm, oder mach in diesem Wissen weiter.',

  // Benches.
  'no-bench': 'Diesen Stand gibt es hier nicht: Trage ihn ein, und hol ihn in den Renntag.',
  'bench-settings':
    'Die Einstellungen dieses Stands können nicht sein: Nummer 1 bis 999, Umfang der Rolle 1 mm bis 10 m mit einer Unsicherheit von höchstens einem Zehntel davon, 1 bis 24 Marken je Drehung.',
  'bench-measured':
    'Aus dem Gemessenen folgen {mm} mm mit einer Standardunsicherheit von {u} mm: Sende das, oder lass weg, wie gemessen wurde.',
  'bench-two-ways': 'Sag auf eine Art, wie die Rolle gemessen wurde: abgerollt oder mit dem Messschieber.',
  'bench-unlike':
    '{mm} mm ist eine ganz andere Rolle: Die der anderen Stände haben etwa {usual} mm Umfang. Such nach einem verrutschten Komma oder einem Durchmesser an seiner Stelle; stimmt es, sag es.',
  'bench-number': 'Die Nummer {number} steht schon auf einem anderen Stand: Gib jedem Stand eine eigene.',
  'bench-there': 'Stand {bench} ist schon eingetragen.',
  'bench-retired': 'Stand {bench} wurde ausgemustert: Hol ihn zuerst zurück.',

  // Entries.
  'no-entry': 'Diese Anmeldung gibt es an diesem Renntag nicht: Sieh in die Liste der Anmeldungen.',
  'entry-there': 'Diese Anmeldung ist schon im Renntag.',
  'entrant-there':
    'Diese Person ist in der Klasse „{division}“ schon angemeldet, mit Startnummer {number}: Eine Person meldet sich in einer Klasse einmal an.',
  'entry-team':
    'Gib den Verein mit höchstens {most} Zeichen an, wie er gezeigt werden soll, ohne Leerzeichen davor und danach; lass ihn weg, wenn es keinen gibt. Schreib dort nie den Namen einer Person.',
  'start-number': '{number} ist keine Startnummer: Gib eine von 1 bis {most}.',
  'saved-since':
    'Seit du dies geöffnet hast, wurde es anderswo gespeichert, und von dir ist nichts gespeichert: Vergleiche beides, und behalte deines oder nimm das andere.',
  'start-number-taken': 'Die Startnummer {number} ist in der Klasse „{division}“ vergeben: Gib eine andere.',
  'entries-closed': 'Die Anmeldung der Klasse „{division}“ ist geschlossen: Öffne sie vor der Auslosung wieder.',
  'entries-open':
    'Die Anmeldung der Klasse „{division}“ ist noch offen: Schließe sie vor der Auslosung, damit beim Anmelden niemand die Lose kennt.',
  'entry-late': 'Die Klasse „{division}“ ist ausgelost, und ihre Regeln nehmen danach niemanden mehr auf.',
  'too-old':
    'Startnummer {number} ist am Stichtag älter als {age}: Melde in einer älteren Klasse an. Hochfahren ist erlaubt, herunter nicht.',
  'check-in-drawn': 'Startnummer {entry} ist schon ausgelost: Zieh sie stattdessen zurück.',
  'entry-out': 'Startnummer {number} nimmt nicht mehr teil: Sie wurde zurückgezogen oder disqualifiziert.',
  'no-entries': 'In der Klasse „{division}“ ist niemand als da gemeldet: Melde zuerst, wer da ist.',
  'entries-many': 'Eine Anweisung nimmt 1 bis {most} Anmeldungen auf einmal: Nimm eine längere Liste in Teilen.',

  // Put away.
  'meet-away': 'Dieser Renntag ist weggelegt: Hol ihn zuerst zurück.',
  'division-away': 'Die Klasse „{division}“ ist weggelegt: Hol sie zuerst zurück.',
  'away-one': 'Nenne eine Anmeldung oder eine Klasse, oder keine für den ganzen Renntag.',
  'away-racing': 'Die Autos sind an ihren Ständen ({heat}): Sag den Lauf ab oder beende ihn, dann leg den Renntag weg.',
  'away-published':
    'Die Ergebnisse der Klasse „{division}“ sind veröffentlicht: Familien kennen sie, und Wertungszahlen rechnen damit, deshalb bleibt dieser Renntag.',
  'away-drawn': 'Die Klasse „{division}“ ist ausgelost: Sie bleibt, oder der ganze Renntag wird weggelegt.',
  'away-entry-drawn': 'Die Klasse „{division}“ ist ausgelost: Zieh Startnummer {number} stattdessen zurück.',
  'away-marked':
    'Der Abnahmetisch oder eine Entscheidung nennt Startnummer {number}: Zieh die Anmeldung stattdessen zurück, damit das Aufgeschriebene zu jemandem gehört.',
  'away-late':
    'Die Klasse „{division}“ wurde ausgelost, während Startnummer {number} weggelegt war: Melde sie neu an, wenn die Regeln noch jemanden aufnehmen.',

  // Entries from a table.
  'table-empty': 'Hier steht nichts: Kopiere die Liste mit ihrer Kopfzeile, oder wähle eine andere Datei.',
  'table-workbook':
    'Das ist die eigene Datei einer Tabellenkalkulation: Speichere sie dort als CSV (UTF-8), oder kopiere die Zellen und füge sie hier ein.',
  'table-wide':
    'Das ist Text in UTF-16: Speichere ihn als CSV in UTF-8, oder kopiere die Zellen und füge sie hier ein.',
  'table-control':
    'Hier steht ein Zeichen, das kein Text hat (Byte {byte}): Das ist keine Tabelle, oder sie wurde beschädigt. Speichere sie neu als CSV, oder kopiere die Zellen und füge sie hier ein.',
  'table-damaged':
    'Ein Zeichen hier ist beschädigt, ein Name käme falsch heraus: Speichere die Tabelle neu als CSV in UTF-8.',
  'table-lost-character':
    'Ein Zeichen hier ging schon vorher verloren und erscheint als �: Stell es in der Liste richtig, oder speichere sie neu als CSV in UTF-8.',
  'table-quote-open': 'Ein Anführungszeichen beginnt hier und endet nie: Schließe es, oder nimm es weg.',
  'table-quote-inside':
    'Ein Anführungszeichen steht hier falsch: Setze die ganze Zelle in Anführungszeichen und schreib jedes darin zweimal, oder nimm es weg.',
  'table-separators':
    'Die Spaltenköpfe sind durch {separator} getrennt und hier auch durch {other}: Nimm eines davon für die ganze Tabelle.',
  'separator=commas': 'Kommas',
  'separator=semicolons': 'Semikolons',
  'separator=tabs': 'Tabulatoren',
  'other=commas': 'Kommas',
  'other=semicolons': 'Semikolons',
  'other=tabs': 'Tabulatoren',
  'table-separator-here':
    'Diese Zeile ist anders getrennt als die Spaltenköpfe: Nimm dasselbe Zeichen für alle {heads} Zellen.',
  'table-no-heads':
    'Die erste Zeile muss sagen, was die Spalten sind, etwa: Nummer; Spitzname; Name; Geburtsdatum; Verein. Setze eine solche Zeile über die Liste.',
  'table-no-name': 'Keine Spalte heißt Name, oder Vorname und Nachname: Gib einer der Spalten diesen Kopf.',
  'table-head-twice':
    '„{head}“ sagt dasselbe wie der Kopf von Spalte {first}: Behalte einen davon und nenne den anderen anders.',
  'table-head-unknown':
    '„{head}“ ist kein bekannter Kopf, deshalb fällt die Spalte weg. Wird sie gebraucht, nenne sie anders.',
  'table-western':
    'Die Datei ist kein UTF-8 und wurde als Windows-1252 gelesen: Sieh nach, ob die Buchstaben der Namen stimmen.',
  'table-no-rows': 'Unter den Spaltenköpfen steht keine Anmeldung: Kopiere auch die Zeilen darunter.',
  'table-rows':
    'Die Tabelle hat {rows} Zeilen; {most} werden auf einmal genommen: Nimm diese und die darunter in einer zweiten Tabelle.',
  'table-columns': 'Die Tabelle hat {columns} Spalten; {most} werden gelesen: Lass weg, was nicht nötig ist.',
  'table-cells-many':
    'Diese Zeile hat {cells} Zellen, und Spaltenköpfe gibt es {heads}: Nimm weg, was zu viel ist, oder setze eine Zelle mit Trennzeichen in Anführungszeichen.',
  'table-cells-few':
    'Diese Zeile hat {cells} Zellen, und Spaltenköpfe gibt es {heads}: Setze ein, was fehlt, auch leere Zellen.',
  'table-cell-long': 'Das hat {length} Zeichen; höchstens {most} passen hier: Kürze es.',
  'table-name-empty': 'Der Name fehlt: Schreib ihn hierher.',
  'table-date': '„{cell}“ ist kein Datum, das nur einen Tag meinen kann: Schreib es als 31.12.2017 oder 2017-12-31.',
  'table-no-such-day': 'Den Tag {cell} gibt es nicht: Sieh noch einmal auf den Zettel.',
  'table-number':
    '„{cell}“ ist keine Startnummer: Schreib eine ganze Zahl von 1 bis {most}, oder lass sie leer für die nächste freie.',
  'table-number-twice': 'Startnummer {number} steht auch in Zeile {line}: Gib eine andere, etwa {free}.',
  'table-number-taken': 'Startnummer {number} ist vergeben: Gib eine andere, etwa {free}.',
  'table-division': '„{cell}“ ist keine Klasse dieses Renntags: Schreib eine von {divisions}.',
  'table-division-empty':
    'Hier ist keine Klasse genannt: Schreib eine, oder wähle eine für alle Zeilen, die keine nennen.',
  'table-too-old':
    '{years} Jahre am Stichtag ist älter als {age}, das höchste Alter dieser Klasse: Sieh nach dem Datum, oder nenne eine ältere Klasse. Hochfahren ist erlaubt, herunter nicht.',
  'table-person-there':
    'Diese Person ist in dieser Klasse schon angemeldet, mit Startnummer {number}: Nimm diese Zeile heraus.',
  'table-yes-no': '„{cell}“ ist weder ja noch nein: Schreib ja oder nein, oder lass es leer für nein.',
  'table-consents':
    '„{cell}“ sagt nicht, womit man einverstanden ist: Schreib Anzeigen, Ergebnisse, Fotos, oder nichts.',
  'table-faults':
    'Nichts wurde aufgenommen, denn in der Tabelle stehen {faults} Fehler, der erste in Zeile {line}, Spalte {column}: Sieh sie noch einmal an und verbessere sie.',
  'table-one-source': 'Gib eine Datei, einen Text oder Spaltenköpfe mit Zeilen: eines von dreien.',
};
