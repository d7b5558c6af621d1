import type { DrumHeat, HeatPlan } from '#contract';
import { clockTime, weekdayShort } from '../../format/time.ts';
import { inWords, showLimit, showTemperature, type UnitChoice } from '../../format/units.ts';
import { heatState, heatWord, paceWords, tableRows } from '../../state/heat/heat-words.ts';
import { TableRoom } from '../compare/table-room.tsx';
import { Go } from '../go.tsx';
import { HeatPicture } from './heat-picture.tsx';

interface DrumHeatProps {
  readonly heat: DrumHeat;
  readonly air: HeatPlan['air'];
  readonly now: number;
  readonly zone: string;
  readonly units: UnitChoice;
}

/** One drum: what is ahead of it in words and in a picture, what helps, and the numbers a touch away. */
export const DrumHeatSection = ({ heat, air, now, zone, units }: DrumHeatProps) => {
  const state = heatState(heat);
  const unit = units.temperature === 'F' ? '°F' : '°C';
  return (
    <section class="drum-heat" data-state={state} aria-labelledby={`heat-${heat.drum}`}>
      <header>
        <h2 id={`heat-${heat.drum}`}>
          <Go to={{ view: 'drum', drum: heat.drum }}>{heat.name}</Go>
        </h2>
        <span class="heat-word">{heatWord[state]}</span>
      </header>
      <p class="heat-text">{heat.text}</p>
      {heat.helps.length > 0 && (
        <ul class="helps" aria-label="What helps">
          {heat.helps.map(({ kind, text }) => (
            <li key={kind}>{text}</li>
          ))}
        </ul>
      )}
      {heat.past.length > 0 && <HeatPicture heat={heat} air={air} now={now} zone={zone} units={units} />}
      {heat.unknown === null && (
        <details>
          <summary>The numbers</summary>
          <p class="dim">{paceWords(heat)}</p>
          <p class="dim">
            Limits: {heat.limits.map(({ limitC, side, source }) => `${side === 'high' ? 'at most' : 'at least'} ${inWords(showLimit(limitC, 'Cel', units))} (${source})`).join('; ')}.
          </p>
          <TableRoom label={`${heat.name}, the next 48 hours`}>
            <table>
              <caption>Foretold, in {unit}; low and high hold the drum four times out of five</caption>
              <thead>
                <tr>
                  <th scope="col">When</th>
                  <th scope="col">Brine</th>
                  <th scope="col">Low</th>
                  <th scope="col">High</th>
                </tr>
              </thead>
              <tbody>
                {tableRows(heat).map(({ t, temperatureC, low, high }) => (
                  <tr key={t}>
                    <th scope="row">
                      {weekdayShort(t, zone)} {clockTime(t, zone)}
                    </th>
                    {[temperatureC, low, high].map((value, column) => (
                      <td key={column}>{showTemperature(value, units).text}</td>
                    ))}
                  </tr>
                ))}
              </tbody>
            </table>
          </TableRoom>
        </details>
      )}
    </section>
  );
};
