import { defineConfig } from 'vitest/config';

// Time zone and locale are pinned so that a test means the same on every machine.
process.env.TZ = 'UTC';

export default defineConfig({
  root: new URL('..', import.meta.url).pathname,
  test: {
    include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
    pool: 'forks',
    retry: 0,
  },
});
