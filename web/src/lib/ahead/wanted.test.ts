import { expect, test } from 'vitest';
import { wanted } from './wanted';

test.each<[path: string, entering: boolean, asked: string[]]>([
  ['/bench/b1', false, ['session', 'about', 'benches', 'benches/b1/order']],
  ['/bench/b1', true, ['session', 'about']], // a key has to be exchanged first
  ['/bench', false, ['session', 'about', 'benches']],
  ['/m/spring', false, ['meets/spring', 'meets/spring/board', 'about']],
  ['/m/spring/standings/junior', false, ['meets/spring', 'about']],
  ['/desk', true, ['session', 'about']],
  ['/desk/m/spring/plan', false, ['session', 'about', 'meets/spring']],
  ['/practice', false, []],
])('%s', (path, entering, asked) => expect(wanted(path, entering)).toEqual(asked.map((one) => `/api/v1/${one}`)));
