import { expect, test } from '@playwright/test';
import { Hall } from './bench-hall';
import { clean } from './clean';

const meet = 'harbour-hall-spring';
let hall: Hall;
test.beforeAll(async () => {
  test.setTimeout(120_000);
  hall = await Hall.open('--example');
});
test.afterAll(() => hall.close());

interface Plan {
  finish: string;
  told: { at: string; finish: string };
  forecast: { p10: string; p90: string };
  heats: { phase: string; not_before?: string; cars: { entry: string }[] }[];
}

test('whoever starts the example sees its timetable, how far the day is from it, and how sure its end is', async ({
  page,
  context,
}) => {
  test.setTimeout(120_000);
  const plan = await hall.ask<Plan>('GET', `/meets/${meet}/day-plan`);
  const clock = (at: string) =>
    page.evaluate(
      (instant) => new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit' }).format(new Date(instant)),
      at,
    );
  const behind = Date.parse(plan.finish) - Date.parse(plan.told.finish);
  expect(behind, 'the day is late by some minutes').toBeGreaterThan(5 * 60_000);

  const wall = await context.newPage();
  await wall.setViewportSize({ width: 1920, height: 1080 });
  await wall.goto(`${hall.address}/m/${meet}`);
  await expect(wall.getByText(/^The day is about \d+ minutes later than we said\.$/)).toBeVisible();
  const next = wall.getByRole('heading', { name: 'Get ready' }).locator('xpath=ancestor::section[1]');
  await expect(next.getByText(/^(about \d\d:\d\d|soon)$/).first()).toBeVisible({ timeout: 60_000 });
  await clean(wall);

  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto((await hall.signIn()).replace('/desk#', `/desk/m/${meet}/times#`));
  await expect(page.getByText(/^The last race is likely over at \d\d:\d\d\.$/)).toBeVisible();
  await expect(page.getByText(/^One day in ten like this one ends before .* one in ten after \d/)).toBeVisible();
  const [told, over] = [await clock(plan.told.at), await clock(plan.told.finish)];
  await expect(page.getByText(`Told at ${told}: over at ${over}.`)).toBeVisible();
  await expect(page.getByText(/^The day is \d+ minutes behind what was told\.$/)).toBeVisible();
  const begun = page.getByRole('table', { name: 'What was told, and when it began' });
  const rows = begun.getByRole('row').filter({ hasText: 'not before' });
  expect(await rows.count()).toBeGreaterThan(3);
  await expect(rows.last()).toContainText(/not before \d\d:\d\d\s*\d\d:\d\d\s*\d+ minutes later/);
  await page.getByRole('button', { name: 'Rest of the day' }).click();
  const board = page.getByRole('listbox', { name: 'Board of the rest of the day' });
  for (const says of ['now', 'keys back', 'last race by', 'Prize-giving', 'Packing'])
    await expect(board.getByText(says, { exact: true })).toBeVisible();
  await clean(page);
  await page.setViewportSize({ width: 360, height: 740 });
  await clean(page);

  // Somebody whose heat was told its time and waits.
  const waits = async () => {
    const { heats } = await hall.ask<Plan>('GET', `/meets/${meet}/day-plan`);
    return heats.findLast((heat) => heat.phase === 'drawn' && heat.not_before)?.cars[0]?.entry;
  };
  await expect.poll(waits, { timeout: 60_000 }).toBeDefined();
  const phone = await context.newPage();
  await phone.setViewportSize({ width: 360, height: 740 });
  await phone.goto(`${hall.address}/m/${meet}/cars/${await waits()}`);
  await expect(phone.getByText(/not before \d\d:\d\d/)).toBeVisible();
  await clean(phone);
});
