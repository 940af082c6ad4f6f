import { expect, test } from 'vitest';
import { bodyOf, draftOf, nobody } from './person';

test('a new person agrees to nothing until it is ticked', () => {
  expect(bodyOf({ ...nobody(), name: ' Ada ' })).toEqual({
    name: 'Ada',
    display_name: '',
    on_screen: false,
    in_results: false,
    photo: false,
  });
});

test('a person goes through the form unchanged', () => {
  const person = {
    id: 'p',
    name: 'Ada',
    display_name: 'Bolt',
    say_as: 'BOLT',
    birth_date: '2018-02-03',
    on_screen: true,
    in_results: false,
    photo: true,
  };
  const { id: _, ...body } = person;
  expect(bodyOf(draftOf(person))).toEqual(body);
});
