import type { Told } from '../../told';

/** Draws, heats, runs, rulings and the comparison of benches. */
export const raced: Told = {
  'draw-current':
    'Die Auslosung der Klasse „{division}“ beruht auf den Ergebnissen, wie sie sind: Es gibt nichts gelten zu lassen.',
  'leg-early': '{heat} ist ein späterer Teil: Ruf ihn auf, wenn das Ergebnis von „{before}“ ausgehängt ist.',

  'not-by-hand':
    'Die Fahrt ({run}) wurde von ihrem Stand gemessen und nicht von Hand gezählt: Genehmige eine Wiederholung, oder werte die Fahrten des Stands neu aus.',
  'hand-unlike':
    '{m} m ist weit weg von dem, was Autos hier fahren, {from} bis {to} m: Such nach einem verrutschten Komma, oder Runden statt Metern. Stimmt es, sagt es die Rennleitung im Rennbüro.',
  'bench-busy': 'Stand {bench} ist besetzt von: {heat}. Warte, bis es vorbei ist, oder wähle einen anderen.',
  'bench-out': 'Stand {bench} ist außer Betrieb: Hol ihn zurück, oder wähle einen anderen.',
  'bench-twice': 'Stand {bench} ist zweimal genannt: Ein Stand nimmt ein Auto.',
  'benches-asked': '{given} Stände sind genannt für {needed} Autos: Nenne für jedes einen, oder keinen.',
  'car-rests':
    'Die Batterie von Startnummer {number} muss noch {minutes} min ruhen: Ruf den Lauf dann auf, oder lass das Auto durch eine Entscheidung ohne Ruhe fahren.',
  'benches-short':
    '{heat} braucht {needed} Stände, und {free} sind frei: Warte, bis ein Lauf endet, oder nimm einen Stand wieder in Betrieb.',
  'benches-gone':
    '{heat} braucht {needed} Stände, und {left} sind in Betrieb: Fahr verkürzt, sodass die Autos ohne Stand nach den anderen fahren, oder lose neu aus, was in seinem Durchgang noch nicht gefahren ist.',
  'bench-good': 'Stand {bench} ist in Betrieb: Startnummer {number} kann dort fahren.',
  'no-benches': 'Kein Stand ist in Betrieb: Hol zuerst Stände in den Renntag.',

  // Draws.
  'round-none': 'Abschnitt {stage} der Klasse „{division}“ hat noch keinen Durchgang {round}.',
  'rest-form':
    'Die Auslosung der Klasse „{division}“ sagt, wer auf wen trifft: Ihre Läufe können nicht für weniger Stände ausgelost werden. Fahr sie verkürzt.',
  'rest-none':
    'In Durchgang {round} der Klasse „{division}“ ist kein Lauf mehr neu auszulosen: Jeder ist aufgerufen oder wurde gefahren.',
  'round-open':
    'Durchgang {round} in Abschnitt {stage} der Klasse „{division}“ ist noch offen: Schließe ihn vor der nächsten Auslosung ab.',
  'programme-over': 'Alle Durchgänge der Klasse „{division}“ sind gefahren: Veröffentliche die Ergebnisse.',
  'programme-open':
    'Die Klasse „{division}“ hat noch Durchgänge zu fahren: Veröffentliche, wenn der letzte abgeschlossen ist.',
  'nothing-drawn': 'In der Klasse „{division}“ ist noch nichts ausgelost.',
  'draw-begun': '{heat} wurde schon aufgerufen: Eine Auslosung kann nur vor ihrem ersten Aufruf ersetzt werden.',
  'pairs-alone':
    'In der Klasse „{division}“ sind weniger als zwei Autos übrig, zu wenige für einen Lauf zu zweit: Beende die Klasse früher.',
  'seed-dealt': 'Abschnitt {stage} der Klasse „{division}“ lost seine Läufe aus und kennt keine Setzplätze.',
  'seed-drawn':
    'Abschnitt {stage} der Klasse „{division}“ ist ausgelost: Wer wo gesetzt ist, ändert sich nur durch eine neue Auslosung mit Grund. Der nächste Abschnitt wird gesetzt, wenn dieser gefahren ist.',
  'seed-round':
    'Ein späterer Durchgang von Abschnitt {stage} der Klasse „{division}“ wurde ausgelost: Seine Setzplätze bleiben. Lose ohne Setzliste neu aus.',
  'seed-first':
    'Die Klasse „{division}“ soll von Hand oder nach Wertungszahl gesetzt werden: Gib zuerst ihre Setzliste.',
  'seed-rank':
    'Der erste Abschnitt der Klasse „{division}“ hat keinen davor, nach dem er gesetzt werden könnte: Setze ihn nach Los, von Hand oder nach Wertungszahl.',
  'seed-method': 'So kann nicht gesetzt werden: Nimm Los, Hand, Wertungszahl oder Platz.',
  'seed-stranger':
    'Startnummer {number} kann in Abschnitt {stage} der Klasse „{division}“ nicht gesetzt werden: Sie ist anderswo angemeldet, nimmt nicht teil oder kam nicht weiter. Nimm sie von der Liste.',
  'seed-twice': 'Startnummer {number} steht zweimal in der Setzliste: Lass sie auf einem Platz.',
  'seed-missing': 'Startnummer {number} fehlt in der Setzliste: Gib ihr einen Platz.',
  'draw-refused': 'Das kann nicht ausgelost werden: {code} (Startnummern {numbers}).',
  'code=advance': 'so viele können nicht weiterkommen',
  'code=cars': 'die Autos passen nicht zu den Anmeldungen',
  'code=clubs': 'die Vereine passen nicht zu den Anmeldungen',
  'code=contradiction': 'zwei Vorgaben widersprechen sich',
  'code=cycles': 'so oft können je zwei nicht aufeinandertreffen',
  'code=entries': 'für so viele Autos geht diese Form nicht',
  'code=groups': 'für so viele Gruppen sind es zu wenige Autos',
  'code=heats': 'die Zahl der Läufe passt nicht zu den Autos und Bahnen',
  'code=lanes': 'die Zahl der Bahnen passt nicht zu dieser Form',
  'code=legs': 'die Zahl der Teile passt nicht',
  'code=next-best': 'so viele Nächstbeste können nicht weiterkommen',
  'code=one-car': 'mehrere teilen ein Auto und fahren nie im selben Lauf: Plane mehr Läufe',
  'code=plate': 'diese Form hat keine Trostrunde',
  'code=round': 'dieser Durchgang lässt sich nicht mehr paaren',
  'code=rounds': 'für so viele Durchgänge ist kein Plan bekannt',
  'code=seeds': 'die Zahl der Gesetzten passt nicht zu den Anmeldungen',
  'code=third-place': 'diese Form hat keinen Lauf um Platz 3',

  // Heats.
  'no-heat': 'Diesen Lauf gibt es an diesem Renntag nicht: Sieh auf die Aufruftafel.',
  'not-in-heat': 'Dieses Auto fährt hier nicht ({heat}): Sieh noch einmal nach dem Lauf.',
  paused: 'Der Renntag macht Pause: Setze ihn zuerst fort.',
  'not-paused': 'Der Renntag macht keine Pause.',
  'clock-right':
    'Die Zeiten des Tages gehen der Serveruhr nicht vor: Es ist nichts richtigzustellen. Geht die Uhr des Servers selbst falsch, stell zuerst sie.',
  'heat-called': '{heat} ist schon aufgerufen.',
  'told-later':
    '{heat} wurde für später angesagt: Die Zeit beginnt in {minutes} min. Sind alle Kinder da, ruf trotzdem auf.',
  'told-nothing': 'Es ist nichts mehr zu fahren, deshalb gibt es keine Zeiten anzusagen.',
  'hold-until': '{heat} kann bis zu einer Zeit zurückgehalten werden, die noch kommt: Wähle eine spätere.',
  'heat-over': '{heat} ist {status}: Genehmige eine Wiederholung oder verwirf ihn, um noch einmal zu fahren.',
  'status=drawn': 'noch nicht aufgerufen',
  'status=called': 'aufgerufen',
  'status=racing': 'unterwegs',
  'status=provisional': 'vorläufig',
  'status=official': 'offiziell',
  'car-busy': 'Das Auto von Startnummer {number} ist an einem Stand ({heat}): Warte, bis es zurück ist.',
  'not-called': '{heat} ist nicht aufgerufen: Ruf zuerst auf.',
  'bench-not-called': 'An Stand {bench} ist jetzt kein Auto bereit zu machen: Warte, bis eines dorthin gerufen ist.',
  'ready-raced':
    'Auto {number} an Stand {bench} ist schon gestartet: Sein „Bereit“ lässt sich nicht zurücknehmen. Ruf „Alle Stopp“, wenn es anhalten muss, und frag die Rennleitung.',
  'wrong-car':
    'Stand {bench} erwartet Startnummer {expected}; vom Auto gelesen wurde {number}. Schick das richtige Auto, oder lass die Rennleitung neu zuordnen.',
  'lane-not-ready':
    'Stand {bench} ist nicht bereit: Startnummer {number} ist dort nicht bestätigt. Bestätige sie, oder entscheide, dass sie nicht gestartet ist.',

  // Runs and rulings.
  'not-its-stamps':
    'Die Fahrt ({run}) beruht nicht auf aufgehobenen Zeitstempeln von Stand {bench}: Sieh sie dir an, und wähle eine andere.',
  'no-run': 'Diese Fahrt gibt es an diesem Renntag nicht: Sieh in die Liste der Fahrten.',
  'run-void': 'Die Fahrt ({run}) wurde verworfen: Sie kann nicht mehr zählen.',
  'run-counts':
    'Die Fahrt ({run}) zählt auf ihrer Bahn oder kann dort noch zählen: Ordne sie neu zu, oder entscheide stattdessen über ihre Bahn.',
  'run-not-counting': 'Die Fahrt ({run}) zählt auf keiner Bahn: Nimm sie stattdessen an.',
  'hand-not-racing':
    'Startnummer {number} fährt gerade nicht ({heat}): Eine Handzählung ersetzt die Fahrt eines laufenden Rennens.',
  'hand-distance': 'Eine gezählte Strecke ist 0 bis 100 km, mit einer Unsicherheit über null.',
  'reason-code': 'Dieser Grund steht nicht auf der Liste: Wähle einen davon und schreib den Rest als Text.',
  'rerun-counts': 'Sag, welche Fahrt nach der Wiederholung zählt: die Wiederholung oder die bessere.',
  'ask-early': 'Startnummer {number} ist noch nicht gefahren ({heat}): Es gibt nichts zu erbitten.',
  'ask-none': 'Für Startnummer {number} ist keine Wiederholung erbeten ({heat}): Es gibt nichts abzulehnen.',
  'rerun-early': 'Startnummer {number} hat noch kein Ergebnis ({heat}): Sie fährt noch.',
  'rerun-racing': '{heat} ist an den Ständen: Entscheide, wenn es vorbei ist.',
  'rerun-limit': 'Startnummer {number} hatte ihre {limit} Wiederholungen: Die Regeln erlauben keine mehr.',
  'rerun-nothing-better':
    'Startnummer {number} hat keine Fahrt, die die bessere sein könnte: Lass die Wiederholung zählen.',
  'swap-needs-runs': '{heat}: Nur zwei Bahnen, die beide eine Fahrt haben, lassen sich tauschen.',
  'void-nothing': '{heat} hat keinen Aufruf und keine Fahrt, die zählt: Es gibt nichts zu verwerfen.',
  'status-word': 'Diesen Status einer Bahn gibt es nicht: Wähle einen aus der Liste.',
  'call-running': 'Der Aufruf von Startnummer {number} läuft noch: Entscheide, wenn seine Zeit um ist.',
  'did-start': 'Startnummer {number} hat eine Fahrt: Sie ist gestartet.',
  'did-not-race': 'Startnummer {number} ist nicht gefahren: Entscheide, dass sie nicht gestartet ist.',
  'penalty-range': 'Eine Strafe ist 0 m oder mehr, und höchstens 1000 km.',
  'no-protest': 'Diesen Einspruch gibt es an diesem Renntag nicht: Sieh, was zu entscheiden ist.',
  'protest-there': 'Dieser Einspruch ist schon aufgeschrieben.',
  'protest-early': '{heat} hat kein ausgehängtes Ergebnis, gegen das Einspruch möglich wäre.',
  'protest-late': 'Die Einspruchsfrist ist vorbei: {heat}.',
  'protest-official': 'Das Ergebnis ist offiziell ({heat}): Bitte die Leitung um eine Berichtigung.',
  'protest-ruled': 'Über den Einspruch ({protest}) ist schon entschieden.',
  'protest-concerned': 'Über den Einspruch ({protest}) muss jemand anderes entscheiden als der, der ihn erhoben hat.',
  'protest-open':
    'Über den Einspruch ({protest}) ist nicht entschieden: Entscheide ihn, bevor der Durchgang abgeschlossen wird.',
  'protest-time': 'Die Einspruchsfrist läuft noch ({heat}): Warte, oder schließ früher ab, mit einem Grund.',
  'heat-open': '{heat} ist {status}: Zuerst muss das Ergebnis da sein.',
  'protest-not-yours':
    '{heat} ist nicht der Lauf, der zuletzt an deinem Stand gefahren ist: Bitte die Rennleitung, den Einspruch aufzuschreiben.',
  'protest-enough':
    'Von deinem Stand sind schon so viele Einsprüche aufgeschrieben, wie der Lauf Bahnen hat ({heat}): Frag die Rennleitung.',
  'lanes-tied':
    'Die Startnummern {numbers} sind gleich, wo es entscheidet: Genehmige jeder eine Wiederholung wegen Gleichstands.',
  'heat-tied': 'Gleichstand ({heat}): Genehmige beiden Autos eine Wiederholung wegen Gleichstands.',

  // Deciders.
  'heat-close':
    'Die Startnummern {one} und {other} liegen an einer wichtigen Grenze zu knapp beieinander, und die Regeln verlangen einen Entscheidungslauf: Genehmige beiden eine Wiederholung, die entscheidet.',
  'decider-nothing':
    'Startnummer {number} gehört zu keinem Paar, das einen Entscheidungslauf fahren muss: Lass die Wiederholung oder die bessere Fahrt zählen.',
  'decider-once':
    'Startnummer {number} hatte ihren Entscheidungslauf: Weil es knapp ist, wird er nicht noch einmal gefahren.',

  // Comparing benches.
  'study-short':
    'Es gibt zu wenig zu vergleichen: Nötig sind mindestens zwei Stände, einer davon mit zwei Werten oder mehr.',
  'study-empty': 'Stand „{bench}“ hat keinen Wert: Lass ihn weg, oder gib seine Werte dazu.',
  'study-value':
    'Ein Wert von Stand „{bench}“ lässt sich nicht vergleichen: Er muss eine Zahl über null sein, ganz ausgeschrieben.',
  'study-shape':
    'Dieser Vergleich braucht gleich viele Werte von jedem Auto an jedem Stand, und mindestens zwei: Gib dazu, was fehlt, oder lass es weg.',
  'study-benches':
    'Es sind {benches} Stände, und höchstens {most} lassen sich auf einmal vergleichen: Vergleiche die einer Halle.',
  'reference-plan':
    'Eine Vergleichsmessung braucht zwei Stände oder mehr und ein bis so viele Autos, jedes einmal genannt.',
  'policy-word': 'Das ist keine Wahl für Stände: sagen, berichtigen oder herausnehmen.',
  'factor-range':
    'Der Faktor von Stand „{bench}“ liegt nicht zwischen 0,5 und 2: Ein solcher Stand ist kaputt oder falsch eingestellt; nimm ihn heraus.',
  'factors-policy': 'Ergebnisse werden nur berichtigt, wo „berichtigen“ vor dem ersten Lauf in den Regeln stand.',
  'factors-heat': '{heat} ist {status}: Übernimm Faktoren oder nimm sie zurück, wenn kein Lauf an den Ständen ist.',
  'factors-none': 'Keine Faktoren gelten: Es gibt nichts zurückzunehmen.',
  'factors-moved': 'Der Vergleich hat sich geändert, seit du ihn angesehen hast: Sieh noch einmal hin, dann übernimm.',
  'reference-none':
    'An diesem Renntag hat noch keine Vergleichsmessung begonnen: Beginne eine auf der Seite Vergleich im Rennbüro.',
  'reference-bench': 'Stand {bench} gehört nicht zu dieser Vergleichsmessung: Beginne eine andere, die ihn hat.',
  'reference-not-planned':
    'Auto {number} gehört nicht zu dieser Vergleichsmessung: Nimm eines ihrer Autos, oder beginne eine andere.',
  'reference-car':
    'Auto {number} ist nicht als Vergleichsauto gekennzeichnet: Kennzeichne es zuerst, damit niemand damit Rennen fährt.',
  'reference-run': 'Diese Fahrt gehört zu keiner Vergleichsmessung: Es gibt nichts wegzulassen.',
  'reference-time': 'Eine Vergleichsfahrt dauert 1 Sekunde bis 10 Minuten.',
};
