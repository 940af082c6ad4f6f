import { expect, test } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { clean } from './clean';
import { Keyboard } from './desk-keyboard';

test.use({ viewport: { width: 1280, height: 800 } });

let hall: Hall;
let link: string;
test.beforeAll(async () => {
  test.setTimeout(120_000); // it may build the binary first
  hall = await Hall.open();
  const made = await hall.ask<{ links: string[] }>('POST', '/tokens', { role: 'organiser', label: 'laptop' });
  link = made.links[0]!;
});
test.afterAll(() => hall.close());

const raceS = 3;
const meet = 'harbour-hall-spring-meet-2027';

test('a whole meet by keyboard alone: plan, enter, check in, draw, call, rule, close, publish', async ({ page }) => {
  test.setTimeout(180_000);
  const k = new Keyboard(page);
  const box = (bench: string) => new CounterBox(hall, bench, meet);
  const boxes: Record<string, CounterBox> = { b1: box('b1'), b2: box('b2') };

  await test.step('sign in with a pasted link', async () => {
    await page.goto(`${hall.address}/desk`);
    await clean(page);
    await k.type('Key, or the whole link', link);
    await page.keyboard.press('Enter');
    await expect(page.getByText('Signed in as organiser')).toBeVisible();
    await expect(page.getByText('No meet is planned yet.')).toBeVisible();
    await clean(page);
  });

  await test.step('register two benches', async () => {
    await k.follow('Benches');
    for (const number of ['1', '2']) {
      await k.press('Register a bench');
      await expect(k.dialog().getByLabel('Number', { exact: true })).toHaveValue(number);
      await k.type('Roller circumference in mm', '94.25', k.dialog());
      await page.keyboard.press('Enter');
      await expect(page.getByRole('button', { name: `Change: bench ${number}` })).toBeVisible();
    }
    await clean(page);
  });

  await test.step('plan the meet', async () => {
    await k.follow('Meets');
    await k.follow('Plan a meet');
    await clean(page);
    await k.type('Name', 'Harbour Hall spring meet');
    await k.type('Place', 'Harbour Hall');
    await k.to(page.getByLabel('Date', { exact: true }));
    await page.keyboard.type('04172027');
    await k.type('Minutes for a protest', '0');
    await k.press('Plan this meet');
    await expect(page).toHaveURL(new RegExp(`/desk/m/${meet}/plan$`));
  });

  await test.step('add a division and bring the benches in', async () => {
    await k.press('Add a division');
    await clean(page);
    await k.choose('Template', 'Timed rounds only', k.dialog());
    await k.type('Rounds', '1', k.dialog());
    await k.type('Cars in a heat', '2', k.dialog());
    await k.type('Seconds a run lasts', String(raceS), k.dialog());
    await k.type('Name of the class', 'Two-cell open class', k.dialog());
    await k.type('Name', 'Juniors', k.dialog());
    await k.type('Age to', '10', k.dialog());
    await page.keyboard.press('Enter');
    await expect(page.getByRole('heading', { name: 'Juniors' })).toBeVisible();
    await k.press('Bring all in');
    await expect(page.getByText('in the meet', { exact: true })).toHaveCount(2);
    await clean(page);
  });

  await test.step('take entries and check them in', async () => {
    await k.follow('Entries');
    await k.press('Take an entry');
    await clean(page);
    for (const [i, nickname] of ['Lantern', 'Puffin', 'Turbot', 'Nutmeg'].entries()) {
      await k.type('Full name', `Kit ${nickname}`, k.dialog());
      await k.type('Nickname', nickname, k.dialog());
      await k.tick('Nickname on screens', k.dialog());
      await k.press('Take this entry', k.dialog());
      await expect(k.dialog().getByText(`Number ${i + 1} is entered.`)).toBeVisible();
    }
    await page.keyboard.press('Escape');
    await expect(page.getByText('4 of 4 entries')).toBeVisible();
    await k.to(page.getByRole('spinbutton', { name: 'Start number' }));
    for (const number of [1, 2, 3, 4]) {
      await page.keyboard.type(String(number));
      await page.keyboard.press('Enter');
      await expect(page.getByText(`${number} `).filter({ hasText: 'is checked in.' })).toBeVisible();
    }
    await clean(page);
    await k.press('Close entries: Juniors');
    await expect(k.dialog()).toContainText('All are checked in.');
    await k.press('Close entries', k.dialog());
    await expect(page.getByRole('button', { name: 'Open again: Juniors' })).toBeVisible();
  });

  await test.step('draw', async () => {
    await k.follow('Programme');
    await k.press('Draw the first round');
    await expect(page.getByText('Round 1 is drawn.')).toBeVisible();
    await clean(page);
  });

  async function race(heat: string, title: string) {
    await k.press(`Call: ${title}`);
    await expect(page.getByRole('button', { name: `Start: ${title}` })).toBeVisible();
    const lanes = Object.values(await hall.lanes(meet, heat)).filter((lane) => lane.armed);
    for (const lane of lanes) {
      await k.press(`Ready: bench ${lane.bench.slice(1)}`);
      await k.type('Number on the car', String(lane.racer.start_number), k.dialog());
      await page.keyboard.press('Enter');
      await expect(k.dialog()).toHaveCount(0);
    }
    await k.press(`Start: ${title}`);
    await expect(page.getByRole('button', { name: `Start: ${title}` })).toHaveCount(0);
    for (const lane of lanes) await boxes[lane.bench]!.run(lane.armed!, raceS, 6000 + 300 * lane.racer.start_number);
    return lanes;
  }
  const first = 'Juniors: Round 1, heat 1';
  const second = 'Juniors: Round 1, heat 2';

  await test.step('call and race the first heat', async () => {
    await k.follow('Now');
    await expect(page.getByText('Nothing waits for a decision.')).toBeVisible();
    const [lane] = await race('juniors-1.1.1', first);
    await expect(page.getByRole('button', { name: `Protest: ${first}` })).toBeVisible();
    await hall.ask('POST', `/meets/${meet}/heats/juniors-1.1.1/ask-rerun`, {
      entry: lane!.racer.entry,
      reason: { code: 'power' },
    });
  });

  await test.step('grant the re-run that a bench asks for', async () => {
    await expect(page.getByRole('heading', { name: 'A bench asks for a re-run' })).toBeVisible();
    await clean(page);
    await k.press(/^Grant a re-run: /);
    await expect(k.dialog().getByLabel('Reason', { exact: true })).toHaveValue('power');
    await clean(page);
    await k.press('Grant a re-run', k.dialog());
    await expect(page.getByText('Nothing waits for a decision.')).toBeVisible();
    await race('juniors-1.1.1', first);
  });

  await test.step('race the second heat, set a stray run aside, give a penalty', async () => {
    const [lane] = await race('juniors-1.1.2', second);
    await boxes['b1']!.run('nobody-asked', raceS);
    await expect(page.getByText('No heat asked for this run.')).toBeVisible();
    await k.press(/^Set it aside/);
    await k.type('In your own words', 'somebody tried the bench', k.dialog());
    await k.press('Set a run aside', k.dialog());
    // Words have to be about somebody, or nobody's erasure would ever reach them.
    await expect(k.dialog().getByText('Nobody can say whom this text is about', { exact: false })).toBeVisible();
    await k.dialog().getByLabel('In your own words').fill('');
    await k.press('Set a run aside', k.dialog());
    await expect(page.getByText('No heat asked for this run.')).toHaveCount(0);
    await k.press(new RegExp(`^Rule: ${lane!.racer.start_number} .*${second}$`));
    await k.choose('Ruling', 'Give a penalty', k.dialog());
    await k.type('Penalty in m', '2.5', k.dialog());
    await k.type('In your own words', 'let go before the light', k.dialog());
    await k.press('Make this ruling', k.dialog());
    await expect(page.getByText('penalty 2.5 m')).toBeVisible();
  });

  await test.step('close the round and publish', async () => {
    await k.press('Close the round: Juniors');
    await k.press('Publish the results: Juniors');
    await expect(k.dialog()).toContainText('Everybody sees the standings as official.');
    await k.press('Publish', k.dialog());
    await k.follow('Programme');
    await expect(page.getByText('The results are published.')).toBeVisible();
    await expect(page.getByText('Final', { exact: true })).toBeVisible();
    await clean(page);
  });

  await test.step('the rulings stand in their list', async () => {
    await k.follow('Rulings');
    await expect(page.getByRole('rowheader', { name: 'Penalty given' })).toBeVisible();
    await expect(page.getByRole('cell', { name: /let go before the light/ })).toBeVisible();
    await expect(page.getByRole('cell', { name: 'laptop' })).toHaveCount(3);
    await clean(page);
  });

  const log = await hall.log(meet);
  expect(
    log.filter((type) =>
      ['RerunGranted', 'RunSetAside', 'PenaltyGiven', 'RoundClosed', 'ResultsPublished'].includes(type),
    ),
  ).toEqual(['RerunGranted', 'RunSetAside', 'PenaltyGiven', 'RoundClosed', 'ResultsPublished']);
});
