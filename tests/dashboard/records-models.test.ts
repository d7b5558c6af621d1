import { signal } from '@preact/signals';
import { describe, expect, it } from 'vitest';
import { fail, ok, type RecordList, type SealedRecord } from '#contract';
import type { Call, Failure } from '../../dashboard/client/call.ts';
import { createInspect } from '../../dashboard/state/inspect.ts';
import { createRecords } from '../../dashboard/state/records.ts';
import type { SessionModel } from '../../dashboard/state/session.ts';

/** What the screens of records know, without a screen. */
const failure = (code: Failure['code'], title: string): Failure => ({ code, title, detail: 'A detail.', errors: [] });
const listed = (lot: string, place: 'in drum' | 'sold out'): RecordList['lots'][number] => ({
  lot, drum: 'Barrel 1', cut: 'slit', style: 'changed-brine', maturity: 'green', variety: null, pickedAt: '2026-10-03T06:00:00Z', startedAt: '2026-10-03T06:00:00Z', jarredAt: null, place, since: null, by: null, reason: null, restsUntil: null, jars: null,
});
const list: RecordList = { site: 'Home', zone: 'UTC', now: '2026-10-13T12:00:00Z', reader: 'owner', until: null, fingerprint: null, lastSeal: null, lots: [listed('H26-A7', 'in drum'), listed('H26-B5', 'sold out'), listed('H26-C3', 'in drum')] };
const record = (what: string): SealedRecord => ({ record: { missing: [{ what, why: 'no probe', from: null, to: null }] } }) as unknown as SealedRecord;

/** Answers by route name, and keeps what was asked. */
const answering = (answers: Readonly<Record<string, unknown>>): { readonly call: Call; readonly asked: string[] } => {
  const asked: string[] = [];
  const call = ((name: string) => {
    asked.push(name);
    return Promise.resolve(answers[name]);
  }) as unknown as Call;
  return { call, asked };
};

describe('the records', () => {
  it('looks one by one at what lots lack that are not gone, and tells trouble in words', async () => {
    const looked: string[] = [];
    const model = createRecords(answering({ records: ok(list) }).call, (lot) => {
      looked.push(lot);
      return Promise.resolve(lot === 'H26-C3' ? fail(failure('not-ready', 'Not ready')) : ok(record('pH not measured')));
    });
    await model.load();
    await model.lookAtOpen();
    expect(looked).toEqual(['H26-A7', 'H26-C3']);
    expect([...model.lacks.value]).toEqual([['H26-A7', { lines: ['pH not measured: no probe'] }], ['H26-C3', { trouble: 'Not ready. A detail.' }]]);
    await model.look('H26-B5');
    expect(model.lacks.value.get('H26-B5')).toEqual({ lines: ['pH not measured: no probe'] });
  });

  it('keeps the list that was there when it cannot be read again', async () => {
    const answers: Record<string, unknown> = { records: ok(list) };
    const model = createRecords(answering(answers).call, () => Promise.resolve(ok(record(''))));
    await model.load();
    answers['records'] = fail(failure('unreachable', 'No answer'));
    await model.load();
    expect([model.list.value, model.failure.value?.code]).toEqual([list, 'unreachable']);
  });
});

describe('an inspector', () => {
  const session = (role: 'owner' | 'inspector' | null): Pick<SessionModel, 'session' | 'load' | 'signOut'> => ({
    session: signal({ user: role === null ? null : { name: 'somebody', role }, setUpNeeded: false, demo: null }),
    load: () => Promise.resolve(),
    signOut: () => Promise.resolve(),
  });

  it('opens a link once, also where the screen is drawn again', async () => {
    const { call, asked } = answering({ openInspection: ok(list) });
    const model = createInspect(call, session(null));
    await model.begin('K7QD-M2XP');
    await model.begin('');
    expect(asked).toEqual(['openInspection']);
    expect([model.list.value, model.asking.value]).toEqual([list, false]);
  });

  it('is not what somebody of the shed becomes by following a link', async () => {
    const { call, asked } = answering({ records: ok(list) });
    await createInspect(call, session('owner')).begin('K7QD-M2XP');
    expect(asked).toEqual(['records']);
  });

  it('is asked for a code when nobody is inside, without a word of failure, and told when a code opens nothing', async () => {
    const { call } = answering({ records: fail(failure('not-signed-in', 'Sign in first')), openInspection: fail(failure('wrong-code', 'This code opens nothing')) });
    const model = createInspect(call, session(null));
    await model.begin('');
    expect([model.asking.value, model.failure.value]).toEqual([true, null]);
    await model.open('AAAA-AAAA');
    expect([model.asking.value, model.failure.value?.code]).toEqual([true, 'wrong-code']);
  });
});
