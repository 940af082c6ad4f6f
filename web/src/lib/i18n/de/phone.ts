import type { phone as English } from '../en/phone';

/** Texts of what a volunteer's phone itself does, and of its call for an official. */
export const phone: typeof English = {
  title: 'Dieses Handy',
  sound: 'Ton und Vibration bei Aufruf, Start und Ende',
  test: 'Test',
  tones: 'Aufruf: zweimal auf und ab. Start: einmal lang. Zeit um: dreimal kurz. Gemessen: zwei fallende Töne.',
  silent: 'Nichts gehört? Ist das Handy stumm oder zu leise? Die Seite zeigt alles, wofür sie einen Ton gibt.',
  touch: 'Drücke einmal Test, damit dieses Handy Töne geben darf.',
  none: 'Dieser Browser kann keinen Ton geben: Schau auf die Seite.',
  awake: 'Der Bildschirm bleibt an, solange diese Seite offen ist.',
  sleeps:
    'Lass den Bildschirm an: Stell in den Einstellungen des Handys die längste Zeit bis zum Ausschalten ein. Unter dieser Adresse kann die Seite das nicht.',

  official: {
    ask: 'Rennleitung',
    askLabel: 'Die Rennleitung, bitte',
    asked: (time) => `Die Rennleitung ist seit ${time} gerufen. Bleib hier; es steht im Rennbüro, bis jemand hier war.`,
    unsent: 'Der Ruf nach der Rennleitung ist noch nicht gesendet: Das Netz ist weg. Schick jemanden, sie zu holen.',
    back: 'Nicht mehr nötig',
  },
};
