import { chosenLanguage, spoken } from '$lib/i18n';
import type { Said } from '$lib/i18n/told';

/** How long whoever pressed waits for the words of another language, in ms; then the server's English stands. */
const patienceMs = 3_000;

let says = (one: Said): string => one.says;

const fetched = async () => {
  const { refusedSays } = await import('$lib/i18n/refused');
  await spoken();
  says = refusedSays;
};

/**
 * worded waits for the words for what the server turns down, in a language in which it does not speak itself. They are
 * loaded when the first is needed.
 */
export async function worded(): Promise<void> {
  if (chosenLanguage() !== 'en')
    await Promise.race([fetched().catch(() => {}), new Promise((done) => setTimeout(done, patienceMs))]);
}

/** inWords is the sentence for what the server turned down, in the reader's language once its words are there. */
export const inWords = (one: Said): string => says(one);
