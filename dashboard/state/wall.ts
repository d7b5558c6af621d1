import { signal, type ReadonlySignal } from '@preact/signals';
import type { Drum, Health, Wall } from '#contract';
import type { Answered, Failure } from '../client/call.ts';
import type { LiveMessage } from '../client/live.ts';
import { withAlert } from './alerts.ts';

/**
 * What the wall shows: fetched whole, then kept current by live messages. A drum whose story has grown (its `revision`)
 * has a ribbon that is out of date, so the wall is fetched again; several reasons within a moment make one fetch.
 */
export interface WallModel {
  readonly wall: ReadonlySignal<Wall | null>;
  readonly failure: ReadonlySignal<Failure | null>;
  /** How the other parts of the shed computer are, as last heard. */
  readonly health: ReadonlySignal<Health | null>;
  readonly refresh: () => Promise<void>;
  readonly take: (message: LiveMessage) => void;
}

export interface WallNeeds {
  readonly load: () => Promise<Answered<'wall'>>;
  readonly sync: (serverNow: string) => void;
  readonly after: (ms: number, run: () => void) => () => void;
}

export const gatherMs = 400;
export const againMs = 10 * 60_000;

type Row = Wall['drums'][number];

const merge = (wall: Wall, drum: Drum): Wall => ({
  ...wall,
  drums: wall.drums.map((row): Row => (row.id === drum.id ? { ...drum, ribbon: row.ribbon } : row)),
});

export const createWall = ({ load, sync, after }: WallNeeds): WallModel => {
  const wall = signal<Wall | null>(null);
  const failure = signal<Failure | null>(null);
  const health = signal<Health | null>(null);
  let cancelSoon: (() => void) | null = null;
  let cancelAgain: (() => void) | null = null;
  let asked = 0;

  const refresh = async (): Promise<void> => {
    cancelSoon?.();
    cancelSoon = null;
    asked += 1;
    const mine = asked;
    const answer = await load();
    // A slower, older answer must not undo a newer one.
    if (mine !== asked) return;
    if (answer.ok) {
      wall.value = answer.value;
      sync(answer.value.now);
    }
    failure.value = answer.ok ? null : answer.error;
    cancelAgain?.();
    cancelAgain = after(answer.ok ? againMs : 10_000, () => void refresh());
  };

  const refreshSoon = (): void => {
    cancelSoon ??= after(gatherMs, () => void refresh());
  };

  const takeDrum = (drum: Drum): void => {
    const known = wall.value?.drums.find(({ id }) => id === drum.id);
    if (wall.value === null || known === undefined || known.revision !== drum.revision) refreshSoon();
    if (wall.value !== null && known !== undefined && drum.revision >= known.revision) wall.value = merge(wall.value, drum);
  };

  return {
    wall,
    failure,
    health,
    refresh,
    take: (message) => {
      switch (message.name) {
        case 'drum':
          takeDrum(message.data);
          break;
        case 'alert': {
          const { drum: id } = message.data;
          const row = wall.value?.drums.find((drum) => drum.id === id);
          if (wall.value !== null && row !== undefined) wall.value = merge(wall.value, { ...row, alerts: withAlert(row.alerts, message.data) });
          refreshSoon();
          break;
        }
        case 'task':
          refreshSoon();
          break;
        case 'health':
          sync(message.data.now);
          health.value = message.data;
          break;
      }
    },
  };
};
