import { Format } from '../format';

/** How English numbers, dates and plurals are written here. */
export const format = new Format('en-GB');
