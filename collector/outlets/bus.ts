import { dayOf, stageAt } from '#domain/cure/stage.ts';
import type { Task } from '#domain/cure/tasks.ts';
import type { Shed } from '#domain/journal/shed.ts';
import type { NowValue } from '#domain/reading/now.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';

/**
 * The state of the shed on MQTT, retained, for anyone who listens: drums, alerts (emptied when normal), tasks (emptied when settled).
 * Only what changed is said; after a reconnect everything is said again. Room `outlets`: may import the domain and Node.
 */
export interface Bus {
  drum(shed: Shed, drum: string, now: Readonly<Record<string, NowValue>>, at: EpochMs): void;
  alerts(shed: Shed): void;
  tasks(tasks: readonly Task[]): void;
  sayAgain(): void;
  /** A broker still keeps this topic, perhaps from before a restart or a lost connection: emptied if it is no longer true. */
  kept(topic: string): void;
}

export const createBus = (site: string, zone: string, publish: (topic: string, payload: string, retain: boolean) => void): Bus => {
  const said = new Map<string, string>();
  const say = (topic: string, payload: string): void => {
    if (said.get(topic) === payload) return;
    if (payload === '') said.delete(topic);
    else said.set(topic, payload);
    publish(topic, payload, true);
  };
  /** Says the state of many things of one kind and empties those that are gone. */
  const sayAll = (kind: string, payloads: ReadonlyMap<string, string>): void => {
    const prefix = `brineward/${site}/${kind}/`;
    for (const topic of [...said.keys()]) if (topic.startsWith(prefix) && !payloads.has(topic.slice(prefix.length))) say(topic, '');
    for (const [id, payload] of payloads) say(prefix + id, payload);
  };

  return {
    drum: (shed, id, now, at) => {
      const drum = shed.drums.get(id);
      if (drum === undefined) return;
      const batch = drum.lot === null ? undefined : shed.batches.get(drum.lot);
      const values = Object.fromEntries(Object.entries(now).map(([channel, value]) => [channel, 'absent' in value ? value : { ...value, at: toRfc3339(value.at) }]));
      say(
        `brineward/${site}/drum/${id}/now`,
        JSON.stringify({ drum: id, name: drum.name, lot: drum.lot, stage: batch === undefined ? null : stageAt(batch, at), day: batch === undefined ? null : dayOf(batch, at, zone), ...values }),
      );
    },
    alerts: (shed) => {
      const payloads = [...shed.openAlerts.values()].map(({ id, drum, lot, rule, priority, state, since, text, advice, value, limit }) => [id, JSON.stringify({ id, drum, lot, rule, priority, state, since: toRfc3339(since), value, limit, text, advice })] as const);
      sayAll('alert', new Map(payloads));
    },
    tasks: (tasks) => sayAll('task', new Map(tasks.map(({ dueAt, ...task }) => [task.id, JSON.stringify({ ...task, dueAt: toRfc3339(dueAt) })]))),
    sayAgain: () => {
      for (const [topic, payload] of said) publish(topic, payload, true);
    },
    kept: (topic) => {
      if (!said.has(topic)) publish(topic, '', true);
    },
  };
};
