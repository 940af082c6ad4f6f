import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test, type Page } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';

// Who may do what stands in the table that the test of the server writes and holds: the pages are held to the same.
const lines = readFileSync(fileURLToPath(new URL('../../cmd/benchmeet/testdata/roles.txt', import.meta.url)), 'utf8')
  .split('\n')
  .filter((line) => line && !line.startsWith('#'))
  .map((line) => line.split(/ {2,}|(?<=\S) (?=yes|not-allowed|sign-in|absent)/));
const roles = ['organiser', 'official', 'referee', 'inspector', 'volunteer', 'public'] as const;
type Role = (typeof roles)[number];

/** cell is what the table says of an operation for a role. */
function cell(operation: string, role: Role): string {
  const line = lines.find(([name]) => name === operation);
  if (!line) throw new Error(`the table has no operation ${operation}`);
  return line[lines[0]!.indexOf(role)]!;
}
const may = (operation: string, role: Role) => cell(operation, role).startsWith('yes');

/** Pages of the desk, each with the operation without which nobody has a use for it. */
const pages: [path: string, needs: string][] = [
  ['/desk/m/spring', 'ListDecisions'],
  ['/desk/m/spring/times', 'OrderHeat'],
  ['/desk/m/spring/caller', 'CallHeat'],
  ['/desk/m/spring/entries', 'GetInspectorTable'],
  ['/desk/m/spring/entries/table', 'TakeEntryTable'],
  ['/desk/m/spring/programme/junior', 'DrawRound'],
  ['/desk/m/spring/programme/open', 'DrawRound'],
  ['/desk/m/spring/seeds/open', 'SeedDivision'],
  ['/desk/m/spring/inspection', 'InspectCar'],
  ['/desk/m/spring/inspection/7', 'InspectCar'],
  ['/desk/m/spring/batteries', 'CheckBattery'],
  ['/desk/m/spring/rulings', 'ListRulings'],
  ['/desk/m/spring/benches', 'AdoptFactors'],
  ['/desk/m/spring/paper', 'ListRulings'],
  ['/desk/m/spring/paper/heat-sheets', 'ListRulings'],
  ['/desk/m/spring/paper/certificates', 'ListPeople'],
  ['/desk/m/spring/plan', 'ListRulings'],
  ['/desk', 'GetInspectorTable'],
  ['/desk/new', 'PlanMeet'],
  ['/desk/benches', 'PutBench'],
  ['/desk/keys', 'MakeToken'],
  ['/desk/account', 'SetAccount'],
  ['/desk/people', 'ListPeople'],
  ['/desk/practice', 'GetSessionFigures'],
  ['/desk/practice/lessons', 'GetSessionFigures'],
];

/** opens says whether the page at an address is for a role; of a page with parts the part with a line of its own. */
function opens(path: string, role: Role): boolean {
  // Who has nothing to decide comes to the inspector's table.
  if (path === '/desk/m/spring') return may('ListDecisions', role) || may('InspectCar', role);
  const page = pages.find(([known]) => known === path) ?? pages.find(([known]) => known.startsWith(`${path}/`));
  if (page) return may(page[1], role);
  if (/\/(programme|seeds|runs|paper)\//.test(path)) return may('ListRulings', role);
  if (/\/inspection\//.test(path)) return may('InspectCar', role);
  throw new Error(`no page is known at ${path}`);
}

/** Controls of the desk, by page and name, each with the operation that it orders. */
const controls: [path: string, name: RegExp, operation: string][] = [
  ['/desk', /^Plan a meet$/, 'PlanMeet'],
  ['/desk', /^Choose a name and a password$/, 'SetAccount'],
  ['/desk/new', /^Plan this meet$/, 'PlanMeet'],
  ['/desk/benches', /^(Register a bench|Change: bench \d)$/, 'PutBench'],
  ['/desk/benches', /^Retire: bench \d$/, 'RetireBench'],
  ['/desk/keys', /^Make (the key|a key for every bench)$/, 'MakeToken'],
  ['/desk/keys', /^Take back: /, 'RevokeToken'],
  ['/desk/account', /^Keep name and password$/, 'SetAccount'],
  ['/desk/people', /^(Write somebody down|Change Kit.*)$/, 'PutPerson'],
  ['/desk/people', /^Erase Kit/, 'ErasePerson'],
  ['/desk/practice', /^Open it$/, 'OpenPracticeSession'],
  ['/desk/m/spring', /^Pause the meet$/, 'PauseMeet'],
  ['/desk/m/spring', /^Take out: bench \d$/, 'SetBenchService'],
  ['/desk/m/spring', /^Call: /, 'CallHeat'],
  ['/desk/m/spring', /^Ready: bench \d$/, 'ConfirmReady'],
  ['/desk/m/spring', /^Move: /, 'MoveLane'],
  ['/desk/m/spring', /^Rule: /, 'MakeRuling'],
  ['/desk/m/spring', /^Start: /, 'StartHeat'],
  ['/desk/m/spring', /^Call off: /, 'CallOff'],
  ['/desk/m/spring', /^I have been there: Bench \d$/, 'WantOfficial'],
  ['/desk/m/spring/times', /^Tell these times$/, 'TellTimes'],
  ['/desk/m/spring/times', /^(Sooner|Later|Hold 10 minutes): /, 'OrderHeat'],
  ['/desk/m/spring/times', /^Show the address$/, 'GetCalendarAddress'],
  ['/desk/m/spring/times', /^See what can be left out$/, 'GetCuts'],
  ['/desk/m/spring/times', /^(See what moves|Look for one)$/, 'LookDayPlan'],
  ['/desk/m/spring/programme/junior', /^Look at other programmes$/, 'CompareFormats'],
  ['/desk/m/spring', /^For the caller$/, 'CallHeat'],
  ['/desk/m/spring/times', /^For the caller$/, 'CallHeat'],
  ['/desk/m/spring/entries', /^Save as CSV$/, 'GetEntryTable'],
  ['/desk/m/spring/entries', /^From a table$/, 'TakeEntryTable'],
  ['/desk/m/spring/entries', /^Take an entry$/, 'TakeEntry'],
  ['/desk/m/spring/entries', /^(Check in|Check in: \d+|Take back: check-in of .*)$/, 'CheckIn'],
  ['/desk/m/spring/entries', /^(Close entries|Reopen entries|Open entries again): /, 'CloseEntries'],
  ['/desk/m/spring/entries', /^Change: \d/, 'ChangeEntry'],
  ['/desk/m/spring/entries', /^Rule: \d/, 'MakeRuling'],
  ['/desk/m/spring/entries/table', /^Look at it$/, 'LookEntryTable'],
  ['/desk/m/spring/programme/junior', /^(Close the round|Close early: .*)$/, 'CloseRound'],
  ['/desk/m/spring/programme/junior', /^Draw again: /, 'DrawAgain'],
  ['/desk/m/spring/programme/junior', /^Call: /, 'CallHeat'],
  ['/desk/m/spring/programme/open', /^Close entries: /, 'CloseEntries'],
  ['/desk/m/spring/programme/open', /^Seed order$/, 'SeedDivision'],
  ['/desk/m/spring/seeds/open', /^Give this order$/, 'SeedDivision'],
  ['/desk/m/spring/seeds/open', /./, 'SeedDivision'],
  ['/desk/m/spring/inspection/7', /^Save the battery check$/, 'CheckBattery'],
  ['/desk/m/spring/batteries', /^Bring them$/, 'AddPacks'],
  ['/desk/m/spring/rulings', /^Record a protest$/, 'LodgeProtest'],
  ['/desk/m/spring/benches', /^Add the reference car$/, 'PutCar'],
  ['/desk/m/spring/paper', /^Print: Certificates$/, 'ListPeople'],
  ['/desk/m/spring/plan', /^Change the day$/, 'PutPlan'],
  ['/desk/m/spring/plan', /^(Add a division|Change (Open|Juniors.*))$/, 'PutDivision'],
  ['/desk/m/spring/plan', /^(Put away: Open|Put this meet away)$/, 'PutAway'],
  ['/desk/m/spring/plan', /^(Bring in|Copy settings again): bench \d$/, 'AddMeetBench'],
  ['/desk/m/spring/plan', /^Measure again: bench \d$/, 'MeasureAgain'],
];

/** What only looks, prints or opens another page, whose control is for whom the page is. */
const onlyLooks =
  /^(Print|Print: .*|Print this|Print, a page each|Print the paper kit now|Harbour Hall spring meet|Show|Show the car|To the desk|Save as CSV|Seed order|From the .*|.* details|Practice board|Run a bench from this device|Build a counter box|List|Next hour|Rest of the day|Back to practice|Lessons|The class in one picture)$/;

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(180_000);
  hall = await Hall.open();
  await hall.addBenches(1, 2, 3);
  await hall.planMeet('spring', ['b1', 'b2'], 4, 60, 600);
  await hall.ask('PUT', '/meets/spring/divisions/open', {
    name: 'Open',
    age_from: 0,
    age_to: 0,
    class: { name: 'Open class', lap_m: 3 },
    stages: [{ kind: 'knockout', race_s: 10, lanes: 2 }],
  });
  for (const n of [30, 31])
    await hall.ask('POST', '/meets/spring/entries', {
      id: `e${n}`,
      division: 'open',
      start_number: n,
      person: {
        name: 'Kit',
        display_name: '',
        birth_date: '2010-05-02',
        on_screen: false,
        in_results: false,
        photo: false,
      },
    });
  await hall.call('spring', 'junior-1.1.1');
  await hall.ask('POST', '/meets/spring/benches/b2/official', { wanted: true });
});
test.afterAll(() => hall.close());

/** Watched is a page whose readings are counted, and those that were turned away kept. */
class Watched {
  readonly turnedAway: string[] = [];
  #open = new Set<unknown>();

  constructor(readonly page: Page) {
    const ours = (url: string) => new URL(url).pathname.startsWith('/api/');
    page.on('request', (one) => ours(one.url()) && this.#open.add(one));
    page.on('requestfailed', (one) => void this.#open.delete(one));
    page.on('response', (answer) => {
      this.#open.delete(answer.request());
      if (ours(answer.url()) && [401, 403].includes(answer.status()))
        this.turnedAway.push(`${answer.request().method()} ${new URL(answer.url()).pathname}: ${answer.status()}`);
    });
  }

  async open(path: string): Promise<void> {
    this.#open.clear();
    await this.page.goto(hall.address + path);
    await expect(this.page.locator('h1').first()).toBeVisible();
    await expect(this.page.getByText('Asking the server …')).toHaveCount(0);
    // What a page reads first has come, and what comes of it is drawn.
    await expect.poll(() => this.#open.size).toBe(0);
    await this.page.waitForTimeout(250);
  }

  /** names are those of all that can be pressed on the page and looks so. */
  names(): Promise<string[]> {
    return this.page
      .locator('main')
      .locator('button, a.button')
      .evaluateAll((all) =>
        all
          .filter((each) => each.getClientRects().length > 0)
          .map((each) => (each.getAttribute('aria-label') ?? each.textContent).trim().replace(/\s+/g, ' ')),
      );
  }

  /** links are the pages of the desk that this one leads to. */
  links(): Promise<string[]> {
    return this.page
      .locator('a[href^="/desk"]')
      .evaluateAll((all) =>
        all.filter((each) => each.getClientRects().length > 0).map((each) => (each as HTMLAnchorElement).pathname),
      );
  }
}

async function signIn(page: Page, role: Role): Promise<void> {
  if (role === 'public') return;
  await page.goto(role === 'volunteer' ? (await hall.phoneFor('b1')).link : await hall.signIn(role));
  await expect(page.locator('h1').first()).toBeVisible();
  await expect
    .poll(
      async () => ((await (await page.request.get(`${hall.address}/api/v1/session`)).json()) as { role: string }).role,
    )
    .toBe(role);
}

/** The desk is looked at by axe as an organiser in the specs of its pages; an official’s is hardly another. */
const cleanElsewhere: readonly Role[] = ['organiser', 'official'];
/** What of the pages axe has looked at here: public ones look the same to all roles. */
const looked = new Set<string>();
async function cleanOnce(page: Page, what: string): Promise<void> {
  if (looked.has(what)) return;
  looked.add(what);
  await clean(page);
}

for (const role of roles)
  test(`who is signed in as ${role} is offered what the table of roles allows, and no more`, async ({ page }) => {
    test.setTimeout(300_000);
    await page.setViewportSize({ width: 1440, height: 900 });
    await signIn(page, role);
    const watched = new Watched(page);
    const atDesk = may('GetInspectorTable', role);
    const wrong: string[] = [];

    for (const [path] of atDesk ? pages : [pages[0]!]) {
      await watched.open(path);
      if (!atDesk) {
        await expect(page.getByRole('heading', { level: 1, name: 'Sign in' })).toBeVisible();
        expect(await watched.names()).toEqual(['Sign in', 'Sign in by name', 'Dark look', 'Deutsch']);
        await clean(page);
        break;
      }
      if (!opens(path, role)) {
        await expect(page.getByRole('heading', { level: 1, name: 'Not with this key' })).toBeVisible();
        expect(await watched.names()).toEqual([]);
        await cleanOnce(page, 'not with this key');
        continue;
      }
      await expect(page.getByRole('heading', { level: 1, name: 'Not with this key' })).toHaveCount(0);
      for (const [, name, operation] of controls.filter(([at]) => at === path))
        if (may(operation, role) && (path !== '/desk/m/spring' || may('ListDecisions', role)))
          await expect(
            page.getByRole('main').getByRole('button', { name }).or(page.getByRole('main').getByRole('link', { name })),
            `${path}: ${String(name)}`,
          ).not.toHaveCount(0);
      const names = await watched.names();
      for (const name of names) {
        const means = controls.filter(([at, control]) => at === path && control.test(name));
        const elsewhere = means.length > 0 ? means : controls.filter(([, control]) => control.test(name));
        if (means.length === 0 && onlyLooks.test(name)) continue;
        if (elsewhere.length === 0 || !elsewhere.every(([, , of]) => may(of, role)))
          wrong.push(`${path} offers “${name}”`);
      }
      for (const to of await watched.links()) if (!opens(to, role)) wrong.push(`${path} leads to ${to}`);
      if (!cleanElsewhere.includes(role)) await cleanOnce(page, `${path}: ${names.join()}`);
    }

    expect(wrong).toEqual([]);
    expect(watched.turnedAway).toEqual([]);

    // At a bench: the car that is called, for who may run it. The page asks for it before it knows who looks.
    await watched.open('/bench/b1');
    const runs = may('GetBenchOrder', role);
    await expect(page.getByRole('heading', { name: 'Bring this car' })).toHaveCount(runs ? 1 : 0);
    await expect(page.getByRole('button', { name: 'Ready' })).toHaveCount(runs && may('ConfirmReady', role) ? 1 : 0);
    await expect(page.getByRole('button', { name: /official/i })).toHaveCount(
      runs && may('WantOfficial', role) ? 1 : 0,
    );
    await cleanOnce(page, `a bench: ${String(runs)}, ${role === 'public' ? 'signed out' : 'signed in'}`);

    watched.turnedAway.length = 0;
    for (const path of [
      '/m/spring',
      '/m/spring/cars',
      '/m/spring/cars/e7',
      '/m/spring/standings/junior',
      '/practice',
    ]) {
      await watched.open(path);
      await cleanOnce(page, path);
    }
    expect(watched.turnedAway).toEqual([]);
  });
