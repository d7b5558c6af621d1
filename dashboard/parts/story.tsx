import type { BatchDetail, StoryEntry } from '#contract';
import { clockTime, dayMonth } from '../format/time.ts';
import type { UnitChoice } from '../format/units.ts';
import { byWhom, noteOf, storyWords } from '../state/story-words.ts';
import './story.css';

interface StoryProps {
  readonly batch: BatchDetail;
  readonly zone: string;
  readonly units: UnitChoice;
  readonly mayWork: boolean;
  readonly onCorrect: (entry: StoryEntry) => void;
}

/** Every act on the batch, newest first. What was corrected stays, struck through. */
export const Story = ({ batch, zone, units, mayWork, onCorrect }: StoryProps) => {
  const entries = batch.entries.toSorted((a, b) => Date.parse(b.at) - Date.parse(a.at) || b.sequence - a.sequence);
  return (
    <section class="story" aria-labelledby="story-title">
      <h2 id="story-title">The story so far</h2>
      {entries.length === 0 && <p class="dim">Nothing has been written yet.</p>}
      <ol>
        {entries.map((entry) => {
          const { title, detail } = storyWords(entry, units);
          const note = noteOf(entry.body);
          const at = Date.parse(entry.at);
          return (
            <li key={entry.sequence} class={entry.standing ? undefined : 'struck'}>
              <p class="story-time">
                {dayMonth(at, zone)} <span>{clockTime(at, zone)}</span>
              </p>
              <div>
                <p>
                  {entry.standing ? (
                    <>
                      <b>{title}</b> {detail}
                    </>
                  ) : (
                    <del>
                      <b>{title}</b> {detail}
                    </del>
                  )}
                </p>
                {entry.notUsable !== undefined && entry.standing && (
                  <p>
                    <b>u</b> not usable as evidence: {entry.notUsable}
                  </p>
                )}
                {note !== '' && <p class="dim">{note}</p>}
                {paperTimeOf(entry) !== null && (
                  <p class="dim">
                    written at {moment(paperTimeOf(entry) ?? '', zone)}, entered at {moment(entry.writtenAt, zone)}
                  </p>
                )}
                <p class="dim">
                  by {byWhom(entry.by)}
                  {entry.correctedBy !== null && ', corrected'}
                  {entry.corrects !== null && entry.standing && ', in place of an earlier entry'}
                </p>
              </div>
              {entry.standing && mayWork && (
                <button type="button" class="quiet" aria-label={`Correct: ${title} ${detail}, ${dayMonth(at, zone)}`} onClick={() => onCorrect(entry)}>
                  Correct
                </button>
              )}
            </li>
          );
        })}
        <li>
          <p class="story-time">{dayMonth(Date.parse(batch.startedAt), zone)}</p>
          <p>
            <b>Started</b> {batch.fruitKg} kg {batch.maturity} {batch.variety ?? 'olives'}, {batch.cut}, {batch.saltGPerL === 0 ? 'in plain water' : `in brine of ${String(batch.saltGPerL)} g/L`}
          </p>
        </li>
      </ol>
    </section>
  );
};

/** When it was written on paper, where it was typed in later. */
const paperTimeOf = ({ body }: StoryEntry): string | null => (typeof body['writtenAt'] === 'string' ? body['writtenAt'] : null);

const moment = (at: string, zone: string): string => `${clockTime(Date.parse(at), zone)}, ${dayMonth(Date.parse(at), zone)}`;
