import type { Role } from '#contract';
import type { EpochMs } from '#domain/units/time.ts';

/** Who came in, and what for. */
export interface User {
  readonly name: string;
  readonly role: Role;
  /** Where somebody may read some records only; with neither inspection nor end where it is an account with a name. */
  readonly reads?: { readonly lots: readonly string[]; readonly inspection: string | null; readonly until: EpochMs | null };
}

export interface NewSession {
  readonly token: string;
  readonly maxAgeMs: number;
}
