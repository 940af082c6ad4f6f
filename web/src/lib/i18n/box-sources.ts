/** Where the English texts of the builder's page are had from. */
export const boxSources = { box: () => import('./en/screen/box') };
export type BoxSources = typeof boxSources;
