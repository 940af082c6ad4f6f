import type { bench as English } from '../en/bench';
import { format as f } from './format';

const car = (number: number) => `Auto ${number}`;

/** Texts of the bench page: read at arm's length, in noise, by somebody in a hurry. */
export const bench: typeof English = {
  title: 'Stand',
  pageTitle: (number, state) => `Stand ${number}: ${state}`,
  waiting: 'Der Server wird gefragt, was dieser Stand zu tun hat …',
  benches: 'Deine Stände',
  car: 'Auto',
  pleaseChoose: 'Wähle den Stand, an dem du stehst.',

  meanwhile: (state) => `Inzwischen: ${state}. Schau auf den Stand, bevor du weitermachst.`,

  practising: 'Übung',
  wants: { called: 'Auto aufgerufen', ready: 'bereit', racing: 'fährt' },

  noBench: {
    title: 'Diesen Stand gibt es nicht',
    sentence: 'Der Verein hat keinen Stand unter dieser Adresse. Wähle deinen oben, oder frag die Leitung.',
  },
  notYours: {
    title: 'Nicht dein Stand',
    sentence: 'Dein Link ist für andere Stände. Wähle oben einen, oder frag die Leitung nach dem Link für diesen.',
  },
  noBenches: 'Für dieses Gerät ist noch kein Stand eingetragen.',
  enterBench: 'Stand im Rennbüro eintragen',
  practiceBoard: 'Übungstafel',
  noPage: 'Unter dieser Adresse ist keine Seite. Scanne den Code an deinem Stand.',

  out: {
    title: 'Außer Betrieb',
    sentence: 'Hier fährt nichts, bis die Rennleitung diesen Stand wieder freigibt.',
    because: (reason) => `Grund: ${reason}.`,
    lane: (number) => `Behalte ${car(number)} hier: Die Rennleitung schickt es an einen anderen Stand.`,
  },
  paused: {
    title: 'Der Renntag macht Pause',
    because: (reason) => `Grund: ${reason}.`,
    sentence: 'Nichts starten. Aufrufe warten, ihre Zeit steht still.',
    called: (number) => `Bestätige ${car(number)}, wenn es weitergeht.`,
  },

  called: {
    title: 'Hol dieses Auto',
    state: (number) => `${car(number)} aufgerufen`,
    deadline: 'Noch Zeit',
    over: 'Der Aufruf ist vorbei. Bestätige, wenn das Auto da ist; sonst sag der Rennleitung Bescheid.',
    ask: 'Welche Nummer steht auf dem Auto?',
    help: 'Lies sie vom Auto ab, nicht von dieser Seite.',
    erase: 'Letzte Ziffer löschen',
    digits: 'Ziffern',
    go: 'Bereit',
    takenBack:
      'Hier zurückgenommen, aber noch nicht gesendet: Das Netz ist weg. Am Start steht noch „Bereit“: Ruf laut, dass dein Stand nicht bereit ist.',
    none: 'Tippe die Nummer, die du auf dem Auto liest.',
    wrong: (read, wanted) => `Nummer ${read} ist das falsche Auto. Hol ${car(wanted)}, oder frag die Rennleitung.`,
    wrongCutOff: 'Diese Seite ist getrennt: Hat die Rennleitung den Lauf geändert, warte, bis sie wieder da ist.',
  },

  checks: {
    pack: 'Batteriepack',
    take: 'Nimm Batteriepack',
    dealt: 'Ausgelost: kein anderer.',
    other: 'Ein anderer Pack ist im Auto',
    otherAsk: 'Nummer auf dem Pack',
    otherWrong: (read) => `„${read}“ ist keine Nummer eines Packs: Lies sie noch einmal ab, oder lass das Feld leer.`,
    missing: 'Am Abnahmetisch fehlt noch etwas:',
    held: 'Dieses Auto darf noch nicht fahren:',
    official: 'Schick das Kind dorthin. Die Rennleitung darf das Auto mit einem Grund fahren lassen.',
    over: (time) => `Die Batterieprüfung galt bis ${time}: Der Pack muss noch einmal gemessen werden.`,
    caution: 'Batterie heiß, dick oder undicht: Finger weg, und einem Erwachsenen sagen.',
  },

  ready: {
    title: 'Bereit: auf den Start warten',
    state: (number) => `${car(number)} bereit`,
    unsent:
      'Hier bestätigt, aber noch nicht gesendet: Das Netz ist weg. Am Start sieht man es nicht: Ruf laut, dass dein Stand bereit ist.',
    release: 'So wird das Auto losgelassen',
    noRelease: 'Wie bei der Einweisung gesagt.',
    safety: 'Finger, Haare, Ärmel und Bänder weg von den Rollen. Lass sie stehen bleiben, bevor du etwas anfasst.',
    race: (duration) => `Der Lauf dauert ${duration}.`,
    takeBack: 'Doch nicht: zurücknehmen',
  },

  racing: {
    title: 'Es läuft',
    state: (number) => `${car(number)} fährt`,
    of: (whole) => `von ${whole}`,
    over: 'Die Zeit ist um. Warten auf den Zählkasten …',
    late: 'Vom Zählkasten kam keine Fahrt. Prüfe, ob er an ist. Kommt nichts, zähl von Hand oder sag der Rennleitung Bescheid.',
    noSpeed: 'Noch kein Tempo vom Zählkasten.',
    stopAll:
      'Ruft jemand „Alle Stopp“? Gib es laut weiter und halte dein Auto an wie bei der Einweisung gesagt. Keine Seite hält ein Auto an. Nichts anfassen, bis die Rollen stehen.',
    counted: 'Von Hand gezählt, aber noch nicht gesendet: Das Netz ist weg.',
    speed: 'Tempo',
  },

  figures: {
    distance: 'Strecke',
    laps: 'Runden',
    top: 'Höchsttempo',
    mean: 'Durchschnittstempo',
    penalty: (metres) => `${metres} m Strafe abgezogen.`,
    place: (place) => `${place} Platz in diesem Lauf bis jetzt`,
    roller:
      'Das Tempo ist das der Rolle unter den Rädern. Auf dem Stand gibt es keinen Fahrtwind: Es ist nicht das Tempo auf einer Bahn.',
  },

  done: {
    title: (number) => `Gemessen: ${car(number)}`,
    hand: (number) => `Gezählt: ${car(number)}`,
    status: (number) => `Vorbei: ${car(number)}`,
    others: 'Die anderen dieses Laufs fahren noch.',
  },

  rerun: {
    open: 'Um Wiederholung bitten',
    title: (number) => `Um Wiederholung bitten: ${car(number)}`,
    why: 'Was ist passiert?',
    text: 'Mehr dazu',
    textHelp: 'Über den Stand, nie über das Kind. Darf leer bleiben.',
    go: 'Rennleitung fragen',
    choose: 'Wähle, was passiert ist.',
    decides: 'Die Rennleitung entscheidet. Behalte das Auto bis dahin hier.',
    heading: (number) => `Wiederholung: ${car(number)}`,
    answer: {
      sending: 'Wird gesendet …',
      unsent: 'Deine Bitte ist noch nicht gesendet: Das Netz ist weg. Sag der Rennleitung mündlich Bescheid.',
      waiting: 'Gefragt. Die Rennleitung entscheidet. Behalte das Auto bis dahin hier.',
      granted: 'Genehmigt: Das Auto wird noch einmal aufgerufen.',
      stands: 'Nicht genehmigt: Das Ergebnis bleibt.',
    },
    dismiss: 'Verstanden',
  },

  hand: {
    open: 'Von Hand zählen',
  },

  free: {
    title: 'Jetzt nichts zu tun',
    state: 'frei',
    nextHere: 'Als Nächstes an diesem Stand',
    nextRerun: 'für die Wiederholung',
    next: 'Nächster Lauf, Stände noch nicht aufgerufen',
    none: 'Kein Auto ist an diesen Stand gerufen. Sobald eines gerufen wird, steht es hier.',
  },

  unsent: {
    count: (n, since) =>
      `${f.plural(n, { one: '# Meldung', other: '# Meldungen' })} nicht gesendet, die älteste seit ${since}`,
    keeps: 'Auf diesem Handy aufgehoben; wird von selbst gesendet.',
    fleeting: 'Dieser Browser hebt nichts auf: Lass diese Seite offen, bis es gesendet ist.',
    now: 'Jetzt versuchen',
    strange:
      'Etwas anderes als der Server antwortet, vielleicht eine Anmeldeseite des WLANs: Prüfe, ob dieses Handy im WLAN der Halle ist.',
    stuck: (order) =>
      `Der Server nimmt dies nicht an: ${order}. Sag der Rennleitung Bescheid; es wird von selbst weiter versucht.`,
    which: 'Welche?',
    order: (what, time) => `${what}, ${time}`,
    takeBack: 'Zurücknehmen',
    takeBackLabel: (order) => `Zurücknehmen: ${order}`,
    takingBack: 'Wird zurückgenommen: Der Server wird gefragt, ob er es schon hat.',
  },
  order: {
    ready: (number) => (number === undefined ? 'Bereit' : `Bereit: ${car(number)}`),
    'not-ready': (number) => `„Bereit“ zurücknehmen: ${car(number ?? 0)}`,
    official: () => 'Ruf nach der Rennleitung',
    rerun: (number) => (number === undefined ? 'Wiederholung' : `Bitte um Wiederholung: ${car(number)}`),
    hand: (number) => (number === undefined ? 'Zählung' : `Zählung für ${car(number)}`),
    practice: (number) => (number === undefined ? 'Übung' : `Übung: ${car(number)}`),
    session: () => 'Der Übungsnachmittag',
    queue: (number) => `Der Platz von ${number === undefined ? 'einem Auto' : car(number)} in der Schlange`,
    cancel: () => 'Das Zurücknehmen der Fahrt',
    guess: () => 'Die Schätzung',
    move: (number) => `Die Fahrt für ${number === undefined ? 'ein anderes Auto' : car(number)}`,
    setup: (number) => `Die Änderung an ${number === undefined ? 'einem Auto' : car(number)}`,
  },
  refused: {
    no: { title: (what, time) => `${what} (${time}) wurde nicht angenommen` },
    already: {
      title: (what, time) => `${what} (${time}) war schon eingetreten`,
      says: 'Es ging spät hinaus, und jemand anderes oder der Zählkasten war schneller. Es ist nichts zu tun.',
    },
    'too-old': {
      title: (what, time) => `${what} (${time}) ist zu alt`,
      says: 'Das Netz war zu lange weg. Es wurde nicht ausgeführt und wird es nicht mehr: Gib es noch einmal, wenn es noch stimmt.',
    },
    done: {
      title: (what, time) => `${what} (${time}) ließ sich nicht zurücknehmen`,
      says: 'Der Server hatte es schon ausgeführt. Sag der Rennleitung Bescheid, wenn das falsch ist.',
    },
    unknown: {
      title: (what, time) => `${what} (${time}): Niemand kann sagen, ob es ausgeführt wurde`,
      says: 'Schau auf den Stand, und frag die Rennleitung.',
    },
    dismiss: 'Verstanden',
  },
};
