/**
 * What a store of readings throws when the machine under it fails. Not a value: any call may meet it, and none can answer without.
 * `canRetry` says whether the same call can succeed later without anyone mending anything else.
 */
export const storeFailures = {
  locked: { canRetry: true, text: 'another process holds the readings locked' },
  'disk-full': { canRetry: true, text: 'there is no room left for readings: free some, nothing stored was lost' },
  'input-output': { canRetry: true, text: 'the disk does not answer' },
  damaged: { canRetry: false, text: 'the readings are damaged: stop, keep the files, and restore a backup' },
  'read-only': { canRetry: false, text: 'these readings were opened for reading only' },
  unreachable: { canRetry: true, text: 'InfluxDB does not answer; what was taken in waits for it on this disk' },
  'outbox-full': { canRetry: true, text: 'as many readings wait for InfluxDB as may: new ones are not taken until it is back' },
  closed: { canRetry: false, text: 'the store is closed' },
} as const;

export type StoreFailureCode = keyof typeof storeFailures;

export class StoreFailure extends Error {
  override readonly name = 'StoreFailure';
  readonly code: StoreFailureCode;
  readonly canRetry: boolean;

  constructor(code: StoreFailureCode, options?: ErrorOptions) {
    super(storeFailures[code].text, options);
    this.code = code;
    this.canRetry = storeFailures[code].canRetry;
  }
}
