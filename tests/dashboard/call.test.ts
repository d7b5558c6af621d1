import { describe, expect, it } from 'vitest';
import { errors } from '#contract';
import { addressOf, createCall } from '../../dashboard/client/call.ts';

interface Asked {
  readonly address: string;
  readonly request: RequestInit;
}

const answering = (status: number, body: string, asked: Asked[] = []) =>
  createCall(async (address, request) => {
    asked.push({ address: address as string, request: request ?? {} });
    return new Response(body === '' ? null : body, { status });
  });

const session = JSON.stringify({ user: null, setUpNeeded: false, demo: null });

describe('a call of the API', () => {
  it('fills the address from the route table', async () => {
    expect(addressOf('/drums/{drum}/readings', { params: { drum: 'barrel 2/ä' }, query: { channel: 'ph', points: 500, from: undefined } })).toBe('/api/drums/barrel%202%2F%C3%A4/readings?channel=ph&points=500');
    const asked: Asked[] = [];
    await answering(200, session, asked)('signIn', { body: { name: 'owner', password: 'olives' } });
    expect(asked[0]?.address).toBe('/api/session');
    expect(asked[0]?.request.method).toBe('POST');
    expect(asked[0]?.request.body).toBe('{"name":"owner","password":"olives"}');
  });

  it('answers with the value the contract describes', async () => {
    expect(await answering(200, session)('session')).toEqual({ ok: true, value: { user: null, setUpNeeded: false, demo: null } });
    expect(await answering(204, '')('signOut')).toEqual({ ok: true, value: null });
  });

  it('hands on a refusal of the API with its code and fields', async () => {
    const { status, title } = errors['does-not-fit'];
    const body = JSON.stringify({ type: 'x', title, status, code: 'does-not-fit', detail: 'See the fields.', errors: [{ path: 'volumeL', message: 'too large' }] });
    expect(await answering(status, body)('addDrum', { body: { id: 'a', name: 'A', volumeL: 1 } })).toEqual({
      ok: false,
      error: { code: 'does-not-fit', title, detail: 'See the fields.', errors: [{ path: 'volumeL', message: 'too large' }] },
    });
  });

  it.each([
    ['an answer of another version', 200, '{"user": 4}', 'not-understood'],
    ['an answer that is no JSON', 200, '<html>', 'not-understood'],
    ['a refusal without a reason', 502, '{}', 'not-understood'],
  ])('never takes %s for a value', async (_, status, body, code) => {
    const answer = await answering(status, body)('session');
    expect(answer.ok).toBe(false);
    expect(answer.ok ? null : answer.error.code).toBe(code);
  });

  it('says so when nobody answers', async () => {
    const answer = await createCall(() => Promise.reject(new TypeError('fetch failed')))('session');
    expect(answer.ok ? null : answer.error.code).toBe('unreachable');
  });
});
