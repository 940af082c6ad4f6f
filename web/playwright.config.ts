import { defineConfig } from '@playwright/test';

// Chromium is the system's: nothing is downloaded.
export default defineConfig({
  testDir: './e2e',
  fullyParallel: false,
  // Each file has a server of its own, and most of its time it waits for what comes by itself.
  workers: 2,
  // A page that comes is there in a second; two browsers and two servers on two cores may take longer.
  expect: { timeout: 15_000 },
  // A test that passes takes seconds; on two cores that are shared with others it may take a minute.
  timeout: 60_000,
  // Three browsers and a server share two cores there; a second try is reported as flaky, not hidden.
  retries: process.env['CI'] ? 2 : 0,
  reporter: 'list',
  use: {
    launchOptions: {
      executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
      args: [
        '--no-sandbox',
        '--disable-gpu',
        '--disable-quic',
        '--no-first-run',
        '--disable-background-networking',
        '--disable-component-update',
        '--disable-sync',
      ],
    },
  },
});
