import { bench } from './bench';
import { bracket } from './bracket';
import { codes } from './codes';
import { desk } from './desk';
import { format } from './format';
import { plot } from './plot';
import { run } from './run';
import { screen } from './screen';
import { shared } from './shared';

/**
 * English, and the pattern for every other language: Catalogue is its type. The
 * texts of a face stand in the file with the face's name.
 */
export const en = {
  ...shared,
  bracket,
  codes,
  plot,
  run,
  screen,
  desk,
  onBench: bench,
  /** Sentences for refusals, by their code. Those of the server are English, so none are needed here. */
  problems: {} as Record<string, (args: Record<string, string>) => string>,
  format,
};
