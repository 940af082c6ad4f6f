import { page } from '$lib/page';
import { match } from '$lib/route.svelte';

/** The pages of the public screen that load when they are wanted. The hall's is there from the start. */
export const pages = {
  box: page(() => import('./box/BoxPage.svelte')),
  bracket: page(() => import('./Bracket.svelte'), 'bracket', 'codes', 'day-codes', 'screen'),
  car: page(() => import('./car/CarPage.svelte'), 'car', 'screen', 'standing'),
  cars: page(() => import('./car/CarsPage.svelte'), 'car', 'screen'),
  choose: page(() => import('./Choose.svelte'), 'screen'),
  classes: page(() => import('./car/ClassPage.svelte'), 'car', 'plot', 'screen'),
  practice: page(() => import('./Practice.svelte'), 'afternoon', 'life', 'screen'),
  carLife: page(() => import('./practice/CarLife.svelte'), 'afternoon', 'life', 'screen'),
  practiceClass: page(() => import('./practice/ClassPlot.svelte'), 'life', 'plot', 'screen'),
  rules: page(() => import('./rules/Rules.svelte'), 'rules', 'rule-codes', 'screen'),
  run: page(() => import('./RunPage.svelte'), 'run', 'plot', 'day-codes', 'screen', 'standing'),
  standings: page(() => import('./Standings.svelte'), 'codes', 'day-codes', 'screen', 'standing'),
  trust: page(() => import('./trust/Trust.svelte'), 'rules'),
};

/** first begins to load the page of an address before the face is drawn. */
export const first = (path: string) => async (): Promise<void> => {
  if (match('/', path)) await pages.choose();
  else if (match('/practice', path)) await pages.practice();
  else if (match('/practice/class', path)) await pages.practiceClass();
  else if (match('/practice/cars/:number', path)) await pages.carLife();
  else if (match('/trust', path)) await pages.trust();
  else if (match('/box', path)) await pages.box();
  else if (match('/m/:meet/rules', path)) await pages.rules();
  else if (match('/m/:meet/cars', path)) await pages.cars();
  else {
    const of = match('/m/:meet/:page/:part', path)?.page;
    const page = {
      standings: pages.standings,
      bracket: pages.bracket,
      runs: pages.run,
      cars: pages.car,
      class: pages.classes,
    }[of ?? ''];
    await page?.();
  }
};
