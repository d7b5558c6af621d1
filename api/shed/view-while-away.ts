import { failureOf } from '#collector';
import type { Segment, SeriesView, Span } from '#domain/reading/store.ts';
import { dayMs } from '#domain/units/time.ts';
import type { ShedModel } from './shed-model.ts';

/** Whether a store elsewhere does not answer; the last days are then still told. */
export const isAway = (error: unknown): boolean => failureOf(error)?.code === 'unreachable';

/** Less than a store elsewhere keeps here of each series, counted from its newest reading. */
const surelyHereMs = 3 * dayMs;

/**
 * For the screens that watch: where the store elsewhere is away, the last days, and before them a gap. Never for a record: there a
 * stretch that cannot be read must not look like one that was not measured.
 */
export const viewWhileAway = async (model: ShedModel, segments: readonly Segment[], span: Span, points: number): Promise<SeriesView> => {
  const nothing: SeriesView = { level: 'raw', points: [], gaps: [span] };
  const orNothing = (error: unknown): SeriesView => {
    if (isAway(error)) return nothing;
    throw error;
  };
  try {
    return await model.store.view(segments, span, points);
  } catch (error) {
    const from = Math.max(span.from, span.to - surelyHereMs);
    if (!isAway(error) || from === span.from) return orNothing(error);
    const view = await model.store.view(segments, { from, to: span.to }, points).catch(orNothing);
    return view === nothing ? nothing : { ...view, gaps: [{ from: span.from, to: from }, ...view.gaps] };
  }
};
