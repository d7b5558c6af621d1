import type { Entry } from '#domain/journal/entry.ts';
import type { Batch } from '#domain/journal/shed.ts';
import { deviationsOfLot } from '#domain/deviation/of-lot.ts';
import { lotExtract, type ExtractSubject } from '#domain/record/extract.ts';
import { handValues } from '#domain/record/hand-values.ts';
import { ingredientsOf } from '#domain/record/ingredients.ts';
import type { LotRecord } from '#domain/record/lot-record.ts';
import { instrumentBookOf } from '#domain/calibration/book.ts';
import { makeRecord } from '#domain/record/make-record.ts';
import { limitStretches, type LimitSet } from '#domain/record/stretches.ts';
import { alertsOf } from './batch-view.ts';
import { recordReadings } from './record-readings.ts';
import type { ShedModel } from './shed-model.ts';

const pageEntries = 500;

/** The record of a lot as it stands now. */
export const recordOf = async (model: ShedModel, batch: Batch): Promise<LotRecord> => {
  const now = model.clock.now();
  const shed = model.shed();
  const until = Math.min(now, batch.stays.at(-1)?.to ?? now);
  const stretches = limitStretches(batch, await limitSets(model), now);
  const { watched, series } = await recordReadings(model, batch, stretches, until);
  const byHand = handValues(batch, instrumentBookOf(shed, model.zone, now));
  const instruments = new Set([...watched.flatMap(({ probes }) => probes), ...byHand.flatMap(({ instrument }) => instrument ?? [])]);
  const names = new Set([...deviationsOfLot(shed, batch).map(({ number }) => number), ...ingredientsOf(shed, batch).map(({ id }) => id)]);
  const entries = await extractOf(model, { batch, series, instruments, names, until });
  return makeRecord({
    shed,
    batch,
    site: { id: shed.site?.site ?? 'home', name: shed.site?.name ?? '', zone: model.zone },
    now,
    alerts: alertsOf(shed, batch),
    entries,
    stretches,
    watched,
    series,
  });
};

/** The journal from its beginning, a page at a time, letting others have their turn between. */
async function* journalOf(model: ShedModel): AsyncGenerator<Entry> {
  for (let after = 0; ; ) {
    const page = model.book.read(after, pageEntries);
    yield* page;
    const last = page.at(-1);
    if (last === undefined) return;
    after = last.sequence;
    await new Promise((resolve) => void setImmediate(resolve));
  }
}

const limitSets = async (model: ShedModel): Promise<readonly LimitSet[]> => {
  const sets: LimitSet[] = [];
  for await (const entry of journalOf(model)) if (entry.kind === 'limit-set') sets.push(entry);
  return sets;
};

const extractOf = async (model: ShedModel, subject: ExtractSubject): Promise<readonly Entry[]> => {
  const concerns = lotExtract(subject);
  const entries: Entry[] = [];
  for await (const entry of journalOf(model)) if (concerns(entry)) entries.push(entry);
  return entries;
};
