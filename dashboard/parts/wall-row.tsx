import type { Wall } from '#contract';
import { nextFor } from '../state/next.ts';
import { batchWords } from '../state/batch-words.ts';
import type { WallScale } from '../state/wall-scale.ts';
import type { UnitChoice } from '../format/units.ts';
import { dayMonth } from '../format/time.ts';
import { Flag } from './flag.tsx';
import { Go } from './go.tsx';
import { DueMark } from './mark.tsx';
import { Ribbon } from './ribbon/ribbon.tsx';
import type { Axis } from './ribbon/axis.ts';
import { useScreen } from './screen.ts';
import { ageWords, BigTemperature, phWords } from './value.tsx';

interface RowProps {
  readonly drum: Wall['drums'][number];
  readonly span: Omit<Axis, 'width'>;
  readonly minute: number;
  readonly zone: string;
  readonly scale: WallScale;
  readonly live: boolean;
  readonly units: UnitChoice;
}

/** One drum: state, what is in it, how warm it is, the whole cure, what it wants next. */
export const WallRow = ({ drum, span, minute, zone, scale, live, units }: RowProps) => {
  const { batch, ribbon } = drum;
  const words = batchWords(batch, zone);
  const next = nextFor(drum, { now: minute, zone, units });
  return (
    <li class="row" data-state={drum.flag.state}>
      <Flag drum={drum} />
      <div class="who">
        <h2 class={drum.name.length > 15 ? 'long' : undefined}>
          <Go to={{ view: 'drum', drum: drum.id }}>{drum.name}</Go>
        </h2>
        <p class="fruit dim">{words.fruit}</p>
        {words.lot !== '' && <p class="lot">{words.lot}</p>}
      </div>
      <Reading drum={drum} zone={zone} live={live} units={units} />
      <div class="picture">
        {ribbon === null ? <p class="nothing">{batch === null ? 'nothing is curing here' : 'no cure to draw yet'}</p> : <Ribbon ribbon={ribbon} span={span} now={minute} zone={zone} textPx={scale.textPx} words={scale.kind === 'rows'} />}
      </div>
      <div class="next">
        {next.title !== '' && <p class="next-title">
          {next.mark !== 'none' && (
            <>
              <DueMark />
              <span class="hidden-words">{next.mark === 'late' ? 'overdue: ' : 'due: '}</span>
            </>
          )}
          {next.title}
        </p>}
        {next.detail !== '' && <p class={next.mark === 'late' ? 'next-detail late' : 'next-detail'}>{next.detail}</p>}
        {scale.kind === 'list' && words.forecast !== '' && <p class="next-detail">{words.forecast}</p>}
      </div>
    </li>
  );
};

/** Apart from the row, so that a ticking age draws only itself. */
const Reading = ({ drum, zone, live, units }: Pick<RowProps, 'drum' | 'zone' | 'live' | 'units'>) => {
  const { clock } = useScreen();
  const now = clock.now.value;
  const jarredAt = drum.batch?.jarredAt ?? null;
  const ph = jarredAt === null ? phWords(drum.now.ph, now) : null;
  return (
    <div class="reading">
      <BigTemperature value={drum.now.temperature} units={units} emptied={jarredAt !== null} />
      <p class="age dim">{jarredAt === null ? [ageWords(drum.now.temperature, now, zone, live), ph].filter((part) => part !== null).join(' · ') : `emptied ${dayMonth(Date.parse(jarredAt), zone)}`}</p>
    </div>
  );
};
