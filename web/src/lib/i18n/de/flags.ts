import type { Told } from '../told';

/** The long sentences of what stands beside a measurement. */
export const flags: Told = {
  'no-signal': 'Es gibt weniger als zwei echte Zeitstempel, also nichts zu messen: Sensor, Marke und Batterie prüfen.',
  'cut-short': 'Die Zeitstempel endeten {1} ms vor dem Ende des Rennens.',
  'distance-not-reached': 'Die gesetzte Strecke wurde nicht erreicht.',
  'early-start': 'Die Rolle drehte sich schon vor dem Startsignal ({1} Drehungen); nur was danach kam, zählt.',
  'no-rise':
    'Die ersten Zeitstempel nach dem Start kommen ohne Anstieg mit vollem Tempo: War das Auto zu früh gestartet, oder ist es eine Lampe?',
  'start-missed':
    'Die ersten Impulse fehlen: Etwa {1} Drehungen vor dem ersten Zeitstempel wurden daraus errechnet, wie die Rolle schneller wurde.',
  bridged: 'Fehlende Impulse wurden ergänzt: {1}.',
  'many-bridged': 'Mehr als 2 % der Impulse fehlen ({1} von {2}): Marke säubern, Sensor prüfen, Wiederholung erwägen.',
  'many-extra':
    'Mehr als 5 % der Zeitstempel waren überzählig ({1} von {2}): Kanten der Marke und fremdes Licht prüfen.',
  burst:
    'Zeitstempel kamen schneller, als eine Rolle sich dreht ({1}-mal), wie von einer Fernbedienung: Die Impulse dazwischen wurden von beiden Seiten her errechnet.',
  'row-filled': 'Reihen fehlender Impulse wurden aus dem Tempo davor und danach errechnet: {1}.',
  'stray-stamps':
    'Verirrte Zeitstempel wurden weggelassen ({1}), und einer kann mitgezählt oder dafür ein Impuls weggelassen sein: Sensor abschirmen.',
  'open-gap': 'Lücken, die sich nicht ergänzen ließen: {1}, die längste {2} ms. Die Strecke ist mindestens so lang.',
  stalled: 'In den letzten {1} ms wurde kein Impuls gesehen: Die Rolle stand still, wenn nicht der Sensor ausfiel.',
  'went-silent':
    'Die Zeitstempel endeten bei vollem Tempo, und keine Rolle steht binnen einer Drehung: Sensor oder Kabel fiel aus. Von den letzten {1} ms ist nichts bekannt.',
  'late-end': 'Der allerletzte Zeitstempel kam spät: Die Rolle wurde langsamer, oder kurz davor fehlen Impulse.',
  'silent-end':
    'In den letzten {1} ms kam kein Zeitstempel, obwohl einer fällig war: Dort fehlen Impulse, oder die Rolle blieb sofort stehen.',
  'off-rollers':
    'Die Rolle lief langsam auf weniger als die Hälfte ihres Höchsttempos aus: Sprang das Auto von den Rollen?',
  'mains-flicker':
    'Gleichmäßig {1} Zeitstempel in der Sekunde gibt eine Lampe am Netz: Sensor abschirmen und die Rolle zur Probe von Hand drehen.',
  'half-speed': '{1} Drehungen lang ging jeder zweite Impuls verloren: Es wäre das halbe Tempo gemessen worden.',
  'double-speed': '{1} Drehungen lang wurde jeder Impuls doppelt gesehen: Es wäre das doppelte Tempo gemessen worden.',
  'mark-silent': 'Eine der {1} Marken wird nie gesehen: Die Drehungen werden mit den anderen gezählt. Marken säubern.',
  'half-of-others':
    'Das ist die Hälfte dessen, was die anderen Stände messen: Geht die Hälfte der Impulse verloren, oder stimmt die Zahl der Marken nicht?',
  'double-of-others':
    'Das ist das Doppelte dessen, was die anderen Stände messen: Wird jeder Impuls zweimal gesehen, oder stimmt die Zahl der Marken nicht?',
  'too-fast': 'Das Höchsttempo liegt über 25.000 U/min, so schnell ist kein solches Auto: Zahl der Marken prüfen.',
  noise: 'Zeitstempel ohne jede Ordnung wurden weggelassen: {1}.',
  backwards: 'Zeitstempel, die rückwärts liefen, wurden weggelassen: {1}.',
  'impossible-stamp': 'Zeitstempel, die keine Uhr gibt, wurden weggelassen: {1}.',
  restarted: 'Der Zählkasten startete während der Fahrt neu ({1}-mal); der Weg dazwischen ist nicht gezählt.',
  'clock-ambiguous':
    'Der Zähler hat so wenige Stellen, dass er zwischen zwei Zeitstempeln unbemerkt überlaufen kann ({1} Lücken kamen dem nahe): Lass den Zählkasten seine Überläufe zählen.',
  'totals-disagree':
    'Der Zählkasten sagt, dass er eine andere Zahl von Zeitstempeln gesendet hat, als hier ankam: Wiederholung erwägen.',
  'passes-lost': 'Der Zählkasten zählte Impulse, die nicht über sein Kabel kamen: {1}. Kabel und Stecker prüfen.',
  'list-cut': 'Die Liste der Berichtigungen ist nach {1} gekürzt; die Zahlen sind vollständig.',
  'bench-factor': 'Strecke und Tempo sind durch den Faktor des Stands geteilt.',
  'no-slip-assumed':
    'Die Drehzahl der Räder nimmt an, dass das Rad auf der Rolle nicht durchrutscht: Durchrutschen sieht die Rolle nicht.',
  'no-interval':
    'Wie weit das von der Wahrheit entfernt sein kann, lässt sich nicht sagen: Lies, was sonst von der Fahrt gesagt wird. Entscheide nicht nach dieser Zahl.',
};
