import { expect, test } from '@playwright/test';
import { Hall, type SteppedClock } from './bench-hall';
import { planBoard } from './board-hall';
import { clean } from './clean';
import { PlayedDay } from './played-hall';

// The clock of the server is stepped, and the pages show its hours.
test.use({ timezoneId: 'UTC' });

const meet = 'spring';
const day = '2027-04-17';
const at = (hour: string) => Date.parse(`${day}T${hour}:00Z`);
const hour = (instant: string) => instant.slice(11, 16);

let hall: Hall;
let clock: SteppedClock;
test.beforeAll(async () => {
  test.setTimeout(300_000); // the program is built as the Go tests have it
  [hall, clock] = await Hall.openAt(`${day}T11:00:00Z`);
  await planBoard(hall, meet, 4, ['Juniors 6 to 10', 'Seniors 11 to 14'], 10, {
    rounds: 3,
    lanes: 2,
    protest_s: 60,
    plan: { date: day, time_zone: 'UTC', opens: '11:30', closes: '15:00' },
  });
});
test.afterAll(() => hall.close());

interface Plan {
  finish?: string;
  last_race_by: string;
  told?: { finish: string };
  forecast?: { p10: string; p90: string };
  heats: { heat: string; phase: string; likely: string; not_before?: string; cars: { entry: string }[] }[];
  rounds: { division: string; round: number; not_before?: string }[];
}
const plan = () => {
  clock.hold();
  return hall.ask<Plan>('GET', `/meets/${meet}/day-plan`);
};
/** promises of a plan are the times before which its heats and its rounds are not called. */
const promises = ({ heats, rounds }: Plan) =>
  new Map(
    [
      ...heats.filter(({ phase }) => phase === 'drawn').map(({ heat, not_before }) => [heat, not_before] as const),
      ...rounds.map(({ division, round, not_before }) => [`${division}-1.${round}`, not_before] as const),
    ].flatMap(([of, told]) => (told ? [[of, told] as const] : [])),
  );

test('a bench fails at noon: the desk says what moves, wall and phone keep what was promised, and the day ends by the time that was named', async ({
  page,
  context,
}) => {
  test.setTimeout(240_000);
  const played = new PlayedDay(hall, clock, meet, ['b1', 'b2', 'b3', 'b4'], 5);
  clock.step(at('11:30'));
  await page.setViewportSize({ width: 1280, height: 800 });
  await page.goto((await hall.signIn()).replace('/desk#', `/desk/m/${meet}/times#`));
  await test.step('the times of the day are told', async () => {
    await page.getByRole('button', { name: 'Tell these times' }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Tell these times' }).click();
    await expect(page.getByText(/^Told at 11:30: over at 1\d:\d\d\./)).toBeVisible();
    await expect(page.getByText('The day goes as told, to within five minutes.')).toBeVisible();
  });
  expect(await played.play(at('12:00'))).toBe(true);
  clock.step(at('12:00'));
  const before = await plan();
  expect(played.called.length, 'the morning is raced').toBeGreaterThan(8);
  const waits = before.heats.filter(({ phase }) => phase === 'drawn').at(-1)!;
  const told = promises(before);

  const wall = await context.newPage();
  await wall.setViewportSize({ width: 1920, height: 1080 });
  await wall.goto(`${hall.address}/m/${meet}`);
  const phone = await context.newPage();
  await phone.setViewportSize({ width: 360, height: 740 });
  await phone.goto(`${hall.address}/m/${meet}/cars/${waits.cars[0]!.entry}`);
  const next = wall.getByRole('heading', { name: 'Get ready' }).locator('xpath=ancestor::section[1]');
  await expect(next.getByText(/^(about 1\d:\d\d|soon)$/).first()).toBeVisible();
  await expect(phone.getByText(`not before ${hour(told.get(waits.heat)!)}`)).toBeVisible();

  const out = (await played.fails())!;
  const number = out.slice(1);
  await test.step('looked at before it is done: the desk says what would move, and why', async () => {
    await page.reload(); // its clock is that of the server when it came
    const look = page.getByRole('group', { name: 'What if …', exact: true });
    await look.getByLabel(`Bench ${number}`).check();
    await look.getByRole('button', { name: 'See what moves' }).click();
    await expect(look.getByRole('status')).toContainText(/That is \d+ minutes later than as the day stands\./);
    const moves = page.getByRole('table', { name: 'What would move' }).getByRole('row');
    await expect(moves.filter({ hasText: /\d+ minutes later/ }).last()).toContainText(
      /waits for a free bench, of 3 in service/,
    );
    await clean(page);
  });
  await test.step('it is done: the bench is taken out, and the new times are told', async () => {
    await page.goto(`${hall.address}/desk/m/${meet}`);
    await page.getByRole('button', { name: `Take out: bench ${number}` }).click();
    await page.getByRole('dialog').getByRole('button', { name: 'Take out' }).click();
    await expect(page.getByRole('heading', { name: 'A bench is out of service' })).toBeVisible();
    await page.goto(`${hall.address}/desk/m/${meet}/times`);
  });
  const after = await plan();
  const named = after.forecast!.p90;
  expect(Date.parse(after.finish!)).toBeGreaterThan(Date.parse(before.finish!) + 10 * 60_000);
  await expect(
    page.getByText(
      `One day in ten like this one ends before ${hour(after.forecast!.p10)}, one in ten after ${hour(named)}.`,
    ),
  ).toBeVisible();
  await expect(page.getByText(/^The day is \d+ minutes behind what was told\.$/)).toBeVisible();
  await expect(next.getByText(/^(about 1\d:\d\d|soon)$/).first()).toBeVisible();
  await clean(wall);
  clock.hold();
  await page.getByRole('button', { name: 'Tell these times' }).click();
  await page.getByRole('dialog').getByRole('button', { name: 'Tell these times' }).click();
  await expect(page.getByText(/^Told at 12:0\d: over at/)).toBeVisible();

  const again = await plan();
  for (const [of, notBefore] of promises(again))
    expect(notBefore >= (told.get(of) ?? ''), `${of} is promised for ${notBefore}, before ${told.get(of)}`).toBe(true);
  const later = again.heats.find(({ heat }) => heat === waits.heat)!.not_before!;
  expect(later > told.get(waits.heat)!, 'the last of the heats is later').toBe(true);
  await expect(phone.getByText(`not before ${hour(later)}`)).toBeVisible();
  await clean(phone);

  expect(await played.play(), 'something is left to race').toBe(false);
  for (const call of played.called) {
    expect(call.at, `${call.heat} is called before its time`).toBeGreaterThanOrEqual(call.notBefore ?? 0);
    if (call.at > at('12:00')) expect(call.benches, 'nobody is sent to the bench that failed').not.toContain(out);
  }
  // Ten cars in heats of two, three rounds of two divisions.
  expect(played.called).toHaveLength(30);
  expect((await plan()).heats).toEqual([]);
  await expect(page.getByText('Nothing is left to race.')).toBeVisible();
  await expect(phone.getByText(/not before/)).toBeHidden();
  await expect(next.getByText(/^(about \d|soon)/)).toHaveCount(0);
  const over = new Date(played.over).toISOString();
  expect(played.over, `over at ${over}, named was ${named}`).toBeLessThanOrEqual(Date.parse(named));
  expect(played.over, `over at ${over}`).toBeGreaterThan(at('12:30'));
});
