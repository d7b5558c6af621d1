import { fail, ok, type Result } from '#domain/result.ts';

/** `key=value,key=value`, as sources are given on the command line: known keys only, each once, none empty. */
export const parsePairs = <Key extends string>(text: string, keys: readonly Key[]): Result<Partial<Record<Key, string>>, string> => {
  const pairs: Partial<Record<Key, string>> = {};
  for (const part of text.split(',')) {
    const cut = part.indexOf('=');
    const [name, value] = [part.slice(0, Math.max(cut, 0)).trim(), part.slice(cut + 1).trim()];
    const key = keys.find((known) => known === name);
    if (cut < 1 || value === '') return fail(`"${part}" must be a key, = and a value`);
    if (key === undefined) return fail(`${name} is not one of ${keys.join(', ')}`);
    if (pairs[key] !== undefined) return fail(`${name} is given twice`);
    pairs[key] = value;
  }
  return ok(pairs);
};
