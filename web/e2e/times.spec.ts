import { expect, test } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';

let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000);
  hall = await Hall.open();
  await hall.addBenches(1, 2);
  await hall.planMeet('spring', ['b1', 'b2'], 6, 60);
});
test.afterAll(() => hall.close());

test('the desk says when the day is likely over, changes the order of heats and tells the times', async ({ page }) => {
  test.setTimeout(120_000);
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.goto((await hall.signIn()).replace('/desk#', '/desk/m/spring/times#'));
  await expect(page.getByText(/^The last race is likely over at \d/)).toBeVisible();
  await expect(page.getByText('The plan does not say when the hall closes.')).toBeVisible();
  await expect(page.getByText(/^One day in ten like this one ends before \d.*, one in ten after \d/)).toBeVisible();
  const heats = page.getByRole('group', { name: 'The next heats' }).getByRole('listitem');
  await expect(heats).toHaveCount(3);
  await expect(heats.first()).toContainText('heat 1');

  await page.getByRole('button', { name: /^Later: .*heat 1$/ }).click();
  await expect(heats.first()).toContainText('heat 2');
  await expect(page.getByRole('status').filter({ hasText: /heat 1 is 2nd now/ })).toBeAttached();
  await page.getByRole('button', { name: /^Sooner: .*heat 1$/ }).click();
  await expect(heats.first()).toContainText('heat 1');

  await page.getByRole('button', { name: /^Hold 10 minutes: .*heat 3$/ }).click();
  await expect(heats.filter({ hasText: 'heat 3' })).toContainText('held until');
  await page.getByRole('button', { name: /^Let go: .*heat 3$/ }).click();
  await expect(heats.filter({ hasText: 'held until' })).toHaveCount(0);

  await page.getByRole('button', { name: 'Tell these times' }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'Tell these times' }).click();
  await expect(page.getByText(/^Told at .*: over at/)).toBeVisible();
  await expect(heats.first()).toContainText('not before');
  await expect(page.getByRole('table', { name: 'Rounds of the day' }).getByRole('row')).not.toHaveCount(1);
  await clean(page);
  await page.setViewportSize({ width: 390, height: 844 });
  await clean(page);

  // Nobody is called before what was told unless somebody sees that all are here.
  await page.goto(`${hall.address}/desk/m/spring`);
  await page.getByRole('button', { name: /^Call: .*heat 3$/ }).click();
  await expect(page.getByRole('alert').filter({ hasText: 'was told to come later' })).toBeVisible();
  await page.getByRole('button', { name: /^All are here: call .*heat 3$/ }).click();
  await expect(page.getByRole('button', { name: /^Call: .*heat 3$/ })).toHaveCount(0);
});

test('the wall and a car’s page say when the next heats come', async ({ page }) => {
  await page.goto(`${hall.address}/m/spring`);
  const next = page.getByRole('heading', { name: 'Get ready' }).locator('xpath=ancestor::section[1]');
  // The third of them was called at the desk.
  await expect(next.getByText(/^(about \d|soon)/)).toHaveCount(2);
  const { heats } = await hall.ask<{ heats: { id: string; phase: string; lanes: { racer: { entry: string } }[] }[] }>(
    'GET',
    '/meets/spring/heats',
  );
  const carOf = (phase: string) => heats.findLast((heat) => heat.phase === phase)!.lanes[0]!.racer.entry;
  await page.goto(`${hall.address}/m/spring/cars/${carOf('drawn')}`);
  await expect(page.getByRole('heading', { name: 'What comes next' })).toBeVisible();
  await expect(page.getByText(/(about \d|soon).*not before \d/)).toBeVisible();
  await clean(page);
  await page.goto(`${hall.address}/m/spring/cars/${carOf('called')}`);
  await expect(page.getByText(/Now: go to bench [12]\./)).toBeVisible();
});

test('the caller reads in large letters who is called, who comes next and how a name is said', async ({ page }) => {
  test.setTimeout(120_000);
  // The desk called it in the first test, where that was played.
  await hall.ask('POST', '/meets/spring/heats/junior-1.1.3/call?sure=true', {}).catch(() => undefined);
  const { entries } = await hall.ask<{ entries: { id: string; entrant: string; start_number: number }[] }>(
    'GET',
    '/meets/spring/entries',
  );
  const { heats } = await hall.ask<{
    heats: {
      id: string;
      phase: string;
      called?: string;
      lanes: { racer: { entry: string; start_number: number } }[];
    }[];
  }>('GET', '/meets/spring/heats');
  const called = heats.find((heat) => heat.phase === 'called')!;
  const said = called.lanes[0]!.racer;
  const person = entries.find((one) => one.id === said.entry)!.entrant;
  await hall.ask('PUT', `/people/${person}`, {
    name: 'Siobhan Quay',
    display_name: 'Siobhan',
    say_as: 'shi-VAWN',
    birth_date: '2019-05-02',
    on_screen: true,
    in_results: true,
    photo: false,
  });
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.goto((await hall.signIn('referee')).replace('/desk#', '/desk/m/spring#'));
  await page.getByRole('link', { name: 'For the caller' }).focus();
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { level: 1, name: 'For the caller' })).toBeVisible();
  const part = (name: string) => page.getByRole('group', { name, exact: true }).getByRole('listitem');
  const now = part('Now: to the benches');
  await expect(now).toHaveCount(called.lanes.length);
  const line = now.filter({ hasText: 'Siobhan' });
  await expect(line).toContainText(String(said.start_number));
  await expect(line).toContainText('say “shi-VAWN”');
  await expect(line.getByText(/^Bench [12]$/)).toBeAttached();
  await expect(page.getByText(/^called at \d\d:\d\d/)).toBeVisible();
  await expect(part('Next')).toHaveCount(2);
  await expect(part('Get ready')).toHaveCount(2);
  // From a step away: what is called is larger than what comes, and that larger than a page's text.
  const px = (name: string) =>
    part(name)
      .first()
      .locator('.name')
      .evaluate((each) => parseFloat(getComputedStyle(each).fontSize));
  const [large, middle, small] = [await px('Now: to the benches'), await px('Next'), await px('Get ready')];
  expect(large).toBeGreaterThanOrEqual(60);
  expect(middle).toBeGreaterThanOrEqual(40);
  expect(small).toBeGreaterThanOrEqual(28);
  expect(large > middle && middle > small).toBe(true);
  await clean(page);

  // Who is at the bench is marked; the next call comes by itself, and is said.
  const lanes = await hall.lanes('spring', called.id);
  const [bench, lane] = Object.entries(lanes).find(([, one]) => one.racer.entry === said.entry)!;
  await hall.ready('spring', called.id, bench, lane.racer.start_number);
  await expect(line).toContainText('is there');
  const upcoming = await part('Next').first().locator('.name').innerText();
  await hall.ask('POST', `/meets/spring/heats/${called.id}/call-off`, { reason: { code: 'other' } });
  await expect(now).toHaveCount(0);
  await expect(page.getByText('Nobody is called at this moment.')).toBeVisible();
  const next = heats.find((heat) => heat.phase === 'drawn')!;
  await hall.ask('POST', `/meets/spring/heats/${next.id}/call?sure=true`, {});
  await expect(now).toHaveCount(2);
  await expect(
    page.getByRole('status').filter({ hasText: /^Called: Juniors 6 to 10: Round 1, heat \d\. / }),
  ).toBeAttached();
  expect(upcoming).not.toBe('');
  await page.setViewportSize({ width: 390, height: 844 });
  await clean(page);
  await expect.poll(() => page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
});

test('the desk shows the address of the calendar, and families read it', async ({ page, request }) => {
  await hall.ask('POST', '/meets/spring/day-plan/tell', {});
  await page.goto((await hall.signIn()).replace('/desk#', '/desk/m/spring/times#'));
  await page.getByRole('button', { name: 'Show the address' }).click();
  const address = page.getByLabel('Address of the calendar');
  await expect(address).toHaveValue(/^http:\/\/.*\/api\/v1\/meets\/spring\/calendar\/[\w-]{22,}\/day\.ics$/);
  await clean(page);
  const answer = await request.get(await address.inputValue()); // nobody is signed in there
  expect(answer.status()).toBe(200);
  expect(answer.headers()['content-type']).toContain('text/calendar');
  const text = (await answer.text()).replace(/\r\n /g, '');
  expect(text).toContain('SUMMARY:Juniors 6 to 10');
  expect(text).toContain('Times move');
  expect(text).not.toMatch(/Siobhan|Kit |Puffin/);
});
