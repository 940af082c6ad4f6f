import { expect, test } from '@playwright/test';
import { CounterBox, Hall } from '../e2e/bench-hall';
import { camera, closeRound, draw, planKnockout, raceAll } from './shoot';
import { usualRules } from '../e2e/usual-rules';

let hall: Hall;
test.afterEach(() => hall.close());

test('the desk, on a laptop and a phone', async ({ page }) => {
  hall = await Hall.open();
  const shoot = camera(page, 'desk', ['desktop', 'phone']);
  const at = (path: string) => page.goto(`${hall.address}/desk${path}`);
  const button = (name: string | RegExp) => page.getByRole('button', { name });
  const dialog = page.getByRole('dialog');
  const raceS = 4;
  /** dialogBy opens a dialog, takes its picture and closes it. */
  const dialogBy = async (press: string | RegExp, name: string) => {
    await button(press).first().click();
    await expect(dialog).toBeVisible();
    await shoot(name);
    await page.keyboard.press('Escape');
    await expect(dialog).toHaveCount(0);
  };

  await at('');
  await expect(page.getByRole('heading', { name: 'Sign in' })).toBeVisible();
  await shoot('sign-in');
  await page.goto(await hall.signIn());
  await expect(page.getByText('No meet is planned yet.')).toBeVisible();
  await shoot('meets-empty');
  await at('/new');
  await shoot('new-meet');
  await at('/benches');
  await expect(page.getByText('No bench is registered yet.')).toBeVisible();
  await shoot('benches-empty');
  await dialogBy('Register a bench', 'bench-dialog');
  await at('/keys');
  await shoot('keys-first');
  await at('/people');
  await expect(page.getByText('The club knows nobody yet.')).toBeVisible();
  await shoot('people-empty');
  await at('/nothing');
  await shoot('no-page');
  await at('/m/nothing');
  await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
  await shoot('no-meet');

  const rules = usualRules;
  await hall.ask('POST', '/meets', {
    id: 'bare',
    plan: { name: 'Harbour Hall summer meet', date: '2027-07-10' },
    rules,
  });
  for (const [path, name] of [
    ['', 'now'],
    ['/entries', 'entries'],
    ['/programme', 'programme'],
    ['/rulings', 'rulings'],
    ['/plan', 'plan'],
  ] as const) {
    await at(`/m/bare${path}`);
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible();
    await shoot(`${name}-empty`);
  }
  await dialogBy('Add a division', 'division-dialog');

  await hall.addBenches(1, 2, 3);
  await hall.planMeet('spring', ['b1', 'b2'], 6, raceS);
  await planKnockout(hall, 'autumn', ['b1', 'b2', 'b3'], raceS);
  await at('');
  await expect(page.getByText('Harbour Hall autumn meet')).toBeVisible();
  await shoot('meets');
  await at('/benches');
  await expect(button('Change: bench 1')).toBeVisible();
  await shoot('benches');
  await at('/keys');
  await button('Make a key for every bench').click();
  await expect(page.getByRole('img', { name: /^QR code/ })).toHaveCount(3);
  await shoot('keys-made');
  await at('/people');
  await expect(page.getByText('Kit Lantern').first()).toBeVisible();
  await shoot('people');
  await dialogBy('Erase Kit Lantern', 'erase-dialog');

  await at('/m/spring/entries');
  await expect(page.getByText('6 of 6 entries')).toBeVisible();
  await shoot('entries');
  await dialogBy('Rule: 7 Lantern', 'entry-ruling-dialog');
  await hall.ask('PUT', '/meets/bare/divisions/junior', {
    name: 'Juniors',
    age_from: 6,
    age_to: 10,
    class: { name: 'Open', lap_m: 1 },
    stages: [{ kind: 'timed-rounds', rounds: 1, race_s: 60, lanes: 2, rule: 'best' }],
  });
  await at('/m/bare/entries');
  await dialogBy('Take an entry', 'entry-dialog');
  await at('/m/spring/plan');
  await expect(page.getByRole('heading', { name: 'Juniors 6 to 10' })).toBeVisible();
  await shoot('plan');

  await at('/m/spring');
  await expect(page.getByText('Nothing waits for a decision.')).toBeVisible();
  await shoot('now-before');
  const heat = 'junior-1.1.1';
  const lanes = await hall.call('spring', heat);
  await expect(button(/^Start: /)).toBeVisible();
  await shoot('now-called');
  for (const [bench, lane] of Object.entries(lanes)) await hall.ready('spring', heat, bench, lane.racer.start_number);
  await hall.start('spring', heat);
  await expect(button(/^Start: /)).toHaveCount(0);
  await shoot('now-racing');
  for (const [bench, lane] of Object.entries(lanes))
    await new CounterBox(hall, bench, 'spring').run(lane.armed!, raceS, bench === 'b1' ? 6400 : 0);
  await hall.ask('POST', `/meets/spring/heats/${heat}/ask-rerun`, {
    entry: lanes['b1']!.racer.entry,
    reason: { code: 'power' },
  });
  await hall.ask('POST', '/meets/spring/protests', {
    heat,
    entry: lanes['b2']!.racer.entry,
    reason: { code: 'outside-interference', text: 'The roller squeaked' },
  });
  await new CounterBox(hall, 'b1', 'spring').run('nobody-asked', raceS, 6300);
  const next = await hall.call('spring', 'junior-1.1.2');
  for (const [bench, lane] of Object.entries(next))
    await hall.ready('spring', 'junior-1.1.2', bench, lane.racer.start_number);
  await hall.start('spring', 'junior-1.1.2');
  await new CounterBox(hall, 'b1', 'spring').run(next['b1']!.armed!, raceS, 6500);
  await hall.ask('POST', '/meets/spring/benches/b2/service', { out: true, reason: { code: 'bench-fault' } });
  await expect(page.getByRole('heading', { name: 'A run is in doubt: is a re-run due?' }).first()).toBeVisible();
  await expect(page.getByRole('heading', { name: 'A bench is out of service' })).toBeVisible();
  await expect(page.getByRole('heading', { name: 'A run should have come by now' })).toBeVisible({ timeout: 60_000 });
  await shoot('now-decisions');
  await dialogBy(/^Grant a re-run: /, 'ruling-dialog');
  await dialogBy(/^Enter a hand count: /, 'hand-count-dialog');
  await at('/m/spring/rulings');
  await expect(page.getByText('The roller squeaked').first()).toBeVisible();
  await shoot('rulings-waiting');
  await hall.ask('POST', '/meets/spring/rulings', {
    kind: 'turn-down-rerun',
    heat,
    entry: lanes['b1']!.racer.entry,
    reason: { code: 'other', text: 'the lamp was on' },
  });
  await hall.ask('POST', '/meets/spring/rulings', {
    kind: 'penalise',
    heat,
    entry: lanes['b1']!.racer.entry,
    penalty_m: 2.5,
    reason: { code: 'false-start' },
  });
  await at('/m/spring/rulings');
  await expect(page.getByRole('rowheader', { name: 'Penalty given' })).toBeVisible();
  await shoot('rulings');
  await page.locator('a[href*="/runs/"]').last().click();
  await expect(page.getByRole('figure')).toHaveCount(1);
  await shoot('run');
  await hall.ask('POST', '/meets/spring/pause', { reason: { code: 'lunch' } });
  await at('/m/spring');
  await expect(page.getByText('The meet is paused: Lunch.')).toBeVisible();
  await shoot('now-paused');

  await at('/m/autumn/programme');
  await expect(page.getByText('Round 1 is drawn.')).toBeVisible();
  await shoot('programme-drawn');
  await raceAll(hall, 'autumn', raceS);
  await closeRound(hall, 'autumn', 'seniors');
  await draw(hall, 'autumn', 'seniors');
  await at('/m/autumn/programme');
  await expect(
    page
      .getByRole('heading', { name: 'Semi-finals' })
      .or(page.getByRole('heading', { name: 'Knockout, round 1' }))
      .first(),
  ).toBeVisible();
  await shoot('programme-knockout');
  await raceAll(hall, 'autumn', raceS);
  await closeRound(hall, 'autumn', 'seniors');
  await draw(hall, 'autumn', 'seniors');
  await raceAll(hall, 'autumn', raceS);
  await closeRound(hall, 'autumn', 'seniors');
  await at('/m/autumn');
  await expect(button(/^Publish/)).toBeVisible();
  await shoot('now-publish');
  await dialogBy(/^Publish/, 'publish-dialog');
  await hall.ask('POST', '/meets/autumn/divisions/seniors/publish');
  await at('/m/autumn/programme');
  await expect(page.getByText('The results are published.')).toBeVisible();
  await shoot('programme-published');
  await at('/m/autumn');
  await expect(page.getByText('Nothing waits for a decision.')).toBeVisible();
  await shoot('now-over');
});
