/**
 * English, and the pattern for every other language: what every page needs. A file beside this one holds the texts of
 * one face or page.
 */
export { codes } from './codes';
export { format } from './format';
export { shared } from './shared';
