import type { Told } from '../../told';

/** What the inspector's table still wants of a car or a pack. */
export const checked: Told = {
  'pack-chemistry':
    'Das sind Zellen der Art {given}, und diese Klasse fährt mit {wanted}: Nimm einen Pack der richtigen Art.',
  'pack-cells':
    'Dieser Pack hat {given} Zellen, und diese Klasse fährt mit {wanted}: Nimm einen Pack mit der richtigen Zahl.',
  'pack-open-low': 'Dieser Pack ist zu leer: {given} V, er braucht {least} V. Nimm einen anderen.',
  'pack-open-high':
    'Dieser Pack zeigt {given} V, erlaubt sind höchstens {most} V: Er ist von anderer Art, als er scheint, oder hat nicht geruht. Zeig ihn bei der Abnahme.',
  'pack-load-low':
    'Dieser Pack wird schwach, wenn er arbeiten muss: {given} V, er braucht {least} V. Nimm einen anderen.',
  'pack-load-high':
    'Dieser Pack zeigt unter Last {given} V, erlaubt sind höchstens {most} V: Zeig ihn bei der Abnahme.',
  'pack-load-asked': 'Miss diesen Pack noch einmal unter Last: Diese Klasse verlangt auch das.',
  'pack-load-rises': 'Der Pack zeigt unter Last mehr als in Ruhe; das tut kein Pack: Miss beides noch einmal.',
  'pack-cold':
    'Der Pack ist zu kalt ({given} °C; er braucht {least} °C): Lass ihn im Raum warm werden und miss noch einmal.',
  'pack-warm': 'Der Pack ist zu warm ({given} °C; höchstens {most} °C): Lass ihn ruhen und miss noch einmal.',
  'pack-degrees': 'Miss, wie warm der Pack ist: Diese Klasse verlangt auch das.',
  'pack-resistance': 'Der Pack bremst zu sehr ({given} mΩ; höchstens {most} mΩ): Nimm einen anderen Pack.',
  'pack-hurt':
    'Dieser Pack ist heiß, dick, undicht oder beschädigt: nicht benutzen. Sag es einem Erwachsenen; der legt ihn dorthin, wo nichts brennen kann.',
  'pack-aside': 'Dieser Pack wurde beiseitegelegt und fährt heute nicht mehr: Nimm einen anderen.',
  'pack-paused':
    'Dieser Pack wurde vor der Pause gemessen, nach der Batterien neu geprüft werden: Bring ihn zuerst zum Batterietisch.',
  'pack-unchecked': 'Dieser Pack wurde seit der letzten Änderung nicht gemessen: Bring ihn zuerst zum Batterietisch.',
  'pack-old-check':
    'Dieser Pack wurde vor zu langer Zeit gemessen ({minutes} min; es gilt {most} min): Bring ihn noch einmal zum Batterietisch.',
  'pack-tired': 'Dieser Pack muss noch {minutes} min ruhen, bevor er wieder fährt: Warte, oder nimm einen anderen.',
  'pack-future':
    'Die Prüfung oder Fahrt dieses Packs liegt später als jetzt: Stell die Uhr richtig und miss noch einmal.',
  'battery-none': 'Von diesem Auto ist keine Batterie bekannt: Bring es zuerst zum Batterietisch.',
  'item-missing': '„{item}“ ist noch nicht ausgefüllt: Sieh auch danach.',
  'item-low': '{item}: {given} ist zu wenig, nötig sind {least} oder mehr.',
  'item-high': '{item}: {given} ist zu viel, erlaubt sind höchstens {most}.',
  'item-no': '{item}: Das ist noch nicht in Ordnung.',
  'inspect-wrong': 'Bei der Abnahme fand sich etwas, das in Ordnung gebracht werden muss: Frag, was es ist.',
  'inspect-none': 'Dieses Auto wurde noch nicht abgenommen: Bring es zum Abnahmetisch.',
  'inspect-again': 'Die Abnahme dieses Autos gilt nicht mehr: Bring es noch einmal zum Abnahmetisch.',
  'inspect-lapsed': 'Dieses Auto wurde seit der Abnahme verändert: Bring es noch einmal zum Abnahmetisch.',
  'inspect-failed':
    'Dieses Auto hat die Abnahme nicht bestanden. {why} Bring es in Ordnung, dann noch einmal zum Abnahmetisch.',
  'two-loads': 'Miss bei zwei Lasten, die mindestens {least} mA auseinanderliegen.',
  'two-loads-rise': 'Die Spannung fiel bei der höheren Last nicht: Prüfe die Kontakte und miss noch einmal.',
  'reading-range':
    'Diese Messung kann nicht sein: Ein Pack hat 1 bis {most} Zellen einer bekannten Art, 0 bis 1000 V, 0 bis 1000 Ω und -150 bis 150 °C. Miss noch einmal.',

  'given=alkaline': 'Alkali-Mangan',
  'given=zinc-carbon': 'Zink-Kohle',
  'given=lithium': 'Lithium',
  'given=nickel-metal-hydride': 'Nickel-Metallhydrid',
  'wanted=alkaline': 'Alkali-Mangan',
  'wanted=zinc-carbon': 'Zink-Kohle',
  'wanted=lithium': 'Lithium',
  'wanted=nickel-metal-hydride': 'Nickel-Metallhydrid',
};
