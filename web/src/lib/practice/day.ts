import { f } from '$lib/i18n';

const formats = new Map<string, Intl.DateTimeFormat>();

/**
 * dayOf is the date of an instant where it is looked at, short enough for a column. It is not one of f: no page but
 * those of practice needs it, and the first load of a bench has no room for it.
 */
export function dayOf(instant: string | Date, language = f.language): string {
  let format = formats.get(language);
  if (!format) formats.set(language, (format = new Intl.DateTimeFormat(language, { dateStyle: 'medium' })));
  return format.format(new Date(instant));
}
