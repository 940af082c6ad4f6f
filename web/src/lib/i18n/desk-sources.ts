/** Where the texts of the desk are had from, by language. */
export const deskSources = {
  desk: { en: () => import('./en/desk') },
  now: { en: () => import('./en/desk/now') },
  entries: { en: () => import('./en/desk/entries') },
  programme: { en: () => import('./en/desk/programme') },
  inspection: { en: () => import('./en/desk/inspection') },
  rulings: { en: () => import('./en/desk/rulings') },
  seeds: { en: () => import('./en/desk/seeds') },
  times: { en: () => import('./en/desk/times') },
  plan: { en: () => import('./en/desk/plan') },
  compared: { en: () => import('./en/desk/compared') },
  paper: { en: () => import('./en/desk/paper') },
  'measure-again': { en: () => import('./en/desk/measure-again') },
  club: { en: () => import('./en/desk/club') },
  'desk-codes': { en: () => import('./en/desk-codes') },
};
export type DeskSources = typeof deskSources;
