import { describe, expect, test } from 'vitest';
import { forPhones } from './address';

describe('forPhones', () => {
  const addresses = ['http://192.0.2.7:8080', 'http://127.0.0.1:8080'];
  test("this page's own address", () => expect(forPhones('http://meet.example', addresses)).toBe('meet.example'));
  test('not one that only this machine knows', () =>
    expect(forPhones('http://localhost:8080', addresses)).toBe('192.0.2.7:8080'));
  test('or none', () => expect(forPhones('http://127.0.0.1:8080', ['http://127.0.0.1:8080'])).toBeUndefined());
});
