import { format as f } from './format';

/** chance says a chance as people say it: "about one chance in ten". */
export function chance(of: number): string {
  if (of < 0.02) return 'hardly any chance';
  if (of > 0.95) return 'almost sure';
  if (of > 0.6) return 'more likely than not';
  if (of >= 0.4) return 'as likely as not';
  return `about one chance in ${f.number(Math.round(1 / of))}`;
}
