import type { Schema } from '$lib/api';
import { f, said } from '$lib/i18n';
import { deskCodes } from '$lib/i18n/desk-codes';
import { programmeTexts } from '$lib/i18n/programme';
import { racerText } from '$lib/names';

/** gaveWay says whether a reason tells of a rule that could not be kept. */
const gaveWay = (reason: string) => reason.startsWith('relaxed-');

/** whySays are the reasons of a pairing or a bye as sentences: why it is so, and which rule gave way. */
export function whySays(reasons: readonly string[] | undefined): { why: string; gaveWay: string } {
  const words = (of: string[]) => of.map((r) => said(deskCodes.pairReason, r));
  const [why, relaxed] = [(reasons ?? []).filter((r) => !gaveWay(r)), (reasons ?? []).filter(gaveWay)];
  return {
    why: why.length ? programmeTexts.why(words(why)) : '',
    gaveWay: relaxed.length ? programmeTexts.gaveWay(words(relaxed)) : '',
  };
}

/** fewSays names those who would end below the races that the rules promise. */
export const fewSays = (few: readonly Schema['FewRuns'][], promised = 0): string =>
  programmeTexts.few(
    few.map((x) => ({ racer: racerText(x.racer), runs: x.runs })),
    promised,
  );

/** noteSays is a note on a draw as a sentence. */
export function noteSays(note: Schema['DrawNote']): string {
  const p = programmeTexts;
  const who = f.list(note.racers.map(racerText));
  return p.notes[note.code]?.(who, note.round ?? 0, note.group ?? '') ?? p.noteOther(said({}, note.code), who);
}
