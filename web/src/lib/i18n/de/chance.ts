import { format as f } from './format';

/** chance says a chance as people say it: "etwa in einem von zehn Fällen". */
export function chance(of: number): string {
  if (of < 0.02) return 'kaum möglich';
  if (of > 0.95) return 'fast sicher';
  if (of > 0.6) return 'eher ja als nein';
  if (of >= 0.4) return 'so gut möglich wie nicht';
  return `etwa in einem von ${f.number(Math.round(1 / of))} Fällen`;
}
