import { useId } from 'preact/hooks';
import type { JarGate as Gate } from '#contract';
import { dayMonth, clockTime } from '../../format/time.ts';
import { jarPicture, type JarPicture } from '../../state/jar-picture.ts';
import { courseWords, discountWords, marginWords, termWords, verdictTitle, verdictWords } from '../../state/jar-words.ts';
import { TableRoom } from '../compare/table-room.tsx';
import { Mark } from '../mark.tsx';
import { useSize } from '../use-size.ts';
import './jar-gate.css';

const marks = { inside: 'inside', outside: 'danger', unknown: 'unknown' } as const satisfies Record<Gate['verdict'], string>;

/** The packed jars against their limit: the word, the picture, the next thing to measure, and every number one touch away. */
export const JarGate = ({ gate, zone }: { readonly gate: Gate; readonly zone: string }) => {
  const [holder, { width }] = useSize();
  const picture = width > 0 ? jarPicture(gate, width) : null;
  return (
    <section class="jar-gate" data-verdict={gate.verdict} aria-labelledby="jar-gate-title">
      <h2 id="jar-gate-title">pH of the packed jars</h2>
      <p class="verdict">
        <Mark state={marks[gate.verdict]} /> <b>{verdictTitle[gate.verdict]}</b>
        <span>
          {gate.margin === null
            ? `no reading that counts; limit ${gate.limit.ph.toFixed(1)}`
            : gate.verdict === 'inside'
              ? `by ${marginWords(gate.margin)}, with what is not known taken off`
              : gate.verdict === 'outside'
                ? `the limit of ${gate.limit.ph.toFixed(1)}`
                : gate.margin < 0
                  ? 'too close to the limit to say'
                  : 'the rule is not met yet'}
        </span>
      </p>
      <div class="gate-picture" ref={holder} role="img" aria-label={verdictWords(gate)}>
        {picture !== null && <Picture picture={picture} width={width} limit={gate.limit.ph} />}
      </div>
      {picture !== null && picture.key.length > 0 && (
        <ul class="gate-key">
          {picture.key.map(({ shape, words }) => (
            <li key={shape}>
              <svg viewBox="0 0 24 24" aria-hidden="true">
                <Jar x={12} y={12} shape={shape} />
              </svg>
              {words}
            </li>
          ))}
        </ul>
      )}
      {gate.next !== null && <p class="gate-next"><b>Next:</b> {gate.next.text}{gate.next.from !== null && ` From ${dayMonth(Date.parse(gate.next.from), zone)}, ${clockTime(Date.parse(gate.next.from), zone)}.`}</p>}
      <details>
        <summary>The numbers</summary>
        <Numbers gate={gate} zone={zone} />
      </details>
      <p class="dim">A guide to a limit, no approval of a food. Limit: {gate.limit.rule} ({gate.limit.source}). Local rules come first.</p>
    </section>
  );
};

const Picture = ({ picture, width, limit }: { readonly picture: JarPicture; readonly width: number; readonly limit: number }) => {
  const id = useId();
  const { height, limitX, axisY, mean } = picture;
  return (
    <svg width={width} height={height} viewBox={`0 0 ${String(width)} ${String(height)}`} aria-hidden="true">
      <defs>
        <pattern id={`${id}-over`} width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect width="8" height="8" class="over-ground" />
          <rect width="2.4" height="8" class="over-stroke" />
        </pattern>
      </defs>
      <rect x="0" y="30" width={limitX} height={axisY - 30} class="under-limit" />
      <rect x={limitX} y="30" width={width - limitX} height={axisY - 30} fill={`url(#${id}-over)`} />
      <line x1={limitX} x2={limitX} y1="26" y2={axisY + 6} class="limit-line" />
      <text x={limitX} y="17" text-anchor={limitX > width - 70 ? 'end' : 'middle'} class="limit-words">
        limit {limit.toFixed(2)}
      </text>
      {picture.jars.map(({ x, y, words, shape, side }) => (
        <g key={words}>
          <Jar x={x} y={y} shape={shape} />
          <text x={side === 'left' ? x - 18 : x + 18} y={y} text-anchor={side === 'left' ? 'end' : 'start'} class="jar-words">
            {words}
          </text>
        </g>
      ))}
      {mean !== null && (
        <g class="gate-mean">
          <line x1={mean.from} x2={mean.to} y1={mean.y} y2={mean.y} />
          <line x1={mean.from} x2={mean.from} y1={mean.y - 8} y2={mean.y + 8} />
          <line x1={mean.to} x2={mean.to} y1={mean.y - 8} y2={mean.y + 8} />
          <path d={`M${String(mean.x)} ${String(mean.y - 9)}l9 9l-9 9l-9 -9z`} />
          <text x={mean.x} y={mean.y - 18} text-anchor="middle">
            {mean.words}
          </text>
        </g>
      )}
      <line x1="0" x2={width} y1={axisY} y2={axisY} class="axis-line" />
      {picture.ticks.map(({ x, words }) => (
        <g key={words}>
          <line x1={x} x2={x} y1={axisY} y2={axisY + 6} class="axis-line" />
          <text x={x} y={axisY + 20} text-anchor="middle" class="tick-words">
            {words}
          </text>
        </g>
      ))}
    </svg>
  );
};

const Jar = ({ x, y, shape }: { readonly x: number; readonly y: number; readonly shape: JarPicture['jars'][number]['shape'] }) => {
  if (shape === 'not-counted') return <path d={`M${String(x - 7)} ${String(y - 7)}l14 14m0 -14l-14 14`} class="jar-mark cross" />;
  if (shape === 'moving') return <path d={`M${String(x)} ${String(y - 9)}l9 16h-18z`} class="jar-mark open" />;
  return <circle cx={x} cy={y} r="8" class={shape === 'steady' ? 'jar-mark' : 'jar-mark open'} />;
};

const Numbers = ({ gate, zone }: { readonly gate: Gate; readonly zone: string }) => (
  <div class="numbers">
    <TableRoom label="Readings of the packed jars">
      <table>
        <caption>Each jar by its last reading</caption>
        <thead>
          <tr>
            <th scope="col">Jar</th>
            <th scope="col">pH</th>
            <th scope="col">When</th>
            <th scope="col">What of it</th>
          </tr>
        </thead>
        <tbody>
          {gate.jars.map(({ jar, ph, at, course }) => (
            <tr key={`${jar ?? ''}${at}`}>
              <th scope="row">{jar ?? 'not named'}</th>
              <td>{ph.toFixed(2)}</td>
              <td>{dayMonth(Date.parse(at), zone)}</td>
              <td>{courseWords[course]}</td>
            </tr>
          ))}
          {gate.discounted.map(({ jar, ph, at, why }) => (
            <tr key={`${jar ?? ''}${at}${why}`}>
              <th scope="row">{jar ?? 'not named'}</th>
              <td>{ph.toFixed(2)}</td>
              <td>{dayMonth(Date.parse(at), zone)}</td>
              <td>does not count: {discountWords[why]}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </TableRoom>
    {gate.uncertainty !== null && (
      <TableRoom label="How sure the mean is">
        <table>
          <caption>How sure the mean is, in pH</caption>
          <tbody>
            {(['buffer', 'slope', 'temperature', 'jars', 'salt'] as const).map((term) => (
              <tr key={term}>
                <th scope="row">{termWords[term]}</th>
                <td>{gate.uncertainty?.[term].toFixed(3)}</td>
              </tr>
            ))}
            <tr>
              <th scope="row">together, one-sided 95 %</th>
              <td>{gate.uncertainty.expanded.toFixed(3)}</td>
            </tr>
            <tr>
              <th scope="row">of one jar by itself</th>
              <td>{gate.uncertainty.ofOneJar.toFixed(3)}</td>
            </tr>
            {gate.margin !== null && (
              <tr>
                <th scope="row">margin, decided by the {gate.decidedBy === 'worst-jar' ? 'worst jar' : 'mean'}</th>
                <td>{marginWords(gate.margin)}</td>
              </tr>
            )}
          </tbody>
        </table>
      </TableRoom>
    )}
  </div>
);
