import { expect, test } from 'vitest';
import { Format } from './format';
import { told } from './told';

const f = new Format('de-DE');
const texts = {
  volts: 'Dieser Pack zeigt {given} V für „{cell}“.',
  over: '{heat} ist {status}.',
  'status=racing': 'unterwegs',
  held: 'Nummer {number} wartet. {why}',
  weight: '{item}: {given} ist zu viel.',
  'called=division': '{n}',
  'called=heat': 'Lauf {n}',
  'called=car': 'Startnummer {n} in ',
  flag: '{1} von {2}',
};

test('a code with arguments is said in the language, and numbers as it writes them', () => {
  expect(told(texts, f, { code: 'volts', says: 'no', args: { given: '2.45', cell: '2.45' } })).toBe(
    'Dieser Pack zeigt 2,45 V für „2.45“.',
  );
  expect(told(texts, f, { code: 'flag', says: 'no', args: [3, 200] })).toBe('3 von 200');
});

test('what is not known is said as the server says it', () => {
  expect(told(texts, f, { code: 'newer', says: 'As the server says.' })).toBe('As the server says.');
  const heat = {
    says: 'Juniors, sprint 2',
    parts: [
      { code: 'division', value: 'Juniors' },
      { code: 'sprint', value: '2' },
    ],
  };
  expect(told(texts, f, { code: 'over', says: '', args: { heat: 'j-1.1.1', status: 'later' }, names: { heat } })).toBe(
    'Juniors, sprint 2 ist later.',
  );
});

test('arguments that are codes, and things by their names', () => {
  const parts = [
    { code: 'car', value: '7' },
    { code: 'division', value: 'Juniors' },
    { code: 'heat', value: '2' },
  ];
  const names = { heat: { says: 'start number 7 in Juniors, heat 2', parts } };
  expect(told(texts, f, { code: 'over', says: '', args: { heat: 'j-1.1.2', status: 'racing' }, names })).toBe(
    'Startnummer 7 in Juniors, Lauf 2 ist unterwegs.',
  );
});

test('a reason that has a reason of its own', () => {
  const args = { number: '7', why: 'Weight: …', why_code: 'weight', why_item: 'gewicht', why_given: '191.5 g' };
  expect(told(texts, f, { code: 'held', says: '', args })).toBe('Nummer 7 wartet. Gewicht: 191,5 g ist zu viel.');
});
