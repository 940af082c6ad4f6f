import { Format } from '../format';

/** How German numbers, dates and plurals are written here. */
export const format = new Format('de-DE');
