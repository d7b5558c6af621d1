import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dayMs } from '#contract';
import { checkPassword, hashPassword } from '../../api/access/passwords.ts';
import { prepareFirstOwner } from '../../api/access/first-owner.ts';
import { expectProblem, openApiHarness, passwordOf, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
beforeEach(async () => {
  harness = await openApiHarness();
});
afterEach(() => harness.close());

const signInAsOwner = { body: { name: 'owner', password: passwordOf('owner') } };
const json = { 'content-type': 'application/json' };

describe('passwords', () => {
  // phc-winner-argon2 (reference implementation behind RFC 9106), src/test.c: argon2id, version 0x13, t=2, m=2^16, p=1, salt "somesalt".
  it.each([
    ['password', '$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc'],
    ['differentpassword', '$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$C4TWUs9rDEvq7w3+J4umqA32aWKB1+DSiRuBfYxFj94'],
  ])('are checked as the reference implementation of argon2id makes them: %s', async (password, stored) => {
    expect(await checkPassword(password, stored)).toBe(true);
    expect(await checkPassword(`${password} `, stored)).toBe(false);
    // A weaker sibling of the same family must not pass for it.
    expect(await checkPassword(password, stored.replace('argon2id', 'argon2i'))).toBe(false);
  });

  // OWASP Password Storage Cheat Sheet, argon2id: at least 19 MiB of memory, two passes, one lane.
  it('are kept as argon2id with at least 19 MiB and two passes, each with a salt of its own', async () => {
    const [one, other] = await Promise.all([hashPassword('olives'), hashPassword('olives')]);
    const [, memory, passes] = /^\$argon2id\$v=19\$m=(\d+),t=(\d+),p=1\$/.exec(one) ?? [];
    expect(Number(memory)).toBeGreaterThanOrEqual(19_456);
    expect(Number(passes)).toBeGreaterThanOrEqual(2);
    expect(one).not.toBe(other);
  });

  // Unicode Standard Annex 15: the same letters typed on another keyboard may come as other code points.
  it('fit however their letters are composed', async () => {
    expect(await checkPassword('Oliv\u0065\u0301s', await hashPassword('Oliv\u00e9s'))).toBe(true);
  });

  it('are found nowhere in the files, nor is a session token or a set-up code', async () => {
    const code = harness.service.access.makeSetUpCode();
    const owner = await harness.as('owner');
    const token = owner.cookie?.split('=')[1] ?? '';
    expect(token.length).toBeGreaterThanOrEqual(43);
    const bytes = ['access.db', 'access.db-wal', 'book.db', 'book.db-wal'].map((file) => readFileSync(join(harness.directory, file)));
    for (const secret of [passwordOf('owner'), token, code, code.replace('-', '')]) expect(bytes.some((content) => content.includes(secret))).toBe(false);
    expect(statSync(join(harness.directory, 'access.db')).mode & 0o077).toBe(0);
  });
});

describe('signing in', () => {
  it('answers who is signed in and sets a cookie that scripts and foreign sites cannot use', async () => {
    await harness.as('owner');
    const client = harness.stranger();
    expect(await client.call('session')).toEqual({ user: null, setUpNeeded: false, demo: null });
    const { headers } = await client.fetch('/api/session', { method: 'POST', headers: json, body: JSON.stringify(signInAsOwner.body) });
    const [pair = '', ...attributes] = (headers.get('set-cookie') ?? '').split('; ');
    expect(pair).toMatch(/^brineward_session=[\w-]{43}$/);
    expect(attributes).toEqual(expect.arrayContaining(['HttpOnly', 'SameSite=Strict', 'Path=/']));
    expect(attributes.find((attribute) => attribute.startsWith('Max-Age='))).toBe(`Max-Age=${(30 * dayMs) / 1_000}`);
    expect(await client.call('session')).toMatchObject({ user: { name: 'owner', role: 'owner' } });
  });

  it('refuses a wrong name and a wrong password with the same words', async () => {
    await harness.as('owner');
    const wrongName = await harness.stranger().refused('signIn', 'wrong-password', { body: { name: 'nobody', password: 'x' } });
    const wrongPassword = await harness.stranger().refused('signIn', 'wrong-password', { body: { name: 'owner', password: 'x' } });
    expect(wrongName).toEqual(wrongPassword);
  });

  it('makes a new session each time, and ends the one that came with the request', async () => {
    const client = await harness.as('owner');
    const planted = client.cookie ?? '';
    await client.call('signIn', signInAsOwner);
    expect(client.cookie).not.toBe(planted);
    expect((await harness.stranger().fetch('/api/session', { headers: { cookie: planted } })).body).toMatchObject({ user: null });
  });

  it('never takes over a token that somebody else has chosen', async () => {
    await harness.as('owner');
    const chosen = `brineward_session=${'a'.repeat(43)}`;
    await harness.stranger().fetch('/api/session', { method: 'POST', headers: { ...json, cookie: chosen }, body: JSON.stringify(signInAsOwner.body) });
    expect((await harness.stranger().fetch('/api/session', { headers: { cookie: chosen } })).body).toMatchObject({ user: null });
  });

  it('keeps at most fifty sessions of a user, so that signing in again and again fills nothing', async () => {
    const { access } = harness.service;
    await harness.as('owner');
    const tokens = Array.from({ length: 51 }, () => access.openSession({ name: 'owner', role: 'owner' }).token);
    expect(tokens.filter((token) => access.userOf(token) !== null)).toEqual(tokens.slice(1));
  });

  it('refuses the eleventh wrong try from an address, says when to come back, and does not count right ones', async () => {
    await harness.as('owner');
    const client = harness.stranger();
    for (let count = 0; count < 12; count += 1) await client.call('signIn', signInAsOwner);
    for (let count = 0; count < 10; count += 1) await client.refused('signIn', 'wrong-password', { body: { name: 'owner', password: `guess ${count}` } });
    // A header that claims another address changes nothing.
    const answer = await client.fetch('/api/session', { method: 'POST', headers: { ...json, 'x-forwarded-for': '203.0.113.7' }, body: JSON.stringify(signInAsOwner.body) });
    expectProblem(answer, 'too-many-tries');
    expect(Number(answer.headers.get('retry-after'))).toBeGreaterThan(0);
    await client.refused('setUp', 'too-many-tries', { body: { code: 'ABCD-EFGH', password: 'guessing' } });
    // Who is signed in already is not locked out by somebody else's guesses.
    expect(await (await harness.as('owner')).call('drums')).toEqual({ drums: [] });
  });

  it('takes names and passwords of any form without a fault inside', async () => {
    for (const body of [{ name: '__proto__', password: 'x' }, { name: 'owner\0', password: '\0' }, { name: '\ud800', password: '\ud800' }, { name: "' OR 1=1 --", password: 'x' }]) {
      expect(await harness.stranger().refused('signIn', 'wrong-password', { body })).not.toHaveProperty('errors');
    }
    const { errors } = await harness.stranger().refused('signIn', 'does-not-fit', { body: { name: 'x'.repeat(41), password: 'x'.repeat(201) } });
    expect(errors?.map(({ path }) => path)).toEqual(['name', 'password']);
  });
});

describe('a session', () => {
  it('survives a restart of the API on the same files', async () => {
    const client = await harness.as('owner');
    await harness.restart();
    expect(await client.call('session')).toMatchObject({ user: { name: 'owner', role: 'owner' } });
    expect(await client.call('drums')).toEqual({ drums: [] });
  });

  it('travels as a bearer token as well', async () => {
    const client = await harness.as('owner');
    const token = client.cookie?.split('=')[1] ?? '';
    const bearer = (value: string) => harness.stranger().fetch('/api/drums', { headers: { authorization: value } });
    expect((await bearer(`Bearer ${token}`)).status).toBe(200);
    for (const wrong of [`Bearer ${token}x`, `bearer ${token} `, 'Bearer', 'Basic b3duZXI6b2xpdmVz', `Bearer ${token.slice(1)}`]) expectProblem(await bearer(wrong), 'not-signed-in');
  });

  it('ends at sign-out, for good', async () => {
    const client = await harness.as('owner');
    const cookie = client.cookie ?? '';
    await client.call('signOut');
    expect(client.cookie).toBeNull();
    expectProblem(await harness.stranger().fetch('/api/drums', { headers: { cookie } }), 'not-signed-in');
  });

  it('ends thirty days after it was last used, and lasts while it is used', async () => {
    const client = await harness.as('owner');
    for (let week = 0; week < 10; week += 1) {
      harness.machine.advance(7 * dayMs);
      expect(await client.call('session')).toMatchObject({ user: { name: 'owner' } });
    }
    harness.machine.advance(31 * dayMs);
    expect(await client.call('session')).toMatchObject({ user: null });
    await client.refused('drums', 'not-signed-in');
  });

  it('sends the cookie again when it is renewed, because the browser has an end of its own for it', async () => {
    const client = await harness.as('owner');
    expect((await client.fetch('/api/session')).headers.get('set-cookie')).toBeNull();
    harness.machine.advance(16 * dayMs);
    const { headers } = await client.fetch('/api/session');
    expect(headers.get('set-cookie')).toContain(`Max-Age=${(30 * dayMs) / 1_000}`);
    expect(headers.get('set-cookie')).toContain('HttpOnly');
  });

  it('ends when the password is changed or the user is removed', async () => {
    const [owner, helper] = await Promise.all([harness.as('owner'), harness.as('helper')]);
    expect(await harness.service.access.setPassword('helper', 'another one')).toBe(true);
    await helper.refused('drums', 'not-signed-in');
    expect(harness.service.access.removeUser('owner')).toBe(true);
    await owner.refused('drums', 'not-signed-in');
  });
});

describe('the first owner', () => {
  it('is made with the set-up code, once, whatever the case of its letters', async () => {
    const { access, model } = harness.service;
    const prepared = await prepareFirstOwner(access, model, null);
    const code = prepared?.setUpCode ?? '';
    expect(code).toMatch(/^[A-HJKMNP-Z2-9]{4}-[A-HJKMNP-Z2-9]{4}$/);
    const client = harness.stranger();
    expect(await client.call('session')).toMatchObject({ setUpNeeded: true });
    await client.refused('setUp', 'wrong-setup-code', { body: { code: 'AAAA-AAAA', password: 'a new owner' } });
    await client.refused('setUp', 'does-not-fit', { body: { code, password: 'short' } });
    expect(await client.call('setUp', { body: { code: code.toLowerCase().replace('-', ' '), password: 'a new owner' } })).toEqual({ user: { name: 'owner', role: 'owner' }, setUpNeeded: false, demo: null });
    expect(await client.call('drums')).toEqual({ drums: [] });
    await harness.stranger().refused('setUp', 'already-set-up', { body: { code, password: 'another owner' } });
    const { entries } = await client.call('journal');
    expect(entries.at(-1)).toMatchObject({ kind: 'user-added', who: 'user:owner', body: { name: 'owner', role: 'owner' } });
  });

  it('is one, even if two people bring the code at the same moment', async () => {
    const prepared = await prepareFirstOwner(harness.service.access, harness.service.model, null);
    const code = prepared?.setUpCode ?? '';
    const answers = await Promise.all(
      ['ada', 'ben'].map((name) => harness.stranger().fetch('/api/setup', { method: 'POST', headers: json, body: JSON.stringify({ code, name, password: 'a new owner' }) })),
    );
    expect(answers.map(({ status }) => status).toSorted((one, other) => one - other)).toEqual([201, 403]);
  });

  it('is asked for with a new code after a restart; the old one is void', async () => {
    const { access, model } = harness.service;
    const first = (await prepareFirstOwner(access, model, null))?.setUpCode ?? '';
    await harness.restart();
    await prepareFirstOwner(harness.service.access, harness.service.model, null);
    await harness.stranger().refused('setUp', 'wrong-setup-code', { body: { code: first, password: 'a new owner' } });
    expect(harness.service.access.hasUsers()).toBe(false);
  });

  it('comes from the settings where a password is given, and is written in the journal', async () => {
    const { access, model } = harness.service;
    expect(await prepareFirstOwner(access, model, 'from the settings')).toBeNull();
    expect(await access.check('owner', 'from the settings')).toEqual({ name: 'owner', role: 'owner' });
    expect(model.book.read(0, 10).at(-1)).toMatchObject({ kind: 'user-added', who: 'api' });
    // Later starts leave a changed password alone.
    await access.setPassword('owner', 'changed since');
    await prepareFirstOwner(access, model, 'from the settings');
    expect(await access.check('owner', 'changed since')).not.toBeNull();
  });
});

describe('the demo', () => {
  it('tells its user and password to whoever opens the sign-in page', async () => {
    const demo = await openApiHarness({ demo: { name: 'owner', password: 'olives' } });
    expect(await demo.stranger().call('session')).toMatchObject({ demo: { name: 'owner', password: 'olives' } });
    await demo.close();
  });
});
