import { useId } from 'preact/hooks';
import type { Season } from '#contract';
import { dayMonth } from '../../format/time.ts';
import type { UnitChoice } from '../../format/units.ts';
import { flowPicture, nodeWidth, type Staying } from '../../state/season/flow.ts';
import { counted, kgText, leavingWords, percent, stayingWords } from '../../state/season/season-words.ts';
import { useSize } from '../use-size.ts';

const wide = 760;

/** Picks → drums → jars → sold, as wide as they weigh, with what left on the way. */
export const SeasonFlow = ({ ledger, units, zone }: { readonly ledger: NonNullable<Season['ledger']>; readonly units: UnitChoice; readonly zone: string }) => {
  const { totals, rows } = ledger;
  const [ref, { width }] = useSize();
  const id = useId();
  const isWide = width >= wide;
  const room = { width: Math.max(0, width - 2), height: isWide ? 400 : 310, head: 66, foot: isWide ? 84 : 30 };
  const { nodes, slices, bands, staying, leaving } = flowPicture(totals, rows, room);
  const soldHead = isWide ? 26 : 92 + (nodes.find(({ column: index }) => index === 3)?.height ?? 0);
  const kg = (value: number): string => kgText(value, units);
  const heads = [
    { strong: kg(totals.pickedKg), words: counted(totals.picks, 'pick') },
    { strong: kg(totals.drumKg), words: 'into drums' },
    { strong: counted(totals.jars, 'jar'), words: totals.jars > 0 ? kg(totals.jarredKg) : 'filled so far' },
    { strong: counted(totals.soldJars, 'jar'), words: totals.soldJars > 0 ? 'gone out' : 'gone out so far' },
  ];
  const column = (index: number): number => (index * (room.width - nodeWidth)) / 3;
  const stays = (what: Staying): string => (what === 'curing' ? kg(totals.curingKg) : counted(totals.leftJars, 'jar'));
  const key = [...staying.map(({ what }) => ({ what, amount: stays(what), words: stayingWords[what] })), ...leaving.map(({ what, kg: gone }) => ({ what, amount: kg(gone), words: leavingWords[what] }))];
  return (
    <div class="flow">
      <div class="flow-room" ref={ref} style={{ height: `${String(room.height)}px` }}>
        {width > 0 && (
          <svg role="img" aria-labelledby={id} width={room.width} height={room.height} viewBox={`0 0 ${String(room.width)} ${String(room.height)}`}>
            <title id={id}>{`Where the fruit went: ${heads.map(({ strong, words }) => `${strong} ${words}`).join(', ')}${key.map(({ amount, words }) => `; ${amount} ${words}`).join('')}`}</title>
            <defs>
              <pattern id={`${id}-curing`} width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
                <rect class="pattern-ground" width="9" height="9" />
                <rect class="pattern-line" width="3.5" height="9" />
              </pattern>
              <pattern id={`${id}-shelf`} width="8" height="8" patternUnits="userSpaceOnUse">
                <rect class="pattern-ground" width="8" height="8" />
                <circle class="pattern-line" cx="4" cy="4" r="1.9" />
              </pattern>
            </defs>
            {slices.map(({ lot, path }) => (
              <path key={lot} class="flow-band" d={path} />
            ))}
            {isWide && slices.map(({ lot, labelY, height }) => {
              const row = rows.find((each) => each.lot === lot);
              return height < 18 || row === undefined ? null : (
                <text key={lot} class="flow-slice" x={nodeWidth + 12} y={labelY + 6}>
                  {dayMonth(Date.parse(row.pickedAt), zone)}
                  {row.variety === null ? '' : `, ${row.variety}`}
                </text>
              );
            })}
            {bands.map(({ path }) => (
              <path key={path} class="flow-band" d={path} />
            ))}
            {leaving.map(({ what, path }) => (
              <path key={what} class={`flow-leaving ${what}`} d={path} />
            ))}
            {staying.map(({ what, path }) => (
              <path key={what} class="flow-staying" d={path} fill={`url(#${id}-${what})`} />
            ))}
            {nodes.map(({ column: index, x, top, height }) => (
              <rect key={index} class="flow-node" x={x} y={top} width={nodeWidth} height={height} />
            ))}
            {heads.map(({ strong, words }, index) => (
              <text key={index} class="flow-head" x={index === 3 ? room.width : column(index)} text-anchor={index === 3 ? 'end' : 'start'}>
                <tspan class="strong" x={index === 3 ? room.width : column(index)} y={index === 3 ? soldHead : 26}>
                  {strong}
                </tspan>
                <tspan x={index === 3 ? room.width : column(index)} y={index === 3 ? soldHead + 24 : 50}>
                  {words}
                </tspan>
              </text>
            ))}
            {isWide && staying.map(({ what, labelX, labelY, height }) => (
              <text key={what} class="flow-label" x={labelX} y={height < 40 ? labelY + 6 : labelY - 4}>
                <tspan class="strong">{stays(what)}</tspan> {height < 40 ? stayingWords[what] : ''}
                {height >= 40 && (
                  <tspan x={labelX} y={labelY + 18}>
                    {stayingWords[what]}
                  </tspan>
                )}
              </text>
            ))}
            {isWide && leaving.map(({ what, kg: gone, labelX, labelY }) => (
              <text key={what} class="flow-label" text-anchor="middle" x={labelX} y={labelY + 22}>
                <tspan class="strong">{kg(gone)}</tspan>
                <tspan x={labelX} y={labelY + 44}>
                  {leavingWords[what]}
                </tspan>
              </text>
            ))}
          </svg>
        )}
      </div>
      {!isWide && (
        <ul class="flow-key">
          {key.map(({ what, amount, words }) => (
            <li key={what}>
              <span class={`swatch ${what}`} aria-hidden="true" /> <b>{amount}</b> {words}
            </li>
          ))}
        </ul>
      )}
      {totals.unaccountedKg < 0 && (
        <p class="dim">
          The jars hold {kg(-totals.unaccountedKg)} more than went into their drums{totals.unaccountedShare === null ? '' : ` (${percent(-totals.unaccountedShare)})`}: salt and water taken up, fuller jars than assumed, or a weight written wrong.
        </p>
      )}
    </div>
  );
};
