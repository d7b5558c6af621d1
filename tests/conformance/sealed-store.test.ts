import { sealedHarness } from '../helpers/store-harness.ts';
import { readingStoreConformance } from './reading-store.ts';

readingStoreConformance(sealedHarness);
