import type { Slug } from '../reading/reading.ts';
import type { AlertPriority } from '../rules/alert.ts';
import type { EpochMs } from '../units/time.ts';
import type { QuietHours } from './quiet-hours.ts';

/**
 * An outlet: a way by which word of the shed reaches a person, or a program of theirs. Passwords, keys and secret addresses are no part
 * of it: they stand in no journal.
 */
export const outletKinds = ['mail', 'webhook', 'heartbeat'] as const;

/** How the line to the mail server is kept private: from the first byte, after a word in the open, or not at all. */
export const mailSecurity = ['tls', 'starttls', 'none'] as const;

export interface MailServer {
  readonly host: string;
  readonly port: number;
  readonly security: (typeof mailSecurity)[number];
  /** Null where the server asks for no name. */
  readonly user: string | null;
  readonly from: string;
}

/** `to`: the mail address, or the host of a secret address. */
export type OutletSetting = { readonly id: Slug; readonly name: string; readonly to: string } & (
  | { readonly kind: 'mail'; readonly server: MailServer }
  | { readonly kind: 'webhook' }
  | { readonly kind: 'heartbeat'; readonly everyMinutes: number }
);

/** What goes to an outlet and when. A note is written down and never announced. */
export interface Route {
  readonly priorities: readonly Exclude<AlertPriority, 'note'>[];
  /** Local hours in which only high alerts are told; what else came up is told when they end. */
  readonly quiet: QuietHours | null;
  /** An alert that nobody has seen is told again after so long; null: once is enough. */
  readonly remindMinutes: number | null;
  /** The line of each sealed day, so that a copy of it lies elsewhere. */
  readonly seals: boolean;
}

export const announcedPriorities = ['high', 'medium', 'low'] as const satisfies readonly AlertPriority[];

export const usualRoute: Route = { priorities: ['high', 'medium'], quiet: null, remindMinutes: 60, seals: true };

export type Outlet = OutletSetting & { readonly route: Route; readonly setAt: EpochMs; readonly setBy: string; readonly sequence: number };


/** The bus, which every shed has, and which can be tried like an outlet. */
export const busOutlet = 'mqtt';
