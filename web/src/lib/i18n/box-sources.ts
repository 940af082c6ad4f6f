/** Where the texts of the builder's page are had from, by language. */
export const boxSources = { box: { en: () => import('./en/screen/box') } };
export type BoxSources = typeof boxSources;
