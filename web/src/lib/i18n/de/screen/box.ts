import type { box as English } from '../../en/screen/box';
import { format as f } from '../format';

/** The page for who builds a counter box; the values are those of the English one. */
export const box: typeof English = {
  title: 'Einen Zählkasten bauen',
  seen: 'Vom Sensor an einer Rolle bis zur Zahl auf dem Bildschirm: Teile, Verdrahtung, erster Test und Fehler',
  print: 'Diese Seite drucken',
  footPage: 'Seite ',
  footOf: ' von ',
  lead: 'Ein Zählkasten ist eine kleine Platine mit einem Sensor an jeder Rolle. Er stempelt jede Drehung mit einer eigenen Uhr und sendet sie über ein USB-Kabel. Nichts muss übersetzt werden, und nichts wird gelötet, was sich nicht zuerst auf einer Steckplatine stecken lässt.',

  care: 'Zuerst: sicher bleiben',
  careSays: [
    'Nur Kleinspannung: Alles hier läuft mit den 5 V einer USB-Buchse. Nichts davon wird je mit dem Stromnetz verbunden.',
    'Eine Versorgung der Rollen oder des Kastens hat eine Sicherung in der Leitung, dort wo der Strom herkommt: 500 mA genügen für einen Kasten.',
    'Rollen haben einen Schutz über ihren Spalten. Finger, Haare, Bänder und Ärmel bleiben weg; niemand beugt sich über eine laufende Rolle.',
    'Kein loses Kabel liegt auf dem Boden oder hängt vom Tisch: festkleben oder an der Wand entlangführen.',
    'Eine Marke wird flach gemalt oder geklebt. Klebe nie einen Magneten oder ein Stück Metall auf eine Rolle: Bei 25.000 Drehungen in der Minute zieht ein Gramm, 15 mm von der Achse, mit dem Gewicht von 10 kg.',
    'Örtliche Regeln gehen dieser Seite vor, und wer unsicher ist, fragt jemanden vom Fach.',
  ],

  parts: 'Teile',
  partsCaption: 'Teile für einen Kasten mit einem Sensor',
  part: 'Was',
  many: 'Wie viele',
  matters: 'Worauf es ankommt',
  partList: [
    [
      '8-Bit-Platine mit USB-Buchse',
      '1',
      '5 V, 16 MHz, 32 kB für das Programm, 2 kB Speicher. Höchstens vier Sensoren. Das fertige Programm ist für diese Art.',
    ],
    [
      'Reflexlichtschranke',
      '1 je Stand',
      'Eine Infrarotlampe und ein Fototransistor in einem Gehäuse, für 2 bis 6 mm Abstand.',
    ],
    ['Widerstand 220 Ω', '1 je Stand', 'In Reihe mit der Lampe, bei 5 V. Bei 3,3 V sind es 120 Ω.'],
    ['Widerstand 4,7 kΩ', '1 je Stand', 'Vom Kollektor des Fototransistors zur Versorgung.'],
    [
      'Schmitt-Gatter, invertierend',
      '1 je Stand',
      'CMOS für 5 V; ein Gehäuse hat sechs. Es macht aus langsamen Flanken saubere.',
    ],
    ['Widerstand 1 kΩ', '1 je Stand', 'In Reihe mit dem Eingang des Kastens.'],
    ['Kondensator 1 nF', '1 je Stand', 'Vom Eingang des Kastens nach Masse, an der Platine.'],
    ['Kondensator 100 nF', '1 je Stand', 'Über der Versorgung, am Sensor.'],
    ['Leitung mit drei Adern', '1 je Stand', 'Höchstens 2 m, verdrillt oder geschirmt; Stecker, die verriegeln.'],
    [
      'USB-Kabel mit Datenleitungen',
      '1',
      'Höchstens 5 m. Manche Kabel laden nur: Mit denen findet sich kein Anschluss.',
    ],
    ['Taster', '1, wenn gewünscht', 'Nach Masse: das Startsignal.'],
  ],

  wiring: 'Wo was steht',
  oneBench: 'Ein Stand',
  oneBenchSays:
    'Der Kasten sitzt am Stand, der Computer daneben. Das Kabel dazwischen ist höchstens 5 m lang: Mehr erlaubt USB nicht.',
  fourBenches: 'Vier Stände auf einem Tisch',
  fourBenchesSays:
    'Ein Kasten bedient vier Sensoren. Die Leitungen zu den Sensoren sind kurz und laufen weg von den Motoren; ein Kabel geht zu einem Computer, und ein Knoten bedient alle vier Stände.',
  tenBenches: 'Zehn Stände in einer Halle',
  tenBenchesSays:
    'Eine Halle ist länger als ein USB-Kabel. Jeder Tisch hat seinen Kasten und einen kleinen Computer mit einem Knoten; von dort geht ein Netzwerkkabel (bis 100 m) oder das WLAN zum Server. Was das Netz verliert, bleibt auf der Platte des Tisches, bis es abgegeben ist.',
  drawn: {
    roller: 'Rolle',
    mark: 'Marke',
    sensor: 'Sensor',
    box: 'Zählkasten',
    usb: 'USB, höchstens 5 m',
    lead: 'Leitung, bis 2 m',
    computer: 'Computer mit Knoten',
    node: 'Computer',
    server: 'Server',
    network: 'Netzwerkkabel, WLAN',
    table: (n) => `Tisch ${f.number(n)}`,
    bench: (n) => `Stand ${f.number(n)}`,
    ground: 'Masse',
    lamp: 'Infrarotlampe',
    eye: 'Fototransistor',
    gate: 'Schmitt-Gatter',
    pin: 'Eingang der Platine',
    shade: 'dunkles Rohr',
    earth: 'Achse über 1 MΩ an Erde',
  },

  circuit: 'Die Schaltung eines Sensors',
  circuitSays:
    'Die Lampe scheint auf die Rolle. Wo die Marke das Licht zurückwirft, zieht der Fototransistor seinen Kollektor herunter; das Gatter dreht das um, an der Platine ist eine Marke also high.',
  values: 'Werte für 5 V und für 3,3 V',
  value: 'Teil',
  at5: 'Kasten mit 5 V',
  at33: 'Kasten mit 3,3 V',
  valueList: [
    ['In Reihe mit der Lampe', '220 Ω (17 mA)', '120 Ω (17 mA)'],
    ['Kollektor zur Versorgung', '4,7 kΩ', '4,7 kΩ'],
    ['In Reihe mit dem Eingang', '1 kΩ', '1 kΩ'],
    ['Eingang nach Masse', '1 nF', '1 nF'],
    ['Über der Versorgung am Sensor', '100 nF', '100 nF'],
    ['Pull-up in der Platine, vom Programm eingeschaltet', '20 bis 50 kΩ', 'wie im Datenblatt'],
    ['Eigener Pull-up, für eine Leitung über einen halben Meter', '4,7 kΩ nach 5 V', '4,7 kΩ nach 3,3 V'],
  ],
  voltage:
    'Die 8-Bit-Platine dieser Seite ist eine mit 5 V: Versorge auch Sensor und Gatter mit 5 V. Sie nimmt 3 V und mehr als high, ein Sensor mit 3,3 V reicht also nur knapp. Andersherum gehen 5 V nie in eine Platine mit 3,3 V: 10 kΩ in Reihe und 20 kΩ nach Masse (aus 5 V werden 3,3 V), oder nimm einen Ausgang mit offenem Kollektor und zieh ihn nach 3,3 V hoch.',

  kinds: 'Andere Sensoren',
  kind: 'Ausgang',
  wire: 'Wie er verdrahtet wird',
  polarity: 'Was einzustellen ist',
  kindList: [
    [
      'Bloßer Fototransistor mit Schmitt-Gatter (die Schaltung oben)',
      'Ausgang des Gatters über 1 kΩ an den Eingang',
      'mark 1 high',
    ],
    ['Dasselbe mit zwei Gattern hintereinander', 'Ausgang des zweiten Gatters', 'mark 1 low, wie geliefert'],
    [
      'Offener Kollektor (NPN), wie bei vielen fertigen Sensoren',
      'Gerade an den Eingang, über 1 kΩ; den Rest tut der Pull-up der Platine',
      'mark 1 low, wie geliefert',
    ],
    ['Gegentakt mit 5 V', 'An den Eingang, über 1 kΩ', 'low oder high: was ein Messgerät an der Marke zeigt'],
    [
      'Gabel, die die Marke oder eine Scheibe unterbricht',
      'Je nach Ausgang, siehe oben',
      'low oder high: was ein Messgerät zeigt, während sie unterbrochen ist',
    ],
    [
      'Ausgang mit 12 oder 24 V (PNP)',
      'Nie gerade an eine Platine. Nimm einen anderen Sensor, oder frag jemanden vom Fach nach einem Teiler oder Optokoppler.',
      'nach dem Messgerät',
    ],
  ],

  input: 'Was der Eingang verträgt, und der kürzeste Impuls',
  inputSays: (m) => [
    `Eine Marke zählt, wenn sie länger als ${f.number(m.pulseUs)} µs zu sehen ist und die Lücke dahinter ebenso lang dauert. Bei ${f.number(m.quickest)} Drehungen in der Minute dauert eine Drehung 2.400 µs, das sind also 4 Grad der Rolle; mit den langsamen Flanken eines Fototransistors nimm 30 Grad oder mehr.`,
    `Zwei Zeitstempel liegen so weit auseinander wie ihre Flanken, auf ${f.number(m.apartUs)} µs genau. Eine Fahrt wird über Tausende davon gemessen, ihr Tempo ist also viel genauer.`,
    `Vier Rollen mit ${f.number(m.quickest)} Drehungen in der Minute verlieren bei 1.000.000 Baud nichts: Die Leitung ist mit je einer Marke höchstens zu ${f.number(m.fullOneMark)} % voll, mit vier Marken zu ${f.number(m.fullFourMarks)} %. Was nicht passt, wird trotzdem gezählt, und die Fahrt sagt, dass Impulse fehlen.`,
    '1 kΩ und 1 nF glätten über 1 µs: Das schluckt die Spitzen von Motorbürsten und verzögert keine Marke um mehr. Berühren je 12 V die Leitung, lassen 1 kΩ nicht mehr als 7 mA in die Platine.',
    'Das Schmitt-Gatter kippt bei einer Spannung und bei einer anderen zurück; eine langsame Flanke macht also einen Wechsel und nicht zehn.',
  ],

  place: 'Marke und Sensor',
  placeSays: [
    'Eine Marke genügt. Mal eine weiße auf eine Rolle, die mit einem matten Stift geschwärzt ist, oder eine matte schwarze auf eine helle Rolle; über die ganze Breite, die der Sensor sieht, mit geraden Kanten entlang der Achse.',
    'Mach sie 30 bis 90 Grad lang. Auf einer Rolle mit 30 mm Durchmesser sind das 8 bis 24 mm.',
    'Setz den Sensor ans Ende einer Rolle, weg von Rädern und Gummistaub, 2 bis 6 mm von der Oberfläche, gerade darauf.',
    'Schraub ihn an den Rahmen, der die Rolle hält, nicht an den Tisch: Dann bewegt sich nichts dazwischen.',
    'Erde die Achse: ein dünner Draht oder eine Bürste, die sie berührt, über 1 MΩ an den Erdstift eines Steckers gegen statische Entladung. Gummi auf Rollen lädt sie auf wie ein Kamm.',
  ],
  light: 'Licht',
  lightSays: [
    'Auch die Sonne hat Infrarot. Schau, wo sie am Mittag und am Nachmittag steht, nicht wo sie beim Bauen ist; dreh den Stand, häng Pappe auf, oder setz ein dunkles Rohr um den Sensor.',
    'Lampen am Netz flimmern 100- oder 120-mal in der Sekunde; das sieht aus wie eine Rolle mit 6.000 oder 7.200 Drehungen in der Minute, die sich nie ändert. Die Prüfung kennt das und sagt es.',
    'Blitze, Fernbedienungen und die Infrarotlampen von Kameras können einen Schwall von Impulsen machen. Halte sie von den Ständen fern.',
  ],

  readings: 'Vier Messungen mit einem Messgerät',
  readingsSays: 'Auf Gleichspannung, Bereich 20 V. Schwarze Spitze an Masse, Rolle steht.',
  where: 'Wo',
  right: 'Richtig',
  wrong: 'Wenn nicht',
  readingList: [
    [
      'Versorgung am Sensor',
      '4,75 bis 5,25 V',
      'Kabel, Stecker oder Sicherung; bei weniger als 4,75 V ein kürzeres oder dickeres Kabel nehmen.',
    ],
    [
      'Über den 220 Ω, Spitzen an beiden Enden',
      '3,5 bis 4,0 V',
      '0 V: Die Lampe ist falsch herum oder kaputt. 5 V: Die Lampe ist überbrückt.',
    ],
    [
      'Kollektor, Sensor vor der dunklen Rolle',
      '4,0 V oder mehr',
      'Fremdes Licht, Sensor zu nah, oder eine Rolle, die glänzt.',
    ],
    ['Kollektor, Marke vor dem Sensor', '0,8 V oder weniger', 'Sensor näher, Marke heller; oder die 4,7 kΩ fehlen.'],
  ],
  readingsThen:
    'Hinter dem Gatter ist es andersherum: 0,2 V oder weniger vor der dunklen Rolle, 4,8 V oder mehr an der Marke.',
  camera:
    'Infrarotes Licht kann man nicht sehen. Schau mit der Kamera eines Handys auf den Sensor: Die Lampe ist ein kleiner violetter oder weißer Punkt. Zeigt die hintere Kamera keinen, probier die vordere, die oft keinen Filter hat. Kein Punkt, und Messung 2 ist falsch: Bring zuerst die Lampe in Ordnung.',

  load: 'Das Programm laden',
  loadSays:
    'Das Programm ist fertig. Lade alle vier Dateien in einen Ordner, vergleiche die Prüfsumme, und lade es mit einem Befehl. Eine geladene Platine behält das Programm.',
  images: 'Dateien',
  image: {
    'counterbox.hex': 'das Programm für die 8-Bit-Platine',
    SHA256SUMS: 'die Prüfsummen',
    'load.sh': 'lädt es von Linux und macOS',
    'load.cmd': 'lädt es von Windows',
  },
  notRun: 'geschrieben, hier nicht ausgeführt',
  notRunSays:
    'Was beim Schreiben dieser Seite nicht ausgeführt wurde, ist gekennzeichnet. Eine Platine aus Metall war nicht da: Das Programm ist auf einer nachgebildeten geprüft, das Laden nicht.',
  system: 'System',
  compare: 'Vergleichen',
  loading: 'Laden',
  windowsSums: 'Die Zeile, die es ausgibt, muss die in SHA256SUMS sein.',

  alone: 'Vor jedem Computer',
  aloneSays: [
    'Gib der Platine 5 V aus irgendeinem USB-Stecker.',
    'Dreh die Rolle langsam von Hand: Die eigene Lampe der Platine blinkt an jeder Marke einmal, was immer angeschlossen ist.',
    'Kein Blinken: Mach die vier Messungen. Zweimal Blinken in einer Drehung: Auch ein Kratzer oder heller Fleck wird gesehen.',
  ],

  steps: 'Am Computer',
  stepsSays: (port) =>
    `Dies gilt für Linux, mit dem Kasten an ${port}. Auf anderen Systemen heißt der Anschluss anders: macOS /dev/cu.…, Windows COM3 oder ähnlich.`,
  step: {
    find: [
      'Den Kasten finden: abziehen, einstecken, gefunden.',
      'Es gibt den Anschluss aus, der dazukam. Setz ihn anstelle des unteren ein.',
    ],
    show: ['Fragen, was darin eingestellt ist.', 'Er antwortet mit seinen Eingängen und was an jedem eine Marke ist.'],
    four: ['Vier Sensoren statt einem.', 'Was eingestellt ist, bleibt ohne Strom in der Platine.'],
    high: [
      'Eine Marke ist high, wie hinter einem Schmitt-Gatter.',
      'Ohne das zählt der Kasten die andere Kante der Marke, was nicht schadet.',
    ],
    name: ['Stand und Marken im Kasten vermerken.', 'Nur für Menschen: Der Kasten zählt jede Marke.'],
    restart: ['Den Kasten neu starten.', ''],
    count: [
      'Die Rolle von Hand drehen. Ist das Eingang 2?',
      'Zieh einen Bleistiftstrich auf Rolle und Rahmen und dreh 20-mal daran vorbei. Es sagt „this is input 2“ und zählt: 20 Drehungen, 20 gezählt. 19 oder 21 ist ein Fehler: siehe unten.',
    ],
    roll: [
      'Messen, wie weit eine Drehung reicht.',
      'Motoren aus. Leg ein Maßband flach über die Rolle und zieh es so, dass sie ohne Rutschen mitdreht, 20 Drehungen am Bleistiftstrich vorbei; lies ab, wie weit das Band kam. Hier waren es 1885 mm, auf 1 mm abgelesen. Es sagt den Umfang und wie sicher er ist. Im Rennbüro unter Stände trägst du Drehungen, Länge und „Höchstens falsch um“ so ein, wie sie gemessen wurden.',
    ],
    check: [
      'Ein Auto aufsetzen und 12 Sekunden mit vollem Tempo laufen lassen.',
      'Es sagt GOOD oder NOT GOOD in Worten, was zuerst zu tun ist, und zeichnet ein Bild. Zählt der Kasten für einen Stand, kann es auch dessen Seite auf einem Telefon: „Signal prüfen“.',
    ],
    one: [
      'Für einen Stand zählen lassen.',
      'Der Schlüssel wird im Rennbüro unter Schlüssel gemacht, für einen Zählkasten. Setz ihn in BENCHMEET_TOKEN ein, und die eigene Adresse des Servers anstelle dieser.',
    ],
    several: [
      'Einen Kasten für vier Stände zählen lassen.',
      'Eingang 1 ist der erste genannte Stand, und so weiter; der Schlüssel nennt alle vier.',
    ],
  },

  around: 'Wie weit eine Drehung reicht',
  aroundSays: [
    'Jedes Tempo und jede Strecke ist Drehungen mal Umfang: 0,1 % dort sind 0,1 % in jedem Ergebnis. Miss ihn, wenn der Stand gebaut ist, und wieder, wenn Gummi getauscht wurde.',
    'Abgerollt: n Drehungen an einem Maßband ergeben die Länge L, richtig auf ± a. Der Umfang ist L / n, seine Standardunsicherheit a / (n × √3): Bei 20 Drehungen und 1 mm sind das 0,03 mm. Eine ausgebaute Rolle rollt an einem Maßband auf dem Tisch; für eine Drehung leg einen Papierstreifen oder Faden darum.',
    'Quer: Ein Messschieber sagt den Durchmesser d, richtig auf ± a. Der Umfang ist π × d, seine Unsicherheit π × a / √3. Miss an drei Stellen und nimm die mittlere. Gummi gibt nach, also nicht quetschen; die Rolle steht.',
    'Trag ein, was du gemessen hast, und nicht, was du gerechnet hast: Das Rennbüro rechnet, zeigt jeden Schritt und behält beides.',
  ],

  settings: 'Alle Einstellungen',
  settingsCaption: 'Was --set sendet',
  setting: 'Einstellung',
  does: 'Was sie tut',
  set: {
    show: 'Sagt, was eingestellt ist.',
    inputs: 'Wie viele Sensoren es gibt.',
    pin: 'An welchem Bit der Platine ein Sensor ist; wer es hatte, bekommt das des anderen.',
    mark: 'Was der Sensor gibt, während er eine Marke sieht.',
    marks: 'Marken auf der Rolle: ein Vermerk für Menschen.',
    bench: 'Ein Vermerk für Menschen: Kleinbuchstaben, Ziffern und -, höchstens 12.',
    baud: 'Die Geschwindigkeit der Leitung nach dem nächsten Start. Gib dem Knoten dieselbe mit --baud.',
    restart: 'Startet die Platine neu.',
  },
  pins: 'Auf der Platine: Sensoren an Port C, Bits 0 bis 5; Starttaster an Port D, Bit 2; die Lampe ist Port B, Bit 5.',

  faults: 'Fehler, und wie sie aussehen',
  faultsSays:
    'Jedes Bild ist das der Prüfung: von links nach rechts die Zeit, nach oben die Zeit von Stempel zu Stempel. Ein gutes Signal ist eine dünne Linie, am Anfang hoch und niedriger, wenn das Auto schneller wird.',
  plot: (name) => `Bild: ${name}`,
  looks: {
    good: 'Gut',
    echo: 'Eine zweite Linie nahe am Boden',
    missed: 'Punkte in doppelter und dreifacher Höhe',
    stray: 'Punkte, unter der Linie verstreut',
    lamp: 'Eine Linie, vom ersten Augenblick an gerade',
    bursts: 'Ein Haufen am Boden an einer Stelle',
    unsteady: 'Eine dicke Linie',
    marks: 'Mehrere Linien',
    breaks: 'Die Linie endet oder hat ein Loch',
  },
  causes: {
    good: ['Nichts zu tun.'],
    echo: [
      'Die Marke hat eine ausgefranste oder glänzende Kante: neu malen, gerade, und matt daneben.',
      'Der Sensor ist zu weit weg, die Flanke also langsam: näher, und das Schmitt-Gatter dicht daran.',
    ],
    missed: [
      'Die Marke ist zu kurz, zu blass oder staubig: abwischen, länger machen.',
      'Der Sensor ist zu weit weg oder hat sich bewegt.',
    ],
    stray: [
      'Bürsten von Motoren machen Spitzen: 1 nF am Eingang, Leitung weg von den Motoren, ein Schirm an einem Ende an Masse.',
      'Die Sonne hat den Stand erreicht, oft am Mittag: abschirmen.',
    ],
    lamp: [
      'Der Sensor sieht eine Lampe am Netz und nicht die Marke: abschirmen, und die Rolle zur Probe von Hand drehen.',
    ],
    bursts: ['Eine Fernbedienung, ein Blitz oder die Infrarotlampe einer Kamera: fernhalten.'],
    unsteady: [
      'Sensor oder Rolle wackelt: beide an einen Rahmen schrauben.',
      'Ein Lager ist verschlissen, oder die Rolle ist verbogen.',
    ],
    marks: ['Es gibt mehr Marken als gesagt, oder ein Kratzer gilt als eine: von Hand in einer Drehung zählen.'],
    breaks: [
      'Eine Powerbank schaltet sich aus, wie viele bei kleiner Last, oft nach einer halben Minute: ein Netzteil nehmen, oder eine für kleine Lasten.',
      'Ein Stecker ist lose, wenn der Tisch wackelt: verriegelnde Stecker, und das Kabel neben dem Stecker am Tisch festbinden.',
      'Statische Ladung vom Gummi auf den Rollen startet die Platine neu; die Prüfung sagt „the box started again“. Achse erden, Leitung weg von den Reifen.',
    ],
  },

  other: 'Andere Systeme, andere Platinen',
  otherSays: [
    'benchmeet node ist für Linux auf Computern und kleinen Platinen gebaut. Für Windows und macOS lässt es sich aus denselben Quellen übersetzen; dort ausgeführt wurde es nicht.',
    'Eine Platine mit WLAN kann ihre Zeitstempel selbst abgeben. deploy/counterbox/PORTING.md sagt, was ihr Programm tun muss; ausprobiert wurde es auf einem Computer an Stelle der Platine.',
  ],
};
