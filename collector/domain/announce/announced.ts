import type { Slug } from '../reading/reading.ts';
import type { EpochMs, Rfc3339 } from '../units/time.ts';

/**
 * alerts: what has come up. digest: the same while there is a flood. reminder: what nobody has seen yet. seals: the lines of sealed days.
 * test: because somebody pressed the button. heartbeat: only where it failed and when it was back.
 */
export const announcementKinds = ['alerts', 'digest', 'reminder', 'seals', 'test', 'heartbeat'] as const;
export type AnnouncementKind = (typeof announcementKinds)[number];

export const announcementResults = ['sent', 'failed', 'given-up'] as const;
export type AnnouncementResult = (typeof announcementResults)[number];

/** The entry that tells what was announced, to whom, when and with what result. */
export interface AnnouncedBody {
  /** Of the message itself: the same message sent again carries it again. */
  readonly delivery: string;
  readonly outlet: Slug;
  readonly what: AnnouncementKind;
  /** To whom, as the outlet was set then. */
  readonly to: string;
  /** `excursion`: which time outside, counted from 1. */
  readonly alerts: readonly { readonly id: string; readonly excursion: number }[];
  /** Up to which entry the seals were told. */
  readonly sealsTo?: number;
  readonly at: Rfc3339;
  /** How long after it was due; 0 where it was told in time. */
  readonly lateS: number;
  readonly attempts: number;
  readonly result: AnnouncementResult;
  /** What the other side said where it failed. */
  readonly detail: string | null;
}

/** What one outlet has been told about one open alert. */
export interface Said {
  readonly excursion: number;
  readonly at: EpochMs;
}

export interface Announcement {
  readonly sequence: number;
  readonly body: AnnouncedBody;
}

/** What has been told, as far as it matters for what is to be told next, and the last announcements for whoever looks. */
export interface Announced {
  /** By outlet and alert (`saidKey`), of open alerts only. */
  readonly said: ReadonlyMap<string, Said>;
  /** By outlet: alerts told in the last minutes, oldest first. */
  readonly recent: ReadonlyMap<Slug, readonly { readonly at: EpochMs; readonly alerts: number }[]>;
  /** By outlet: the last entry of a seal it was told, and when. */
  readonly sealsTo: ReadonlyMap<Slug, { readonly entry: number; readonly at: EpochMs }>;
  /** Outlets of which a test is asked and not answered, by the entry that asks. */
  readonly testsAsked: ReadonlyMap<Slug, number>;
  /** By outlet: the message the journal last told of. */
  readonly lastDelivery: ReadonlyMap<Slug, string>;
  /** Newest first, a few of them. */
  readonly latest: readonly Announcement[];
}

export const saidKey = (outlet: Slug, alert: string): string => `${outlet} ${alert}`;

export const nothingAnnounced: Announced = { said: new Map(), recent: new Map(), sealsTo: new Map(), testsAsked: new Map(), lastDelivery: new Map(), latest: [] };
