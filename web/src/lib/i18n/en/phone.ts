/** Texts of what a volunteer's phone itself does, and of its call for an official. */
export const phone = {
  title: 'This phone',
  sound: 'Sound and vibration at a call, start and end',
  test: 'Test',
  /** What is heard when. */
  tones: 'Call: up and down, twice. Start: one long. Time is up: three short. Measured: two falling.',
  silent: 'Nothing heard? Is the silent switch on, or the volume down? The page shows everything that it sounds for.',
  touch: 'Press Test once, so that this phone may sound.',
  none: 'This browser cannot sound: look at the page.',
  awake: 'The screen stays on while this page is open.',
  sleeps:
    'Keep the screen on: in the phone’s settings let the display stay on as long as it goes. Over this address the page cannot.',

  official: {
    ask: 'Official',
    askLabel: 'An official, please',
    asked: (time: string) =>
      `An official is asked for since ${time}. Stay here; it stands on the desk until somebody has been here.`,
    unsent: 'The call for an official is not sent yet: the network is away. Send somebody to fetch one.',
    back: 'Not needed any more',
  },
};
