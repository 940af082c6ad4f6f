import base from './playwright.config';

// `make screenshots`: a picture of every page, in screenshots/.
export default {
  ...base,
  testDir: './e2e-shots',
  testMatch: '*.shots.ts',
  timeout: 600_000,
  expect: { timeout: 20_000 },
};
