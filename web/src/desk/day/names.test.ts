import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { freeId, heatTitle, slug } from './names';

const knockout = {
  id: 'j',
  name: 'J',
  stage: 1,
  rounds_total: 3,
  stages: [{ kind: 'knockout', race_s: 20, lanes: 2 }],
};
const timed = {
  id: 't',
  name: 'T',
  stage: 1,
  rounds_total: 2,
  stages: [{ kind: 'timed-rounds', race_s: 20, lanes: 4 }],
};
const meet = { benches: [], divisions: [knockout, timed] } as never;

describe('heatTitle', () => {
  const cases: [heat: { division: string; round: number; number: number; third_place?: boolean }, want: string][] = [
    [{ division: 't', round: 2, number: 3 }, 'T: Round 2, heat 3'],
    [{ division: 'j', round: 1, number: 4 }, 'J: Quarter-final 4'],
    [{ division: 'j', round: 3, number: 1 }, 'J: Final'],
    [{ division: 'j', round: 3, number: 2, third_place: true }, 'J: Race for third place'],
    [{ division: 'unknown', round: 1, number: 1 }, 'unknown: Round 1, heat 1'],
  ];
  test.each(cases)('%j', (heat, want) => expect(heatTitle(meet, { stage: 1, ...heat })).toBe(want));
});

// Heats of every kind there is, as the server shows them, and what its sentences call them.
const called = JSON.parse(
  readFileSync(join(import.meta.dirname, '../../../../api/view/testdata/heat_names.json'), 'utf8'),
) as { division: { id: string }; heat: Parameters<typeof heatTitle>[1]; says: string }[];

test('sentences of the server call a heat as pages do', () => {
  expect(called.length).toBeGreaterThan(50);
  for (const { division, heat, says } of called) {
    const title = heatTitle({ benches: [], divisions: [division] } as never, heat);
    expect(title.replaceAll(': ', ', ').toLowerCase()).toBe(says.toLowerCase());
  }
});

describe('ids', () => {
  test.each([
    ['Harbour Hall, spring', 'harbour-hall-spring'],
    ['  Ålesund – Été!  ', 'alesund-ete'],
    ['…', ''],
  ])('slug of %s', (name, want) => expect(slug(name)).toBe(want));

  test('a taken id gets a number, a name without letters a word', () => {
    expect(freeId('Juniors', ['juniors', 'juniors-2'], 'division')).toBe('juniors-3');
    expect(freeId('…', [], 'division')).toBe('division');
  });
});
