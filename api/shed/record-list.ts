import { fingerprintOf } from '#collector';
import type { RecordList, RecordListed } from '#contract';
import { restOver } from '#domain/cure/stage.ts';
import type { Batch, Shed } from '#domain/journal/shed.ts';
import { recordJars, recordState } from '#domain/record/story.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import type { User } from '../access/access-store.ts';
import { mayRead } from './readable.ts';
import type { ShedModel } from './shed-model.ts';

/** The lots of all years that somebody may read, the last begun first, with where each stands. */
export const recordList = (model: ShedModel, user: User): RecordList => {
  const shed = model.shed();
  const now = model.clock.now();
  const { publicKey } = shed.seals;
  return {
    site: shed.site?.name ?? '',
    zone: model.zone,
    now: toRfc3339(now),
    reader: user.name,
    until: user.reads?.until == null ? null : toRfc3339(user.reads.until),
    fingerprint: publicKey === null ? null : fingerprintOf(publicKey),
    lastSeal: lastSeal(model, shed),
    lots: [...shed.batches.values()].filter(({ lot }) => mayRead(user, lot)).sort((one, other) => other.startedAt - one.startedAt || other.sequence - one.sequence).map((batch) => listed(shed, batch, now)),
  };
};

const listed = (shed: Shed, batch: Batch, now: EpochMs): RecordListed => {
  const { word, since, by, reason } = recordState(shed, batch, now);
  const jars = recordJars(batch, now);
  const restsUntil = batch.jarredAt === null ? null : restOver(batch.jarredAt);
  return {
    lot: batch.lot,
    drum: shed.drums.get(batch.drum)?.name ?? batch.drum,
    cut: batch.cut,
    style: batch.style,
    maturity: batch.maturity,
    variety: batch.variety,
    pickedAt: toRfc3339(batch.pickedAt),
    startedAt: toRfc3339(batch.startedAt),
    jarredAt: batch.jarredAt === null ? null : toRfc3339(batch.jarredAt),
    place: word === 'released' && jars !== null && jars.filled > 0 && jars.left <= 0 ? 'sold out' : word,
    since,
    by,
    reason,
    restsUntil: restsUntil === null || restsUntil <= now ? null : toRfc3339(restsUntil),
    jars: jars === null ? null : { filled: jars.filled, left: jars.left },
  };
};

const lastSeal = ({ book }: ShedModel, { seals }: Shed): RecordList['lastSeal'] => {
  const day = seals.days.at(-1);
  const sequence = day?.entries.at(-1);
  if (day === undefined || sequence === undefined) return null;
  const [entry] = book.read(sequence - 1, 1);
  return entry === undefined ? null : { day: day.day, at: entry.time, hash: entry.hash };
};
