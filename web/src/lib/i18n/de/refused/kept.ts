import type { Told } from '../../told';

/** Packs and inspection as orders, the club, keys, and the server itself. */
export const kept: Told = {
  'pack-out': 'Pack {pack} ist bei Startnummer {number}: Nimm ihn zuerst zurück.',
  'pack-not-out': 'Pack {pack} ist niemandem ausgeliehen: Nichts kann zurückkommen.',
  'pack-twice': 'Pack {pack} steht zweimal in der Liste: Gib jedem Pack eine eigene Nummer.',
  'pack-set-size': 'Ein Satz hat 1 Pack oder mehr, und so viele, wie Autos in einem Lauf sind.',
  'packs-short':
    'Es gibt {sets} Sätze ähnlicher Packs für {heats} Läufe mit bis zu {cars} Autos: Miss mehr Packs, oder lass mehr Unterschied zu.',
  'window-order':
    'Die Batteriegrenzen passen nicht: Jeder kleinste Wert muss unter dem größten liegen, und die Klasse braucht 1 bis {most} Zellen einer bekannten Art.',
  'battery-class':
    'Die Batterietabelle der Klasse „{division}“ passt nicht: Sie braucht Grenzen für eine Art von Zellen oder mehr, und legt einen Pack nach 0 (nie) bis {most} Ablehnungen beiseite.',
  'battery-cells':
    'Die Batteriegrenzen der Klasse „{division}“ haben {given} Zellen, und ihre Autoklasse {class}: Mach sie gleich.',
  instrument: 'Nenne das Messgerät mit höchstens {most} Zeichen.',
  'no-pack': 'Den Pack „{pack}“ gibt es hier nicht: Lies die Nummer noch einmal ab, oder bring ihn zum Batterietisch.',
  'pack-whose': 'Pack {pack} hat ein Kind mitgebracht: Sag, für welche Startnummer er gemessen wird.',
  'pack-own': 'Pack {pack} gehört nicht dem Verein: Er wird weder ausgeliehen noch zurückgenommen.',
  'pack-there': 'Pack {pack} ist schon da: Gib jedem Pack eine eigene Nummer.',
  'pack-has': 'Startnummer {number} hat schon Pack {pack}: Nimm ihn zuerst zurück.',
  'pack-others': 'Pack {pack} wurde nicht für Startnummer {number} geprüft: Bring ihn zuerst zum Batterietisch.',
  'pack-in-car':
    'Pack {pack} ist im Auto von Startnummer {number}: Warte, bis es gefahren ist, oder nimm einen anderen.',
  'pack-dealt': 'Pack {pack} wurde nicht für Startnummer {number} ausgelost: Nimm Pack {expected}.',
  'packs-count': 'Gib 1 bis {most} Packs auf einmal.',
  'deal-heats': 'Wähle 1 bis {most} Läufe, für die Packs ausgelost werden.',
  'deal-called':
    'Dafür können keine Packs ausgelost werden ({heat}): Wähle Läufe einer Klasse, die ausgelost und nicht aufgerufen sind, jeden einmal.',

  'items-many': 'Die Prüfliste der Klasse „{division}“ ist zu lang: höchstens {most} Zeilen.',
  'item-order':
    'Zeile „{item}“ der Prüfliste der Klasse „{division}“ passt nicht: Sie braucht einen Namen und eine eigene Kennung, eine Ja-nein-Zeile hat keine Grenzen, und der kleinste Wert liegt nicht über dem größten.',
  'item-value':
    'Was gefunden wurde, passt nicht zur Prüfliste: Gemessene Zeilen haben einen Wert, die anderen ja oder nein, jede einmal.',
  'inspect-fix': 'Die Zeit, ein Auto in Ordnung zu bringen, ist 0 (keine Frist) bis {most} Stunden.',
  'inspect-mark': 'Ein Zeichen hat höchstens {most} Zeichen.',
  'inspect-no-pass': 'Das Auto von Startnummer {number} hat keine Abnahme, die verfallen könnte.',
  'car-held':
    'Startnummer {number} darf noch nicht fahren. {why} Die Rennleitung darf sie mit einem Grund fahren lassen.',
  'let-race-late': 'Startnummer {number} ist schon gefahren ({heat}): Es gibt nichts durchzulassen.',
  'windows-apart':
    'Die Batteriegrenzen passen nicht zusammen: Gib jeder Art von Zellen eine, alle mit derselben Zahl von Zellen.',

  // The club.
  'no-car': 'Dieses Auto gibt es in diesem Verein nicht: Trage es zuerst ein.',
  'car-number': '{number} ist keine Autonummer: Gib eine von 1 bis {most}.',
  'car-wheel': 'Ein Rad hat höchstens 1 m Durchmesser.',
  'car-taken': 'Die Autonummer {number} ist vergeben: Gib eine andere.',
  'car-reference':
    'Auto {number} ist ein Vergleichsauto, mit dem niemand Rennen fährt: Melde ein anderes an, oder nimm die Kennzeichnung zuerst weg.',
  'rating-game':
    'Ein Rennen kann so nicht in die Wertungszahlen: Es braucht zwei Personen und ein Ergebnis von 0, 1 oder 2.',
  'rating-far':
    'Die Wertungszahlen eines Renntags liegen weiter auseinander, als gerechnet werden kann: Sag es dem, der diesen Server betreibt.',
  'club-name': 'Gib dem Verein einen Namen von 1 bis 200 Zeichen.',
  'practice-time': 'Eine Übungsfahrt dauert 1 Sekunde bis 4 Stunden.',

  // Practice sessions.
  'no-practice': 'Diese Übungsstunde gibt es nicht: Eröffne eine.',
  'practice-over': 'Diese Übungsstunde ist vorbei: Eröffne eine neue.',
  'practice-there': 'Eine solche Übungsstunde gibt es schon: Eröffne eine unter einer anderen Kennung.',
  'practice-benches': 'Nenne die Stände der Übungsstunde, jeden einmal.',
  'practice-open':
    'Stand {bench} ist schon in einer anderen Übungsstunde: Schließe jene zuerst, oder lass den Stand weg.',
  'practice-settings':
    'Wer dran ist, fährt 1 bis {most} Fahrten, und die Strecke, die alle zusammen fahren, ist höchstens 1.000.000 km.',
  'queue-not-in': 'Auto {number} wartet hier nicht: Stell es zuerst in die Schlange.',
  'guess-range': 'Geraten wird mehr als 0 m und höchstens {most} m.',
  'guess-late': 'Diese Fahrt ist vorbei, darum gilt die Schätzung nicht: Rate bei der nächsten.',
  'guess-none': 'Stand {bench} wartet auf kein Auto: Mach ihn erst bereit, dann rate.',
  'no-practice-run': 'Diese Übungsfahrt gibt es nicht.',
  'reference-moved': 'Diese Fahrt vergleicht Stände: Nimm sie stattdessen aus ihrer Vergleichsmessung.',
  'drop-word': 'Eine Fahrt zählt aus einem dieser Gründe nicht: von den Rollen, geholfen, ein Versehen, etwas anderes.',
  'setup-range':
    'Etwas an diesem Auto kann nicht sein: Ein Rad hat höchstens 1 m, ein Zahnrad höchstens 200 Zähne, ein Auto wiegt höchstens 10 kg und hat höchstens {cells} Zellen, und Nummern haben vier Ziffern.',
  'setup-teeth': 'Gib die Zähne beider Zahnräder an: das am Motor und das an der Achse.',
  'setup-word': 'Dieses Auto hat eine Art von Zellen, Reifen oder Fett, die nicht zur Auswahl steht: Wähle eine davon.',
  'setup-reference': 'Auto {number} vergleicht Stände: Es bleibt, wie es ist.',
  'compare-small': 'Eine so kleine Änderung ist mit {most} Einbauten nicht zu sehen: Such nach einer größeren.',
  'compare-states': 'Wähle zwei verschiedene Zustände dieses Autos.',
  'compare-cars': 'Wähle zwei verschiedene Autos, die gefahren sind.',
  'compare-benches': 'Wähle zwei verschiedene Stände, auf denen dieses Auto gefahren ist.',
  'compare-plan': 'Ein Vergleich hat 4 bis {most} Einbauten, eine gerade Zahl, und 1 bis {runs} Fahrten mit jedem.',

  // Keys.
  'not-your-meet': 'Dieser Schlüssel ist nur für einen anderen Renntag: Frag die Leitung nach einem für diesen.',
  'not-your-club':
    'Dieser Schlüssel ist für einen anderen Verein auf diesem Server: Öffne den ganzen Link, der mit ihm kam.',
  'no-club': 'Kein Verein dieses Servers hat diese Adresse: Öffne den ganzen Link, den dein Verein dir gegeben hat.',
  'several-clubs': 'Mehrere Vereine teilen sich diesen Server: Öffne den ganzen Link, den dein Verein dir gegeben hat.',
  'clubs-not-yours': 'Vereine lädt die Leitung des Vereins ein, der diesen Server betreibt: Frag dort.',
  'club-short':
    '„{short}“ kann kein Kurzname eines Vereins sein: Nimm 1 bis 40 kleine Buchstaben, Ziffern und Bindestriche, vorn einen Buchstaben, hinten einen Buchstaben oder eine Ziffer.',
  'club-host':
    '„{host}“ ist kein Rechnername, der zu einem Verein führen kann: Nimm einen wie harbour.example, ohne http und ohne Pfad.',
  'club-host-taken': 'Den Rechnernamen „{host}“ hat ein anderer Verein: Nimm einen anderen.',
  'club-other': 'Der Kurzname „{short}“ ist der eines anderen Vereins: Nimm einen anderen.',
  'account-role':
    'Mit Name und Passwort meldet sich nur an, wer zur Leitung gehört und mit einem eigenen Link kam: Frag nach so einem Link.',
  'account-name': 'Ein Name zum Anmelden hat 1 bis {most} Zeichen: Nimm einen anderen.',
  'account-taken': 'Als „{name}“ meldet sich schon jemand aus dem Verein an: Nimm einen anderen Namen.',
  'password-length':
    'Ein Passwort hat {least} bis {most} Zeichen: Nimm vier oder fünf Wörter, die niemand nebeneinander stellen würde.',
  'password-wrong':
    'Name und Passwort passen nicht zusammen: Tippe beides noch einmal, oder frag jemanden von der Leitung nach einem Link.',
  'passwords-busy':
    'Gerade melden sich viele an, und nichts wurde geändert: Versuch es in ein paar Sekunden noch einmal.',
  'sign-in-wait': 'Nach falschen Versuchen musst du warten: Versuch es in {seconds} s noch einmal.',
  'link-used':
    'Mit diesem Link hat sich schon ein Browser angemeldet, und er gilt für einen: Frag die Leitung nach einem neuen.',
  'no-session': 'Diese Anmeldung gibt es nicht: Vielleicht ist sie schon beendet.',
  'token-meet': 'Der Renntag ist vorbei: Sag, bis wann der Schlüssel gelten soll.',
  'token-benches': 'Nenne die Stände, für die der Schlüssel ist.',
  'token-no-benches': 'Nur der Schlüssel einer Standhilfe oder eines Zählkastens ist für Stände.',
  'token-end': 'Der Schlüssel endete in der Vergangenheit: Wähle ein Ende, das noch kommt.',
  'token-long': 'Ein Schlüssel gilt höchstens {days} Tage: Wähle ein früheres Ende.',
  'many-requests': 'Von hier kamen zu viele Anfragen auf einmal: Warte einen Moment und versuch es noch einmal.',
  'many-sign-ins': 'Von hier misslangen zu viele Anmeldungen: Warte eine Minute, dann nimm einen Schlüssel, der gilt.',
  'no-token': 'Diesen Schlüssel gibt es nicht: Sieh in die Liste der Schlüssel.',
  'no-person': 'Niemand hier hat diese Kennung: Sieh in die Liste der Personen.',
  'name-blank': 'Von diesem Namen ist nichts zu sehen: Schreib einen, den man lesen kann.',
  'name-odd':
    'Ein Name steht in einer Zeile, ohne Steuerzeichen und ohne Zeichen, die die Schreibrichtung ändern: Tippe ihn noch einmal.',
  'bad-run-id':
    'Unter der Kennung „{id}“ kann keine Fahrt gesendet werden: 1 bis {most} Buchstaben, Ziffern, Punkte, Binde- und Unterstriche, am Anfang ein Buchstabe oder eine Ziffer.',
  'json-twice': '„{name}“ steht zweimal in einem Objekt: Sende jeden Namen einmal.',
  'name-long': 'Das hat {length} Zeichen; höchstens {most} passen hier: Kürze es.',
  'birth-no-date': '„{date}“ ist kein Geburtsdatum: Gib einen Tag des Kalenders, von 1900 bis heute, oder lass es weg.',
  'sign-in': 'Melde dich zuerst an: Öffne den Link oder scanne den Code, den du von der Leitung bekommen hast.',
  'not-allowed': 'Dein Schlüssel ({role}) ist nicht dafür: Frag die Leitung.',
  'role=organiser': 'Leitung',
  'role=official': 'Rennleitung',
  'role=referee': 'Schiedsgericht',
  'role=inspector': 'Abnahme',
  'role=volunteer': 'Standhilfe',
  'role=box': 'Zählkasten',
  'role=public': 'Gast',
  'not-your-bench': 'Dein Schlüssel ist nicht für diesen Stand: Frag die Leitung nach dem richtigen.',
  'bad-token': 'Dieser Schlüssel ist hier nicht bekannt oder gilt nicht mehr: Frag die Leitung nach einem neuen.',
  'bad-token-wish': 'Die Rolle „{role}“ gibt es für keinen Schlüssel.',

  // The server.
  'no-meet': 'Diesen Renntag gibt es hier nicht: Sieh in die Liste der Renntage.',
  'no-trace': 'Die Zeitstempel dieser Fahrt sind nicht hier: Sie wurde von Hand gezählt, oder ein Teil fehlt noch.',
  'run-not-shown':
    'Diese Fahrt zählt nicht, deshalb sieht nur die Rennleitung ihre Seite: Melde dich an, oder sieh eine andere an.',
  'other-origin':
    'Diese Anfrage kommt von einer Seite woanders und wurde nicht ausgeführt: Öffne die Seite dieses Servers.',
  'order-withdrawn': 'Diese Anweisung wurde zurückgenommen: Sie wurde nicht ausgeführt und wird es nicht.',
  'order-id-used': 'Diese Kennung wurde schon mit anderem Inhalt benutzt: Nimm für eine neue Anweisung eine neue.',
  'person-erased': 'Diese Person wurde gelöscht und bleibt es: Nimm jemand Neues auf.',
  'entrant-or-person': 'Gib entweder jemanden, der bekannt ist, oder jemand Neues, nicht beides und nicht keines.',
  'birth-date': '„{date}“ kann kein Geburtsdatum vor diesem Renntag sein: Verbessere es, oder lass es weg.',
  'ruling-field': 'Für diese Entscheidung fehlt eine Angabe: Fülle sie aus.',
  'bad-chunk': 'Dieser Teil einer Fahrt lässt sich nicht lesen.',
  'chunk-conflict':
    'Teil {number} dieser Fahrt kam vorher mit anderen Zeitstempeln: Der erste bleibt; ein Zählkasten zieht beim Start eine neue Kennung.',
  'bad-request': 'Die Angaben passen nicht: Sieh sie noch einmal durch, und lade die Seite neu, wenn es so bleibt.',
  'body-too-large': 'Das ist mehr als {limit} KiB: Sende es in kleineren Teilen.',
  'bad-json': 'Das ist kein ganzes JSON-Dokument: Sende eines, und nichts dahinter.',
  'bad-text': 'Das ist kein reiner Text in UTF-8, oder es enthält das Nullzeichen: Entferne es und sende noch einmal.',
  'body-unreadable': 'Der Inhalt ließ sich nicht bis zum Ende lesen: Sende ihn noch einmal.',
  'media-type': 'Sende JSON, mit dem Kopf Content-Type: application/json.',
  'no-page': 'Unter dieser Adresse ist nichts.',
  'no-method': 'Diese Adresse kann das nicht.',
  internal:
    'Im Server ging etwas schief. Nichts wurde geändert; sende es noch einmal, und sag der Leitung Bescheid, wenn es so bleibt.',
  'disk-full':
    'Die Festplatte des Servers ist voll, Neues kann nicht aufgehoben werden. Was bestätigt wurde, ist sicher. Schaff Platz auf dem Computer des Servers: Es geht von selbst weiter, und Handys und Zählkästen senden noch einmal, was sie aufheben.',
  'disk-read-only':
    'Der Server darf seine Daten nicht schreiben: Die Festplatte oder der Ordner ist schreibgeschützt. Was bestätigt wurde, ist sicher. Mach sie beschreibbar und starte den Server neu; Handys und Zählkästen senden noch einmal, was sie aufheben.',
  'database-away':
    'Der Server erreicht seine Datenbank gerade nicht. Was bestätigt wurde, ist sicher. Es geht von selbst weiter, wenn sie wieder da ist; drücke gleich noch einmal, nichts geschieht doppelt.',
  'bad-topic': 'Das Thema „{topic}“ gibt es nicht.',
  'feed-away':
    'Dieser Server zeigt, was andere aufheben, und gerade antwortet keiner davon: Versuch es gleich noch einmal.',
  'feed-only':
    'Dieser Server gibt nur weiter, was Bildschirme zeigen: Seiten und Anweisungen gibt es unter der Adresse der Veranstaltung.',
  'feed-full':
    'So viele Bildschirme hören schon zu, dass dieser Server keine mehr nimmt: Versuch es später noch einmal.',
  'feed-share':
    'So viele Bildschirme dieser Netzadresse hören schon zu, dass sie keine Plätze mehr bekommt: Schließ einige, oder melde dich an.',
  'many-topics': 'Frag nach höchstens 64 Themen auf einmal, jedes einmal genannt.',
  'body-slow': 'Der Inhalt kam zu langsam: Sende ihn noch einmal, in kleineren Teilen, wenn das Netz schlecht ist.',
  'too-slow':
    'Der Server konnte nicht rechtzeitig antworten. Eine Anweisung ist vielleicht trotzdem ausgeführt: Drücke noch einmal, nichts geschieht doppelt.',
  'given-up': 'Die Frage wurde aufgegeben, bevor eine Antwort da war: Frag noch einmal.',
  'server-stops': 'Der Server wird gerade beendet: Sende es gleich noch einmal, nichts geschieht doppelt.',
  busy: 'Gerade fragen viele: Versuch es gleich noch einmal, oder melde dich an.',
  'log-behind': 'Das Protokoll ist noch nicht so weit: Frag gleich noch einmal.',
  'log-damaged':
    'Das Protokoll dieses Renntags ist beschädigt und kann nicht gezeigt werden. „benchmeet verify“ nennt die Stelle; eine Sicherung bringt es zurück. Andere Renntage gehen weiter.',
  'log-later':
    'Das hat eine neuere Fassung des Programms geschrieben als die, die hier läuft; kaputt ist nichts. Starte diesen Server mit der neuen Fassung neu, dann versuch es noch einmal.',
  'server-earlier':
    'Ein anderer Server an dieser Datenbank läuft noch mit einer früheren Fassung des Programms und könnte das nicht lesen. Starte ihn mit der neuen Fassung neu, dann versuch es noch einmal.',
  'text-about-unknown':
    'Niemand kann sagen, über wen dieser Text ist, er könnte also nicht mit der Person gelöscht werden: Lass ihn weg, oder sag, für wen er ist.',
  'text-erased': 'Dieser Text ist über jemanden, der gelöscht wurde: Lass ihn weg, der Grund allein genügt.',
  'erasure-goes-on':
    'Es ist vermerkt und wird nirgends mehr gezeigt, aber die Datenbank ist beschäftigt und muss seinen Platz noch überschreiben: Das geht von selbst weiter.',
  'no-text': 'Diesen Text gibt es nicht: Vielleicht ist er schon entfernt.',
};
