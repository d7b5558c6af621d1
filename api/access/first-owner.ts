import { byApi } from '#domain/journal/entry.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { AccessStore } from './access-store.ts';

/** The first user of a new shed: made with the password given, or by whoever brings the set-up code that is answered here. */
export const prepareFirstOwner = async (access: AccessStore, model: ShedModel, password: string | null): Promise<{ readonly setUpCode: string } | null> => {
  if (access.hasUsers()) return null;
  if (password === null) return { setUpCode: access.makeSetUpCode() };
  if (await access.addUser(firstOwner, 'owner', password)) model.write([{ who: byApi, kind: 'user-added', body: { name: firstOwner, role: 'owner' } }]);
  return null;
};

const firstOwner = 'owner';
