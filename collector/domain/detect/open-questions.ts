import { isAct, type Batch, type Shed, type StoryAct } from '../journal/shed.ts';
import { dayMs, hourMs, type EpochMs } from '../units/time.ts';
import type { AskedQuestion, Question } from './question.ts';

/** A change written down within this of a step is that step: people write when their hands are dry. */
const sameChangeMs = 4 * hourMs;
/** After this nobody remembers. */
const forgottenMs = 7 * dayMs;
/** A probe is asked about again when it still follows the air; not for a week where somebody has looked and found it well. */
const askAgainMs = 2 * dayMs;
const believedMs = 7 * dayMs;

/** Ice makes a step too, and is no change of brine. */
const isCooled = (act: StoryAct): boolean => isAct('handled')(act) && act.body.what === 'cooled';

export const isLogged = (batch: Batch, at: EpochMs): boolean =>
  batch.acts.some((act) => act.standing && (isAct('brine-changed')(act) || isAct('brine-topped-up')(act) || isCooled(act)) && Math.abs(act.at - at) <= sameChangeMs) || Math.abs(batch.startedAt - at) <= sameChangeMs;

/** Asked once: the same thing seen again, minutes off, is no new question. */
export const isAsked = (asked: Iterable<AskedQuestion>, question: Question): boolean => {
  for (const other of asked) {
    if (other.drum !== question.drum || other.kind !== question.kind || other.lot !== question.lot) continue;
    if (question.kind === 'right-drum' && other.entry === question.entry) return true;
    if (question.kind === 'unlogged-change' && Math.abs(other.at - question.at) <= sameChangeMs) return true;
    if (question.kind === 'probe-in-air' && question.at - other.at <= (other.answer?.answer === 'no' ? believedMs : askAgainMs)) return true;
  }
  return false;
};

/** What still waits for an answer: not what was settled otherwise, what is long past, or what was asked about a lot that has gone. */
export const openQuestions = (shed: Shed, now: EpochMs): readonly AskedQuestion[] =>
  [...shed.questions.values()].filter((question) => {
    if (question.answer !== null || now - question.at > forgottenMs || shed.drums.get(question.drum)?.lot !== question.lot) return false;
    const batch = shed.batches.get(question.lot);
    if (batch === undefined || batch.jarredAt !== null) return false;
    if (question.kind === 'unlogged-change') return !isLogged(batch, question.at);
    return question.kind !== 'right-drum' || batch.acts.some(({ sequence, standing }) => sequence === question.entry && standing);
  });
