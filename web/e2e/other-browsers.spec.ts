import { expect, test } from '@playwright/test';
import { CounterBox, Hall } from './bench-hall';
import { Cable } from './browsers/cable';
import type { Driven } from './browsers/driven';
import { Firefox } from './browsers/firefox';
import { WebKit } from './browsers/webkit';
import { measure, planTable } from './table-hall';

// Volunteers and families bring phones with other engines than Chromium's: the main ways of the three faces in both.
const browsers: Record<string, () => Promise<Driven>> = {
  Firefox: () => Firefox.start(),
  WebKit: () => WebKit.start(),
};

for (const [name, start] of Object.entries(browsers))
  test.describe(name, () => {
    test.describe.configure({ mode: 'serial' });
    test.setTimeout(120_000);
    let hall: Hall;
    let cable: Cable;
    let page: Driven;

    test.beforeAll(async () => {
      test.setTimeout(180_000); // the binary may have to be built
      hall = await Hall.open();
      await hall.addBenches(1, 2, 3, 4);
      cable = await Cable.to(hall.address);
      page = await start();
    });
    test.afterAll(async () => {
      await page?.close();
      await cable?.close();
      await hall?.close();
    });

    /** race runs a called heat, and tells which car was on which bench. */
    async function race(meet: string, heat: string, rpm: Record<string, number>) {
      const lanes = await hall.lanes(meet, heat);
      for (const [bench, lane] of Object.entries(lanes)) {
        if (lane.state === 'called') await hall.ready(meet, heat, bench, lane.racer.start_number);
      }
      await hall.start(meet, heat);
      for (const [bench, lane] of Object.entries(await hall.lanes(meet, heat)))
        await new CounterBox(hall, bench, meet).run(lane.armed!, 4, rpm[bench]);
      return lanes;
    }

    test('the wall shows every called car, follows the races, and says when it is cut off', async () => {
      await hall.planMeet('spring', ['b1', 'b2', 'b3', 'b4'], 8, 4, 600, 2);
      await page.size(1920, 1080);
      await page.open(`${cable.address}/m/spring`);
      await page.sees('Live');
      const heats = ['junior-1.1.1', 'junior-1.1.2'];
      for (const heat of heats) {
        for (const lane of Object.values(await hall.call('spring', heat)))
          await page.sees(`Start number ${lane.racer.start_number}`, 'Come to your bench');
      }
      const lanes = await race('spring', heats[0]!, { b1: 5000, b2: 6000, b3: 5500, b4: 6500 });
      const benches = Object.keys(lanes).sort();
      await page.sees(`1st Start number ${lanes[benches[1]!]!.racer.start_number}`, 'Newest results');

      cable.pull();
      await page.sees('Cut off since');
      await race('spring', heats[1]!, { b1: 5000, b2: 6000, b3: 5500, b4: 6500 });
      cable.putBack();
      await page.sees('Live');
      await page.seesNot('Cut off since');
      await page.sees('heat 2', 'Newest results');
      // What was open all the time is what a new visitor sees.
      const shown = async () => [await page.text('Newest results'), await page.text('Racing now')];
      const left = await shown();
      await page.open(`${cable.address}/m/spring`);
      await page.sees('heat 2', 'Newest results');
      expect(await shown()).toEqual(left);
    });

    test('every link and step back takes the keyboard to the new page', async () => {
      const focused = (wanted: string) =>
        page.until(
          `the focus is on ${wanted}`,
          () => page.look(() => `${document.activeElement?.tagName} ${document.activeElement?.textContent?.trim()}`),
          (on) => on === `H1 ${wanted}`,
        );
      await page.press('Rules');
      await focused('Rules of the day');
      await page.back();
      await focused('Harbour Hall spring meet');
      await page.press('Standings Juniors 6 to 10');
      await page.sees('As it stands now');
    });

    test('a phone confirms a car while it is cut off, and the confirmation arrives once', async () => {
      const { link } = await hall.phoneFor('b1', 'b2', 'b3', 'b4');
      await page.size(400, 800);
      await page.open(link.replace(hall.address, cable.address));
      await page.sees('Next heat');
      const heat = 'junior-1.1.3';
      const lanes = await hall.call('spring', heat);
      const bench = Object.keys(lanes).sort()[0]!;
      const car = lanes[bench]!.racer.start_number;
      await page.press(`Bench ${bench.slice(1)}`);
      await page.sees('Bring this car');
      for (const digit of '99') await page.press(digit);
      await page.press('Ready');
      await page.sees(`Number 99 is the wrong car. Fetch car ${car}, or ask an official.`);

      cable.pull();
      await page.sees('Cut off since');
      await page.write('Which number is on the car?', `${car}`);
      await page.press('Ready');
      await page.sees('Confirmed here, but not sent yet');
      const ready = async () => (await hall.log('spring')).filter((each) => each === 'BenchReady').length;
      const before = await ready();
      cable.putBack();
      await page.sees('Ready: wait for the starter');
      await page.seesNot('not sent');
      expect(await ready()).toBe(before + 1);

      await race('spring', heat, { b1: 5000, b2: 6000, b3: 5500, b4: 6500 });
      await page.sees(`Measured: car ${car}`);
      await page.press('Ask for a re-run');
      await page.press('Power failure');
      await page.press('Ask an official');
      await page.sees('Asked. An official decides.');
      expect((await hall.log('spring')).filter((each) => each === 'RerunAsked')).toHaveLength(1);
    });

    test('a desk asks back what is not usual, and which checks a pause ends', async () => {
      await planTable(hall, 'winter', ['b1', 'b2'], 2, 'warn');
      await measure(hall, 'winter', 'own7', 3.1, { entry: 'e7' });
      const made = await hall.ask<{ links: string[] }>('POST', '/tokens', { role: 'organiser', label: 'desk' });
      await page.size(1280, 900);
      await page.open(made.links[0]!.replace(hall.address, cable.address));
      await page.press('Sign in with the link'); // for this browser was a volunteer's until now
      await page.sees('Signed in as organiser');

      await page.open(`${cable.address}/desk/benches`);
      await page.press('Register a bench');
      await page.write('Roller circumference in mm', '942.5');
      await page.press('Save');
      await page.sees('942.5 mm is another roller altogether');
      await page.write('Roller circumference in mm', '94.2');
      await page.press('Save');
      const rollers = async () => {
        const { benches } = await hall.ask<{ benches: { circumference_mm: number }[] }>('GET', '/benches');
        return benches.map((each) => each.circumference_mm);
      };
      await page.until('a fifth bench', rollers, (all) => all.length === 5);
      expect((await rollers()).sort()).toEqual([94.2, 94.25, 94.25, 94.25, 94.25]);

      await page.open(`${cable.address}/desk/m/winter`);
      await page.press('Pause the meet');
      await page.sees('The batteries of 1 car have been checked.');
      await page.choose('Reason', 'Lunch');
      await page.press('Pause the meet');
      await page.sees('The meet is paused: Lunch.');
      await page.press('Resume the meet');
      await page.sees('The batteries of 1 car were checked before the pause.');
      await page.press('Resume the meet');
      await page.seesNot('The meet is paused: Lunch.');
      expect(await hall.log('winter')).toContain('MeetResumed');
    });
  });
