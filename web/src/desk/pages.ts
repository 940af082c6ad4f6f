import { page } from '$lib/page';
import { match } from '$lib/route.svelte';

/** The pages of the club, and the frame of those of a meet. They load when they are wanted. */
export const clubPages = {
  account: page(() => import('./account/AccountPage.svelte'), 'account', 'club'),
  benches: page(() => import('./club/BenchesPage.svelte'), 'club'),
  keys: page(() => import('./club/KeysPage.svelte'), 'club', 'account'),
  meet: page(() => import('./MeetPages.svelte'), 'rulings', 'desk-codes'),
  meets: page(() => import('./plan/MeetsPage.svelte'), 'plan', 'account'),
  newMeet: page(() => import('./plan/NewMeetPage.svelte'), 'plan'),
  home: page(() => import('./practice/HomePage.svelte'), 'lessons', 'afternoon', 'practice-desk'),
  lessons: page(() => import('./practice/LessonsPage.svelte'), 'lessons'),
  practice: page(() => import('./practice/PracticePage.svelte'), 'practice-desk'),
  signIn: page(() => import('./account/SignInPage.svelte'), 'account'),
  signInAgain: page(() => import('./account/Ways.svelte'), 'account'),
  people: page(() => import('./people/PeoplePage.svelte'), 'club', 'entries'),
};

/** The pages of a meet, by the part of the address behind it. */
export const meetPages = {
  away: page(() => import('./plan/AwayPage.svelte'), 'plan'),
  batteries: page(() => import('./batteries/BatteriesPage.svelte'), 'inspection', 'rule-codes', 'plot'),
  benches: page(() => import('./compared/ComparedPage.svelte'), 'compared'),
  caller: page(() => import('./caller/CallerPage.svelte'), 'times', 'day-codes'),
  entries: page(() => import('./entries/EntriesPage.svelte'), 'entries'),
  entryTable: page(() => import('./entries/TablePage.svelte'), 'entries'),
  inspection: page(() => import('./inspection/InspectionPage.svelte'), 'inspection', 'rule-codes'),
  now: page(() => import('./now/NowPage.svelte'), 'now', 'paper', 'day-codes', 'rule-codes', 'bracket'),
  paper: page(() => import('./paper/PaperPage.svelte'), 'paper', 'rules', 'rule-codes', 'day-codes', 'club'),
  plan: page(() => import('./plan/PlanPage.svelte'), 'plan', 'day-codes', 'rule-codes'),
  programme: page(() => import('./programme/ProgrammePage.svelte'), 'programme', 'day-codes', 'bracket'),
  rulings: page(() => import('./rulings/RulingsPage.svelte'), 'day-codes'),
  runs: page(() => import('./runs/RunPage.svelte'), 'run', 'plot', 'day-codes'),
  times: page(() => import('./times/TimesPage.svelte'), 'times', 'now', 'day-codes'),
  seeds: page(() => import('./seeds/SeedsPage.svelte'), 'seeds'),
};

/** first begins to load the page of an address before the face is drawn. */
export const first = (path: string) => async (): Promise<void> => {
  const of =
    match('/desk/m/:meet/:page', path)?.page ??
    match('/desk/m/:meet/:page/:part', path)?.page ??
    (match('/desk/m/:meet', path) && 'now');
  if (of !== undefined) {
    const page = Object.entries(meetPages).find(([name]) => name === of)?.[1];
    await Promise.all([clubPages.meet(), page?.()]);
    return;
  }
  const page = Object.entries({
    '/desk': clubPages.meets,
    '/desk/new': clubPages.newMeet,
    '/desk/benches': clubPages.benches,
    '/desk/keys': clubPages.keys,
    '/desk/account': clubPages.account,
    '/desk/people': clubPages.people,
    '/desk/practice': clubPages.practice,
    '/desk/practice/lessons': clubPages.lessons,
  }).find(([pattern]) => match(pattern, path))?.[1];
  await page?.();
};
