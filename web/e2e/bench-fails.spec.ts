import { expect, test } from '@playwright/test';
import { Hall } from './bench-hall';
import { planBoard } from './board-hall';
import { clean } from './clean';
import { drawNext, raceHeat } from './forms-hall';

const meet = 'spring';
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(180_000);
  hall = await Hall.open();
  await planBoard(hall, meet, 4, ['Juniors 6 to 10'], 12, { rounds: 2, lanes: 2, protest_s: 0 });
});
test.afterAll(() => hall.close());

interface Plan {
  finish?: string;
  forecast?: { p10: string; p90: string };
  heats: { heat: string; phase: string; likely: string; cars: { entry: string }[] }[];
}
const plan = () => hall.ask<Plan>('GET', `/meets/${meet}/day-plan`);
const open = async () => (await plan()).heats.filter((heat) => heat.phase === 'drawn');

test('a bench fails in the middle of a day: wall, phone and desk say so, and the day ends by the time that was named', async ({
  page,
  context,
}) => {
  test.setTimeout(180_000);
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto((await hall.signIn()).replace('/desk#', `/desk/m/${meet}/times#`));
  const clock = (at: string) =>
    page.evaluate(
      (instant) => new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit' }).format(new Date(instant)),
      at,
    );
  const over = page.getByText(/^The last race is likely over at \d/);
  await expect(over).toBeVisible();
  // Half of the first round is raced.
  for (const heat of (await open()).slice(0, 3)) await raceHeat(hall, meet, heat.heat);
  await hall.ask('POST', `/meets/${meet}/day-plan/tell`, {});
  const before = await plan();
  const last = before.heats.at(-1)!;

  const wall = await context.newPage();
  await wall.setViewportSize({ width: 1920, height: 1080 });
  await wall.goto(`${hall.address}/m/${meet}`);
  const phone = await context.newPage();
  await phone.setViewportSize({ width: 360, height: 740 });
  await phone.goto(`${hall.address}/m/${meet}/cars/${last.cars[0]!.entry}`);
  const next = wall.getByRole('heading', { name: 'Get ready' }).locator('xpath=ancestor::section[1]');
  await expect(next.getByText(/^(about \d|soon)/).first()).toBeVisible();
  const promised = phone.getByText(/not before \d\d:\d\d/);
  await expect(promised).toBeVisible();
  const told = /not before (\d\d:\d\d)/.exec((await promised.textContent())!)![1]!;

  await test.step('looked at before it is done: the desk says what would move', async () => {
    const look = page.getByRole('group', { name: 'What if …', exact: true });
    await look.getByLabel('Bench 4').check();
    await look.getByRole('button', { name: 'See what moves' }).click();
    await expect(look.getByRole('status')).toContainText(/\d+ minutes later than as the day stands/);
  });
  await hall.ask('POST', `/meets/${meet}/benches/b4/service`, { out: true, reason: { code: 'bench-fault' } });

  // Two heats side by side become one after the other.
  const after = await plan();
  expect(Date.parse(after.finish!)).toBeGreaterThan(Date.parse(before.finish!) + 5 * 60_000);
  const named = after.forecast!.p90;
  // The desk says what the plan of this minute says.
  const says = async () => `The last race is likely over at ${await clock((await plan()).finish!)}.`;
  await expect(async () => expect(await over.textContent()).toBe(await says())).toPass({ timeout: 20_000 });
  await expect(
    page.getByText(/^One day in ten like this one ends before .* one in ten after \d/).first(),
  ).toBeVisible();
  await clean(page);
  // The wall and the phone go on with the promise, which only becomes later when somebody tells it.
  await expect(next.getByText(/^(about \d|soon)/).first()).toBeVisible();
  await expect(phone.getByText(`not before ${told}`)).toBeVisible();
  await hall.ask('POST', `/meets/${meet}/day-plan/tell`, { reason: 'bench-fault' });
  await expect(phone.getByText(/not before \d\d:\d\d/)).toBeVisible();
  const moved = /not before (\d\d:\d\d)/.exec((await phone.getByText(/not before \d\d:\d\d/).textContent())!)![1]!;
  expect(moved >= told).toBe(true);
  await clean(phone);

  for (let round = 1; round <= 2; round++) {
    for (let heats = await open(); heats.length > 0; heats = await open())
      for (const heat of heats) {
        // All are here.
        await hall.ask('POST', `/meets/${meet}/heats/${heat.heat}/call?sure=true`, {});
        const lanes = await hall.lanes(meet, heat.heat);
        for (const [bench, lane] of Object.entries(lanes)) {
          expect(bench, 'nobody is sent to the bench that failed').not.toBe('b4');
          await hall.ready(meet, heat.heat, bench, lane.racer.start_number);
        }
        await hall.start(meet, heat.heat);
        for (const lane of Object.values(lanes))
          await hall.ask('POST', `/meets/${meet}/heats/${heat.heat}/hand-count`, {
            entry: lane.racer.entry,
            distance_m: 300 - lane.racer.start_number,
            u_distance_m: 0.9,
          });
      }
    if (round === 1) await drawNext(hall, meet, 'd1').catch(() => undefined);
  }
  await expect(page.getByText('Nothing is left to race.')).toBeVisible({ timeout: 20_000 });
  await expect(phone.getByText(/not before/)).toBeHidden();
  await expect(next.getByText(/^(about \d|soon)/)).toHaveCount(0);
  expect(Date.now()).toBeLessThanOrEqual(Date.parse(named));
});
