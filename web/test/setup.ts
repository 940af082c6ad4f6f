import '@testing-library/jest-dom/vitest';
import { beforeAll } from 'vitest';
import { choose, spoken } from '$lib/i18n';

// The pages wait for their texts before they are drawn; so do the tests of their parts.
choose('en');
await spoken();
beforeAll(spoken);
