import { describe, expect, test } from 'vitest';
import { match } from './route.svelte';

describe('match', () => {
  const cases: [pattern: string, path: string, want: Record<string, string> | undefined][] = [
    ['/', '/', {}],
    ['/', '/m', undefined],
    ['/m/:meet', '/m/spring', { meet: 'spring' }],
    ['/m/:meet', '/m/spring/', { meet: 'spring' }],
    ['/m/:meet', '/m/spring/standings', undefined],
    ['/m/:meet/standings/:division', '/m/a%20b/standings/j', { meet: 'a b', division: 'j' }],
    ['/m/:meet', '/m/%E0%A4%A', { meet: '%E0%A4%A' }],
  ];
  test.each(cases)('%s of %s', (pattern, path, want) => expect(match(pattern, path)).toEqual(want));
});
