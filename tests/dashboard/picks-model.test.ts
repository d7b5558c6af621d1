import { describe, expect, it } from 'vitest';
import { fail, ok, type Pick } from '#contract';
import type { Call, Failure } from '../../dashboard/client/call.ts';
import { createPicks } from '../../dashboard/state/picks.ts';

const pickOf = (pick: string, at: string): Pick => ({ pick, at }) as Pick;
const lost: Failure = { code: 'unreachable', title: 'No answer', detail: '', errors: [] };
const refused: Failure = { code: 'does-not-fit', title: 'It does not fit', detail: '', errors: [] };

/** Answers one after another, and the keys that were sent. */
const shed = (answers: readonly ReturnType<typeof fail<Failure> | typeof ok<Pick>>[]) => {
  const keys: string[] = [];
  const left = [...answers];
  const call = (async (_name: string, input: { readonly key: string }) => {
    keys.push(input.key);
    return Promise.resolve(left.shift());
  }) as unknown as Call;
  let made = 0;
  return { keys, model: createPicks(call, () => `key-${String((made += 1))}`) };
};

describe('a pick that is begun', () => {
  it('is sent under the same mark until an answer comes, so that a lost answer makes no second pick', async () => {
    const { keys, model } = shed([fail(lost), fail(lost), ok(pickOf('P26-AJ', '2026-05-03T07:00:00Z')), ok(pickOf('P26-BH', '2026-05-04T07:00:00Z'))]);
    for (let tries = 0; tries < 4; tries += 1) await model.add({});
    expect(keys).toEqual(['key-1', 'key-1', 'key-1', 'key-2']);
    expect(model.picks.value?.map(({ pick }) => pick)).toEqual(['P26-BH', 'P26-AJ']);
  });

  it('that was refused is another one when it is written anew', async () => {
    const { keys, model } = shed([fail(refused), ok(pickOf('P26-AJ', '2026-05-03T07:00:00Z'))]);
    expect((await model.add({})).ok).toBe(false);
    await model.add({});
    expect(keys).toEqual(['key-1', 'key-2']);
  });

  it('is told more of in place', async () => {
    const { model } = shed([ok(pickOf('P26-AJ', '2026-05-03T07:00:00Z')), ok({ ...pickOf('P26-AJ', '2026-05-03T07:00:00Z'), pickedKg: 42 })]);
    await model.add({});
    await model.amend('P26-AJ', { massKg: 42 });
    expect(model.picks.value).toMatchObject([{ pick: 'P26-AJ', pickedKg: 42 }]);
  });
});
