import { useId } from 'preact/hooks';
import type { CompareGroup, LeftOutCure } from '#contract';
import type { UnitChoice } from '../../format/units.ts';
import { widestPair } from '../../state/compare/choices.ts';
import { groupWords, kindWords } from '../../state/compare/group-words.ts';
import { Go } from '../go.tsx';
import { GroupNumbers } from './group-numbers.tsx';
import { LotsKept } from './lots-kept.tsx';
import { Scatter } from './scatter.tsx';

/** Cures that may be compared with each other, what they say, and what was left out. */
export const GroupSection = ({ group, bitterness, units, zone }: { readonly group: CompareGroup; readonly bitterness: number; readonly units: UnitChoice; readonly zone: string }) => {
  const id = useId();
  const words = groupWords(group, units);
  const pair = widestPair(group);
  return (
    <section class="group" aria-labelledby={id}>
      <h2 id={id}>{kindWords(group)}</h2>
      <p class="group-words">
        <b>{words.strong}</b> <span class="dim">{words.plain}</span>
      </p>
      <Scatter group={group} units={units} />
      {pair !== null && (
        <p>
          <Go to={{ view: 'compare', pair, bitterness }} class="act-link">
            <LotsKept text={`Why did ${pair.lot} take longer than ${pair.other}?`} />
          </Go>
        </p>
      )}
      <details>
        <summary>The numbers</summary>
        <GroupNumbers group={group} bitterness={bitterness} units={units} zone={zone} />
      </details>
      {group.leftOut.length > 0 && (
        <>
          <h3>Left out, and why</h3>
          <LeftOutList cures={group.leftOut} />
        </>
      )}
    </section>
  );
};

export const LeftOutList = ({ cures }: { readonly cures: readonly LeftOutCure[] }) => (
  <ul class="left-out">
    {cures.map(({ lot, drum, text }) => (
      <li key={lot}>
        <Go to={{ view: 'drum', drum }}>{lot}</Go> <span>{text}</span>
      </li>
    ))}
  </ul>
);
