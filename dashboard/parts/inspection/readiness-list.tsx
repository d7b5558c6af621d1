import type { Readiness, ReadinessCheck } from '#contract';
import { levelMeaning, levelWords, placeOf } from '../../state/inspection-words.ts';
import { Go } from '../go.tsx';

/** What is open, the weightiest first, each with the place to mend it; then what could not be worked out; then what had nothing open. */
export const ReadinessList = ({ readiness }: { readonly readiness: Readiness }) => {
  const of = (state: ReadinessCheck['state']): ReadinessCheck[] => readiness.checks.filter((check) => check.state === state);
  const [open, notRecorded, nothing] = [of('open'), of('not-recorded'), of('nothing-open')];
  return (
    <>
      {open.length > 0 && (
        <section aria-labelledby="readiness-open">
          <h2 id="readiness-open">Open</h2>
          <ul>
            {open.map((check) => (
              <li key={check.id} class="check-row">
                <span class="level" data-level={check.level} title={levelMeaning[check.level]}>
                  {levelWords[check.level]}
                </span>
                <h3>
                  {check.what} <span class="dim">{check.id}</span>
                </h3>
                <ul class="findings">
                  {check.findings.map((finding, index) => (
                    <FindingLine key={`${finding.lot ?? ''} ${String(index)}`} finding={finding} />
                  ))}
                </ul>
              </li>
            ))}
          </ul>
        </section>
      )}
      {notRecorded.length > 0 && (
        <section aria-labelledby="readiness-unknown">
          <h2 id="readiness-unknown">Not recorded</h2>
          <p class="dim">These could not be worked out. Nobody can say that nothing is open in them.</p>
          <ul class="quiet-list">
            {notRecorded.map(({ id, what, why }) => (
              <li key={id}>
                {what} <span class="dim">{id}</span>: {why}
              </li>
            ))}
          </ul>
        </section>
      )}
      {nothing.length > 0 && (
        <details>
          <summary>Nothing open in {nothing.length} checks</summary>
          <ul class="quiet-list">
            {nothing.map(({ id, what }) => (
              <li key={id}>
                {what} <span class="dim">{id}</span>: none
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
};

const FindingLine = ({ finding }: { readonly finding: ReadinessCheck['findings'][number] }) => {
  const place = placeOf(finding);
  return (
    <li>
      <span>
        {finding.lot !== null && <b>{finding.lot} </b>}
        {finding.text}
      </span>
      <span class="dim">{finding.act}</span>
      {place !== null && <Go to={place.to}>{place.words} ›</Go>}
    </li>
  );
};
