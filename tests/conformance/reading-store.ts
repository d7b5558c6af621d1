import { afterEach, beforeEach, describe } from 'vitest';
import type { ReadingStore } from '#domain/reading/store.ts';
import type { StoreHarness, StorePlace, StoreUnderTest } from '../helpers/store-harness.ts';
import { appendConformance } from './reading-store-append.ts';
import { askConformance } from './reading-store-ask.ts';
import { closeConformance, durableConformance, fleetingConformance } from './reading-store-life.ts';
import { viewConformance } from './reading-store-view.ts';

/** The one suite every `ReadingStore` passes. A new store calls it from a file of its own and states what it cannot do in its harness. */
export const readingStoreConformance = (harness: StoreHarness): void => {
  describe(`a store of readings: ${harness.name}`, () => {
    let place: StorePlace;
    let store: ReadingStore;
    beforeEach(() => {
      place = harness.createPlace();
      store = place.open();
    });
    afterEach(async () => {
      await store.close();
      place.dispose();
    });
    const subject: StoreUnderTest = {
      store: () => store,
      reopen: async () => {
        await store.close();
        store = place.open();
        return store;
      },
    };
    appendConformance(subject);
    askConformance(subject);
    viewConformance(subject);
    closeConformance(subject);
    if (harness.isDurable) durableConformance(subject);
    else fleetingConformance(subject);
  });
};
