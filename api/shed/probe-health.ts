import type { ProbeHealth, ProbeSignShown } from '#contract';
import { calibrationSigns, electrodeOf, icePointOffC } from '#domain/probe/calibration-signs.ts';
import { findProbeSigns, type ChannelTrace } from '#domain/probe/find-signs.ts';
import { probeSignWords, type ProbeSign } from '#domain/probe/sign.ts';
import { drumWatchedBy, seriesWatching } from '#domain/journal/placement.ts';
import { isFromFile } from '#domain/logger/from-file.ts';
import { channels } from '#domain/reading/channel.ts';
import { seriesId, seriesParts, type SeriesId } from '#domain/reading/reading.ts';
import type { Point } from '#domain/reading/store.ts';
import { isStale, usualIntervalMs } from '#domain/rules/silence.ts';
import { dayMs, minuteMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import type { ShedModel } from './shed-model.ts';

const readingsLookedAt = 200;
const stepMs = 10 * minuteMs;
/** All silent at once is one cause; a shed with a single probe cannot tell. */
const fewestForAll = 2;

/** Every probe as its own readings show it. What is asked of the store is one day of each series. */
export const probeHealths = async (model: ShedModel): Promise<ProbeHealth[]> => {
  const now = model.clock.now();
  const shed = model.shed();
  const summaries = await model.store.summaries();
  const days = new Map<SeriesId, Promise<readonly Point[]>>();
  const dayOf = (series: SeriesId | null): Promise<readonly Point[]> => {
    if (series === null) return Promise.resolve([]);
    const known = days.get(series) ?? dayPoints(model, series, now);
    days.set(series, known);
    return known;
  };
  const air = summaries.filter(({ series }) => seriesParts(series).channel === 'air-temperature').sort((one, other) => other.last.at - one.last.at)[0]?.series ?? null;

  const heard = await Promise.all(
    summaries.map(async ({ series, last }) => {
      const { probe, channel } = seriesParts(series);
      const recent = (await model.store.recent(series, readingsLookedAt)).filter(({ at }) => at > now - dayMs);
      const intervalMs = usualIntervalMs(null, (recent.length > 1 ? recent : await model.store.recent(series, 9)).map(({ at }) => at));
      const fromFile = isFromFile(shed, last);
      return { series, probe, channel, last, recent, intervalMs, fromFile, isSilent: !fromFile && isStale(last.at, intervalMs, now) };
    }),
  );
  const probesHeard = new Set(heard.map(({ probe }) => probe));
  const expected = heard.filter(({ fromFile }) => !fromFile);
  const allSilent = new Set(expected.map(({ probe }) => probe)).size >= fewestForAll && expected.every(({ isSilent }) => isSilent);

  const probes: ProbeHealth[] = [];
  for (const id of [...probesHeard].sort()) {
    const own = heard.filter(({ probe }) => probe === id);
    const signs: ProbeSign[] = [];
    for (const { series, channel, last, recent, isSilent } of own) {
      const drum = drumWatchedBy(shed, series, now);
      const others = drum === null ? [] : besideOf(model, series, drum, now);
      const trace: ChannelTrace = {
        channel, last, recent, isSilent,
        day: await dayOf(series),
        beside: channels[channel].of === 'drum' ? await dayOf(others[0] ?? null) : [],
        air: channel === 'temperature' ? await dayOf(air) : [],
      };
      signs.push(...findProbeSigns(trace, allSilent, now));
    }
    const calibrations = shed.calibrations.get(id) ?? [];
    signs.push(...calibrationSigns(own.map(({ channel }) => channel), calibrations, now));
    const electrode = electrodeOf(calibrations, now);
    const intervals = own.flatMap(({ intervalMs }) => intervalMs ?? []);
    probes.push({
      id,
      signs: signsInWords(signs),
      electrode: electrode === null ? null : { at: electrode.at, ageDays: electrode.ageDays, slopePercent: electrode.slopePercent, offsetMv: electrode.offsetMv, verdict: electrode.verdict },
      icePointOffC: icePointOffC(calibrations),
      intervalS: intervals.length === 0 ? null : Math.round(Math.min(...intervals) / 1_000),
      isFromFile: own.every(({ fromFile }) => fromFile),
      placements: own.flatMap(({ series }) => shed.placements.get(series) ?? []).sort((one, other) => one.from - other.from).map(({ channel, drum, from }) => ({ channel, drum, from: toRfc3339(from) })),
    });
  }
  return probes;
};

/** One silence is told once, however many channels a probe has. */
const signsInWords = (signs: readonly ProbeSign[]): ProbeSignShown[] => {
  const told = signs.filter(({ kind }, index) => !isSilence(kind) || signs.findIndex((other) => other.kind === kind) === index);
  return told.map((sign) => ({ ...sign, state: probeSignWords[sign.kind].state, title: probeSignWords[sign.kind].title(sign.value), hint: probeSignWords[sign.kind].hint }));
};

const isSilence = (kind: ProbeSign['kind']): boolean => kind === 'silent' || kind === 'all-silent';

/** Other series that watch the same channel of the same drum now. */
const besideOf = (model: ShedModel, series: SeriesId, drum: string, now: EpochMs): SeriesId[] => {
  const { channel } = seriesParts(series);
  const shed = model.shed();
  const believed = seriesWatching(shed, drum, channel, now);
  const all = [...shed.placements.keys()].filter((other): other is SeriesId => other !== series && other === seriesId(seriesParts(other as SeriesId).probe, channel));
  return all.filter((other) => drumWatchedBy(shed, other, now) === drum).sort((one, other) => Number(other === believed) - Number(one === believed));
};

const dayPoints = async (model: ShedModel, series: SeriesId, now: EpochMs): Promise<readonly Point[]> => {
  const span = { from: Math.floor((now - dayMs) / stepMs) * stepMs, to: now + 1 };
  return (await model.store.view([{ series, ...span }], span, Math.ceil(dayMs / stepMs) + 2)).points;
};
