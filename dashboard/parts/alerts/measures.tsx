import type { AlertMeasures } from '#contract';
import { measureRows, ruleWords } from '../../state/alert-words.ts';
import { TableRoom } from '../compare/table-room.tsx';

interface MeasuresProps {
  readonly measures: AlertMeasures;
  readonly nameOf: (drum: string) => string;
}

/** Whether alerts still serve: too many, and nobody looks any more. */
export const Measures = ({ measures, nameOf }: MeasuresProps) => (
  <>
    <TableRoom label="Measures">
      <table>
        <caption>The measures of ISA-18.2 and IEC 62682. Their aims are for people who watch a plant; a shed should stay far below them.</caption>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">Here</th>
            <th scope="col">Aim</th>
            <th scope="col">So</th>
          </tr>
        </thead>
        <tbody>
          {measureRows(measures).map(({ name, value, aim, good }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              <td>{value}</td>
              <td class="aim">{aim}</td>
              <td>{good === null ? 'too few to say' : good ? 'well' : <b>look at this</b>}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableRoom>
    {measures.mostFrequent.length > 0 && (
      <TableRoom label="Most frequent">
        <table>
          <caption>The ten that come most often. One that leads by far wants its limit, its delay or its probe looked at.</caption>
          <thead>
            <tr>
              <th scope="col">Alert</th>
              <th scope="col">Where</th>
              <th scope="col">Times</th>
              <th scope="col">Share of all</th>
            </tr>
          </thead>
          <tbody>
            {measures.mostFrequent.map(({ rule, drum, count, share }) => (
              <tr key={`${drum ?? ''} ${rule}`}>
                <th scope="row">{ruleWords(rule)}</th>
                <td>{drum === null ? 'the shed' : nameOf(drum)}</td>
                <td>{count}</td>
                <td>
                  <span class="share-bar" aria-hidden="true">
                    <svg viewBox="0 0 100 10" preserveAspectRatio="none">
                      <rect width={share * 100} height="10" />
                    </svg>
                  </span>
                  {Math.round(share * 100)} %
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableRoom>
    )}
  </>
);
