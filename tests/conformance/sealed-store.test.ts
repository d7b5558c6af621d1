import { vi } from 'vitest';
import { sealedHarness } from '../helpers/store-harness.ts';
import { readingStoreConformance } from './reading-store.ts';

// A year sealed day by day waits for the disk some seven hundred times, which takes seconds where others use it too.
vi.setConfig({ testTimeout: 60_000 });

readingStoreConformance(sealedHarness);
