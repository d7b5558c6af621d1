import { TableRoom } from '../compare/table-room.tsx';
import type { TreeYears } from '#contract';
import type { UnitChoice } from '../../format/units.ts';
import { kgText, swingWords } from '../../state/season/season-words.ts';

const most = 5;
const barHeight = 44;
const barWidth = 22;
const loadShare = 1 / 3;

/** What each tree bore, a bar a year: full in its on years, open in its off years. */
export const Trees = ({ trees, units }: { readonly trees: readonly TreeYears[]; readonly units: UnitChoice }) => {
  const heaviest = Math.max(1, ...trees.flatMap(({ years }) => years.map(({ kg }) => kg ?? 0)));
  const last = Math.max(...trees.flatMap(({ years }) => years.map(({ year }) => year)));
  const shown = Array.from({ length: most }, (_, index) => last - most + 1 + index).filter((year) => trees.some(({ years }) => years.some((one) => one.year === year)));
  const varieties = [...new Set(trees.map(({ tree }) => varietyOf(tree)))];
  return (
    <div class="trees-by-variety">
      {varieties.map((variety) => (
        <TreeTable key={variety} name={variety} trees={trees.filter(({ tree }) => varietyOf(tree) === variety)} shown={shown} heaviest={heaviest} units={units} />
      ))}
    </div>
  );
};

/** The name without its number. */
const varietyOf = (tree: string): string => tree.replace(/\s*\d+$/, '') || 'Trees';

interface TreeTableProps {
  readonly name: string;
  readonly trees: readonly TreeYears[];
  readonly shown: readonly number[];
  readonly heaviest: number;
  readonly units: UnitChoice;
}

const TreeTable = ({ name, trees, shown, heaviest, units }: TreeTableProps) => (
  <TableRoom label={`${name} by year`}>
    <table class="trees">
      <thead>
        <tr>
          <th scope="col">Tree</th>
          {shown.map((year) => (
            <th key={year} scope="col" class="bar-cell">
              {year}
            </th>
          ))}
          <th scope="col" class="text-cell">
            Next year
          </th>
          <th scope="col" class="text-cell">
            Swing
          </th>
        </tr>
      </thead>
      <tbody>
        {trees.map((tree) => (
          <tr key={tree.tree}>
            <th scope="row">{tree.tree}</th>
            {shown.map((year) => (
              <td key={year} class="bar-cell">
                <YearBar one={tree.years.find((each) => each.year === year)} heaviest={heaviest} units={units} />
              </td>
            ))}
            <td class="text-cell">
              <NextYear tree={tree} />
            </td>
            <td class="text-cell">{swingWords(tree)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  </TableRoom>
);

const NextYear = ({ tree: { nextYear, alternateBearing } }: { readonly tree: TreeYears }) =>
  nextYear === null ? (
    <>{alternateBearing === null ? 'not known' : 'as before'}</>
  ) : (
    <span class="next-bearing">
      <svg aria-hidden="true" width="12" height="16" viewBox="0 0 12 16">
        <rect class={nextYear} x="1" y={nextYear === 'on' ? 1 : 8} width="10" height={nextYear === 'on' ? 14 : 7} />
      </svg>{' '}
      {nextYear}
    </span>
  );

const loadWords = ['none', 'little', 'fair', 'heavy'] as const;

const YearBar = ({ one, heaviest, units }: { readonly one: TreeYears['years'][number] | undefined; readonly heaviest: number; readonly units: UnitChoice }) => {
  if (one === undefined) return <span class="dim">–</span>;
  const share = one.kg === null ? (one.load ?? 0) * loadShare : one.kg / heaviest;
  const height = Math.max(2, share * barHeight);
  return (
    <span class="year-bar">
      <svg aria-hidden="true" width={barWidth} height={barHeight} viewBox={`0 0 ${String(barWidth)} ${String(barHeight)}`}>
        <rect class={one.bearing ?? 'unknown'} x={1.5} y={barHeight - height + 1} width={barWidth - 3} height={Math.max(1, height - 2)} />
      </svg>
      <span>
        {one.kg === null ? loadWords[one.load ?? 0] : kgText(Math.round(one.kg * 10) / 10, units)}
        {one.from === 'shared' && <abbr title="its even part of fruit weighed together">*</abbr>}
        {one.bearing !== null && <span class="hidden-words"> {one.bearing}</span>}
      </span>
    </span>
  );
};
