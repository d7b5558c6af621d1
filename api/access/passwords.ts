import { argon2, randomBytes, timingSafeEqual } from 'node:crypto';

/** Passwords are kept as argon2id (RFC 9106), in the PHC string form, with the parameters they were made with. */
const parameters = { memory: 19_456, passes: 2, parallelism: 1, tagLength: 32 } as const;

export const hashPassword = async (password: string): Promise<string> => {
  const nonce = randomBytes(16);
  const tag = await derive(password, nonce, parameters);
  const { memory, passes, parallelism } = parameters;
  return `$argon2id$v=19$m=${memory},t=${passes},p=${parallelism}$${base64(nonce)}$${base64(tag)}`;
};

export const checkPassword = async (password: string, stored: string): Promise<boolean> => {
  const match = /^\$argon2id\$v=19\$m=(\d+),t=(\d+),p=(\d+)\$([\w+/]+)\$([\w+/]+)$/.exec(stored);
  if (match === null) return false;
  const [, memory, passes, parallelism, nonce = '', tag = ''] = match;
  const expected = Buffer.from(tag, 'base64');
  const found = await derive(password, Buffer.from(nonce, 'base64'), { memory: Number(memory), passes: Number(passes), parallelism: Number(parallelism), tagLength: expected.length });
  return timingSafeEqual(found, expected);
};

/** Always the same for the same code and nonce, so that it can be looked up. */
export const hashCode = async (code: string, nonce: Buffer): Promise<string> => base64(await derive(code, nonce, parameters));

const derive = (password: string, nonce: Buffer, options: { memory: number; passes: number; parallelism: number; tagLength: number }): Promise<Buffer> =>
  new Promise((resolve, reject) => {
    argon2('argon2id', { message: Buffer.from(password.normalize('NFC')), nonce, ...options }, (error, tag) => (error === null ? resolve(Buffer.from(tag)) : reject(error)));
  });

const base64 = (bytes: Buffer): string => bytes.toString('base64').replace(/=+$/, '');
