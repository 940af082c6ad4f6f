/** Where the English texts of the desk are had from. */
export const deskSources = {
  desk: () => import('./en/desk'),
  now: () => import('./en/desk/now'),
  entries: () => import('./en/desk/entries'),
  programme: () => import('./en/desk/programme'),
  inspection: () => import('./en/desk/inspection'),
  rulings: () => import('./en/desk/rulings'),
  seeds: () => import('./en/desk/seeds'),
  times: () => import('./en/desk/times'),
  formats: () => import('./en/desk/formats'),
  plan: () => import('./en/desk/plan'),
  compared: () => import('./en/desk/compared'),
  paper: () => import('./en/desk/paper'),
  'measure-again': () => import('./en/desk/measure-again'),
  'practice-desk': () => import('./en/desk/practice'),
  lessons: () => import('./en/desk/lessons'),
  club: () => import('./en/desk/club'),
  account: () => import('./en/desk/account'),
  'desk-codes': () => import('./en/desk-codes'),
};
export type DeskSources = typeof deskSources;
