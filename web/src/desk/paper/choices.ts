import type { SheetName } from './sheets';

/** choicesOf is what of a sheet can be chosen: a round to be raced, one that is posted, a division, or nothing. */
export function choicesOf(sheet: SheetName): 'next' | 'posted' | 'division' | 'certificates' | 'none' {
  if (sheet === 'kit' || sheet === 'call-list' || sheet === 'heat-sheets') return 'next';
  if (sheet === 'results') return 'posted';
  if (sheet === 'start-list') return 'division';
  return sheet === 'certificates' ? 'certificates' : 'none';
}
