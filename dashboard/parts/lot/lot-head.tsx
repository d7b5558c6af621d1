import type { BatchDetail, Wall } from '#contract';
import { batchWords } from '../../state/batch-words.ts';
import { longDay } from '../../format/time.ts';
import { Go } from '../go.tsx';
import { sharedSpan } from '../ribbon/axis.ts';
import { CalendarAxis } from '../ribbon/calendar-axis.tsx';
import { Ribbon } from '../ribbon/ribbon.tsx';

interface LotHeadProps {
  readonly batch: BatchDetail;
  /** Its drum on the wall, which may hold another lot by now. */
  readonly row: Wall['drums'][number] | null;
  readonly now: number;
  readonly zone: string;
}

/** Which lot it is, where it stands, and its cure as a picture as long as its drum still shows it. */
export const LotHead = ({ batch, row, now, zone }: LotHeadProps) => {
  const words = batchWords(batch, zone);
  const stage = words.lot.split(' · ').at(-1) ?? '';
  const ribbon = row?.batch?.lot === batch.lot ? row.ribbon : null;
  const facts = [`${String(batch.fruitKg)} kg ${batch.maturity}`, batch.trees === null ? '' : `trees: ${batch.trees}`, `picked ${longDay(Date.parse(batch.pickedAt), zone)}`].filter((part) => part !== '');
  return (
    <section class="lot-head" aria-label="The lot">
      <h1>{batch.lot}</h1>
      <p class="lot-stage">
        <b>{stage}</b>
        {words.forecast !== '' && <span>{words.forecast}</span>}
      </p>
      <p class="dim">
        {words.fruit} · {batch.trace.inDrum ? 'in' : 'came from'} <Go to={{ view: 'drum', drum: batch.drum }}>{row?.name ?? batch.drum}</Go> · {facts.join(' · ')}
      </p>
      {ribbon !== null && (
        <div class="lot-ribbon">
          <CalendarAxis span={sharedSpan([ribbon], now)} now={now} zone={zone} textPx={15} />
          <div class="picture">
            <Ribbon ribbon={ribbon} span={sharedSpan([ribbon], now)} now={now} zone={zone} textPx={15} />
          </div>
        </div>
      )}
    </section>
  );
};
