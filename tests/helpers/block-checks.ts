import type { BlockCheck, BlockDigest, SealingStore } from '#domain/reading/sealing.ts';

/** A whole verification, gathered. */
export const checksOf = async (store: SealingStore, sealed?: readonly BlockDigest[]): Promise<readonly BlockCheck[]> => {
  const checks: BlockCheck[] = [];
  for await (const check of store.verifyBlocks(sealed)) checks.push(check);
  return checks;
};

/** Its faults alone, each as one line. */
export const faultsOf = async (store: SealingStore, sealed?: readonly BlockDigest[]): Promise<readonly string[]> =>
  (await checksOf(store, sealed)).flatMap(({ series, part, fault }) => (fault === null ? [] : [`${series} ${part ?? 'all'} ${fault}`]));
