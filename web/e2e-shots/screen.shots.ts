import { expect, test, type WebSocketRoute } from '@playwright/test';
import { CounterBox, Hall } from '../e2e/bench-hall';
import { camera, closeRound, draw, planKnockout, race, raceAll, type Size } from './shoot';

let hall: Hall;
test.afterEach(() => hall.close());

test('the public screen, on a wall, a laptop and a phone', async ({ page }) => {
  hall = await Hall.open();
  const shoot = camera(page, 'screen', ['hall', 'desktop', 'phone']);
  const at = (path: string) => page.goto(hall.address + path);
  await hall.addBenches(1, 2, 3, 4);
  const raceS = 4;

  await at('/?list');
  await expect(page.getByText('No race day is planned yet.')).toBeVisible();
  await shoot('choose-empty');
  await at('/practice');
  await expect(page.getByText('No practice run yet.')).toBeVisible();
  await shoot('practice-empty');
  await at('/m/nothing');
  await expect(page.getByRole('heading', { name: 'No such race day' })).toBeVisible();
  await shoot('no-meet');
  await at('/nothing/here');
  await expect(page.getByRole('heading', { name: 'Nothing here' })).toBeVisible();
  await shoot('no-page');

  await hall.planMeet('spring', ['b1', 'b2', 'b3', 'b4'], 6, raceS);
  await planKnockout(hall, 'autumn', ['b1', 'b2'], raceS);
  await at('/?list');
  await expect(page.getByText('Harbour Hall autumn meet')).toBeVisible();
  await shoot('choose');

  await at('/m/spring/standings/junior');
  await expect(page.getByText(/^(No standings yet|As it stands now)/)).toBeVisible();
  await shoot('standings-empty');
  await at('/m/spring/standings/nobody');
  await expect(page.getByText('There is no such division').first()).toBeVisible();
  await shoot('standings-no-division');
  await at('/m/spring/bracket/junior');
  await expect(page.getByRole('article').first()).toBeVisible();
  await shoot('rounds-drawn');

  await at('/m/spring');
  await expect(page.getByText('No result yet. The first')).toBeVisible();
  await shoot('hall-before');
  const heat = 'junior-1.1.1';
  const lanes = await hall.call('spring', heat);
  await expect(page.getByRole('region', { name: 'Come to your bench' })).toContainText('Bench 1');
  await shoot('hall-called');
  for (const [bench, lane] of Object.entries(lanes)) await hall.ready('spring', heat, bench, lane.racer.start_number);
  await hall.start('spring', heat);
  const runs = Object.entries(lanes).map(([bench, lane]) =>
    new CounterBox(hall, bench, 'spring').begin(lane.armed!, raceS, 5000 + 100 * lane.racer.start_number),
  );
  for (const run of runs) await run.send(2);
  await expect(page.getByRole('region', { name: 'Racing now' }).getByText('km/h')).toHaveCount(
    Object.keys(lanes).length,
  );
  await shoot('hall-racing');
  for (const run of runs) await run.send(2);
  await race(hall, 'spring', 'junior-1.1.2', raceS);
  await expect(page.getByRole('region', { name: 'Newest results' })).toContainText('heat 2');
  await expect(page.getByText('Nobody races at this moment.')).toBeVisible();
  await shoot('hall-results');
  await at('/m/spring?look=ink');
  await expect(page.getByRole('region', { name: 'Newest results' })).toContainText('heat 2');
  await shoot('hall-dark');
  await hall.ask('POST', '/meets/spring/pause', { reason: { code: 'lunch' } });
  await at('/m/spring?look=paper');
  await expect(page.getByText('The race day is paused')).toBeVisible();
  await shoot('hall-paused');
  await hall.ask('POST', '/meets/spring/resume');
  await at('/m/spring/standings/junior');
  await expect(page.getByText('As it stands now')).toBeVisible();
  await shoot('standings');
  const { runs: made } = await hall.ask<{ runs: { id: string; counts?: boolean }[] }>('GET', '/meets/spring/runs');
  const [one, two] = made.filter((run) => run.counts).map((run) => run.id);
  await at(`/m/spring/runs/${one}`);
  await expect(page.getByRole('figure')).toHaveCount(1);
  await shoot('run');
  await at(`/m/spring/runs/${one}?with=${two}`);
  await expect(page.getByRole('figure')).toHaveCount(3);
  await shoot('runs-compared');
  await at('/m/spring/cars/e7?for=older');
  await expect(page.getByRole('heading', { name: 'Reckon it yourself' })).toBeVisible();
  await shoot('car');
  await at('/m/spring/class/junior');
  await expect(page.getByRole('figure')).toBeVisible();
  await shoot('class');
  await at('/m/spring/rules');
  await expect(page.getByRole('heading', { name: 'Take care' })).toBeVisible();
  await shoot('rules');

  await raceAll(hall, 'autumn', raceS);
  await closeRound(hall, 'autumn', 'seniors');
  await draw(hall, 'autumn', 'seniors');
  await at('/m/autumn/bracket/seniors');
  await expect(page.getByText('Semi-finals').first()).toBeVisible();
  await shoot('rounds-knockout');
  await raceAll(hall, 'autumn', raceS);
  await closeRound(hall, 'autumn', 'seniors');
  await draw(hall, 'autumn', 'seniors');
  await at('/m/autumn');
  await expect(page.getByRole('region', { name: 'Get ready' })).toContainText('Final');
  await shoot('hall-final');
  await at('/m/autumn/standings/seniors');
  await expect(page.getByText('As it stands now')).toBeVisible();
  await shoot('standings-knockout');
  await raceAll(hall, 'autumn', raceS);
  await closeRound(hall, 'autumn', 'seniors');
  await hall.ask('POST', '/meets/autumn/divisions/seniors/publish');
  await at('/m/autumn');
  await expect(page.getByRole('region', { name: 'Standings' })).toContainText('winner');
  await shoot('hall-over');
  await at('/m/autumn/standings/seniors');
  await expect(page.getByText('Official', { exact: true })).toBeVisible();
  await shoot('standings-official');
  await at('/m/autumn/bracket/seniors');
  await expect(page.getByText('won', { exact: true }).first()).toBeVisible();
  await shoot('rounds-official');

  const run = new CounterBox(hall, 'b1').begin('practice-1', 20);
  await run.send(20);
  await at('/practice');
  await expect(page.getByRole('row').nth(1)).toContainText('Bench 1');
  await new CounterBox(hall, 'b2').begin('practice-2', 20, 7000).send(5);
  await expect(page.getByRole('region', { name: 'On the benches' }).getByText('km/h')).toBeVisible();
  await shoot('practice');

  let cut = false;
  const open: WebSocketRoute[] = [];
  await page.routeWebSocket(/\/live/, (socket) => {
    if (cut) return void socket.close();
    socket.connectToServer();
    open.push(socket);
  });
  await at('/m/spring');
  await expect(page.getByRole('region', { name: 'Newest results' })).toContainText('heat 2');
  await expect(page.getByRole('region', { name: 'Standings' })).toContainText('1st');
  cut = true;
  for (const socket of open) await socket.close();
  await expect(page.getByText(/^Cut off since/)).toBeVisible();
  const walls: Size[] = ['hall', 'phone'];
  await shoot('hall-cut-off', walls);
});
