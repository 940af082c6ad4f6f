import { expect, test } from '@playwright/test';
import { CounterBox, Hall } from '../e2e/bench-hall';
import { camera } from './shoot';

test.use({ viewport: { width: 390, height: 844 }, hasTouch: true });

let hall: Hall;
test.afterEach(() => hall.close());

test('the bench page, on a phone', async ({ page, context }) => {
  hall = await Hall.open();
  const shoot = camera(page, 'bench', ['phone']);
  const both = ['phone', 'desktop'] as const;
  await hall.addBenches(1, 2, 3, 4);
  const { link } = await hall.phoneFor('b1', 'b2', 'b3');

  await page.goto(`${hall.address}/bench/b1`);
  await expect(page.getByRole('heading', { name: 'Who are you?' })).toBeVisible();
  await shoot('sign-in', both);
  await page.goto(link);
  await expect(page.getByText('No car is called to this bench.')).toBeVisible();
  await shoot('free-no-meet', both);

  await hall.planMeet('spring', ['b1', 'b2'], 4, 4);
  await page.reload();
  await expect(page.getByText('Next heat')).toBeVisible();
  await shoot('free-next');

  const heat = 'junior-1.1.1';
  const lanes = await hall.call('spring', heat);
  const { racer, armed } = lanes['b1']!;
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  await shoot('called', both);
  await page.getByLabel('Which number').fill('99');
  await page.getByRole('button', { name: 'Ready' }).click();
  await shoot('called-wrong-car');
  await context.setOffline(true);
  await page.getByLabel('Which number').fill(String(racer.start_number));
  await page.getByRole('button', { name: 'Ready' }).click();
  await expect(page.getByText('Confirmed here, but not sent yet')).toBeVisible();
  await expect(page.getByText('Cut off since')).toBeVisible();
  await shoot('ready-unsent');
  await context.setOffline(false);
  await expect(page.getByText('1 order not sent')).toBeHidden();
  await expect(page.getByText('Cut off since')).toBeHidden({ timeout: 20_000 });
  await shoot('ready', both);

  await hall.ready('spring', heat, 'b2', lanes['b2']!.racer.start_number);
  await hall.start('spring', heat);
  await expect(page.getByRole('heading', { name: 'Racing', exact: true })).toBeVisible();
  await shoot('racing-no-speed');
  const run = new CounterBox(hall, 'b1', 'spring').begin(armed!, 4, 7000);
  await run.send(1.5);
  await expect(page.getByText('km/h').first()).toBeVisible();
  await shoot('racing', both);
  await page.getByRole('button', { name: 'Count by hand' }).click({ timeout: 30_000 });
  await page.keyboard.press('Escape');
  await shoot('racing-late');
  await page.getByRole('button', { name: 'Count by hand' }).click();
  await page.getByRole('dialog').getByLabel('Laps', { exact: true }).fill('12');
  await shoot('hand-count');
  await page.keyboard.press('Escape');
  await run.send(4);
  await expect(page.getByRole('heading', { name: /^Measured/ })).toBeVisible();
  await shoot('measured', both);
  await new CounterBox(hall, 'b2', 'spring').run(lanes['b2']!.armed!, 4, 6000);
  await expect(page.getByText('1st in this heat so far')).toBeVisible();
  await page.getByRole('button', { name: 'Ask for a re-run' }).click();
  await shoot('ask-rerun');
  await page.getByLabel('Power failure').check();
  await page.getByRole('button', { name: 'Ask an official' }).click();
  await expect(page.getByText('Asked. An official decides.')).toBeVisible();
  await shoot('rerun-asked');
  await hall.ask('POST', '/meets/spring/rulings', {
    kind: 'grant-rerun',
    heat,
    entry: racer.entry,
    counts: 'rerun',
    reason: { code: 'power' },
  });
  await expect(page.getByText('Granted: the car will be called again.')).toBeVisible();
  await shoot('rerun-granted');

  await hall.ask('POST', '/meets/spring/pause', { reason: { code: 'lunch' } });
  await expect(page.getByText('The meet is paused')).toBeVisible();
  await shoot('paused');
  await hall.ask('POST', '/meets/spring/resume');
  await hall.call('spring', 'junior-1.1.2');
  await expect(page.getByRole('heading', { name: 'Bring this car' })).toBeVisible();
  await context.setOffline(true);
  await page
    .getByLabel('Which number')
    .fill(String((await hall.lanes('spring', 'junior-1.1.2'))['b1']!.racer.start_number));
  await page.getByRole('button', { name: 'Ready' }).click();
  await hall.ask('POST', '/meets/spring/heats/junior-1.1.2/call-off', { reason: { code: 'alarm' } });
  await context.setOffline(false);
  await expect(page.getByRole('alert')).toContainText('was not accepted');
  await shoot('refused');
  await page.getByRole('button', { name: 'Understood' }).first().click();
  await hall.ask('POST', '/meets/spring/benches/b1/service', { out: true, reason: { code: 'bench-fault' } });
  await expect(page.getByRole('heading', { name: 'Out of service' })).toBeVisible();
  await shoot('out-of-service');

  await page.goto(`${hall.address}/bench/b3`);
  await page.getByLabel('Car number').fill('12');
  await page.getByRole('button', { name: 'Go' }).click();
  await expect(page.getByRole('heading', { name: 'Practice: put the car on' })).toBeVisible();
  await shoot('practice-armed');
  const box = new CounterBox(hall, 'b3');
  const order = await hall.ask<{ run: string; race_s: number }>('GET', '/benches/b3/order');
  const practice = box.begin(order.run, order.race_s, 6500);
  await practice.send(5);
  await expect(page.getByText('km/h').first()).toBeVisible();
  await shoot('practice-live');
  await practice.send(order.race_s);
  for (const rpm of [6600, 6450]) {
    await hall.ask('POST', '/benches/b3/practice', { race_s: 20, car_number: 12 });
    await box.run((await hall.ask<{ run: string }>('GET', '/benches/b3/order')).run, 20, rpm);
  }
  await expect(page.getByRole('table', { name: 'Runs before, at this bench' }).getByRole('row')).toHaveCount(3);
  await shoot('practised', both);

  await page.goto(`${hall.address}/bench`);
  await expect(page.getByText('Choose the bench that you stand at.')).toBeVisible();
  await shoot('choose', both);
  await page.goto(`${hall.address}/bench/b4`);
  await expect(page.getByRole('heading', { name: 'Not your bench' })).toBeVisible();
  await shoot('not-yours');
  await page.goto(`${hall.address}/bench/b1/more/than/that`);
  await expect(page.getByText('There is no page at this address.')).toBeVisible();
  await shoot('no-page');
});
