import { DatabaseSync } from 'node:sqlite';
import { join } from 'node:path';
import { setImmediate } from 'node:timers/promises';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { Verification } from '#contract';
import { byApi } from '#domain/journal/entry.ts';
import { createVerifier } from '../../api/shed/verification.ts';
import { openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';
import { until } from '../helpers/until.ts';

/** The check of everything, from a screen: what holds, what was changed, and that nobody waits for it. */
let harness: ApiHarness;
let owner: ApiClient;
beforeEach(async () => {
  harness = await openApiHarness();
  await openShed(harness);
  owner = await harness.as('owner');
});
afterEach(() => harness.close());

const outcome = async (): Promise<Verification> => {
  await owner.call('startVerification', { body: {} });
  return until('the check has ended', async () => {
    const now = await owner.call('verification');
    return now.state === 'running' ? null : now;
  });
};
/** Changes a file behind the back of the program. */
const change = (file: string, sql: string): void => {
  const database = new DatabaseSync(join(harness.directory, file));
  database.exec(sql);
  database.close();
};

it('says that everything is as it was written, how much that is, and what it cannot tell', async () => {
  expect(await owner.call('verification')).toMatchObject({ state: 'never', text: null });
  const { entries } = await owner.call('journal', { query: { limit: 500 } });
  const found = await outcome();
  expect(found).toMatchObject({ state: 'intact', entries: entries.length, ofEntries: entries.length, days: 0 });
  expect(found.text).toContain('cannot be told from here alone');
});

it('names the first entry that was changed, in a single letter', async () => {
  change('book.db', `UPDATE entries SET text = replace(text, 'Barrel 1', 'Barrel 7')`);
  const found = await outcome();
  expect(found.state).toBe('fault');
  expect(found.text).toMatch(/^Journal entry \d+ was changed: its hash does not fit its content\./);
});

it('lets others have their turn after every page of entries, and begins no second check beside the first', async () => {
  const { model } = harness.service;
  model.write(Array.from({ length: 4_000 }, (_, index) => ({ who: byApi, kind: 'alert-acknowledged' as const, body: { id: `nothing-${index}` } })));
  const verifier = createVerifier(model, harness.directory, harness.machine.now, (error) => harness.faults.push(error));
  const { startedAt } = verifier.start();
  await setImmediate();
  expect(verifier.now()).toMatchObject({ state: 'running', startedAt });
  expect(verifier.now().entries).toBeLessThanOrEqual(1_000);
  harness.machine.advance(1_000);
  expect(verifier.start().startedAt).toBe(startedAt);
  await verifier.ended();
  expect(verifier.now()).toMatchObject({ state: 'intact', entries: model.shed().sequence });
});

it('is for the owner', async () => {
  expect(await (await harness.as('helper')).refused('startVerification', 'not-allowed', { body: {} })).toMatchObject({ status: 403 });
});
