import { useEffect, useState } from 'preact/hooks';
import type { Site } from '#contract';
import { failureWords } from '../forms/form-frame.ts';
import { CopyLine } from '../copy-line.tsx';
import { useScreen } from '../screen.ts';
import { brokerHost } from '../../state/first-steps.ts';

/** A password of its own for a probe: made here, told once, taken away again. */
export const ProbePassword = ({ probe, hasPassword, onChanged }: { readonly probe: string; readonly hasPassword: boolean; readonly onChanged: () => void }) => {
  const { call } = useScreen();
  const [site, setSite] = useState<Site | null>(null);
  const [told, setTold] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  useEffect(() => {
    void call('site').then((answer) => answer.ok && setSite(answer.value));
  }, [call]);
  const make = async (): Promise<void> => {
    const answer = await call('setProbePassword', { params: { probe } });
    if (answer.ok) setTold(answer.value.password);
    setProblem(answer.ok ? null : failureWords(answer.error));
    if (answer.ok) onChanged();
  };
  const remove = async (): Promise<void> => {
    const answer = await call('removeProbePassword', { params: { probe } });
    setProblem(answer.ok ? null : failureWords(answer.error));
    if (!answer.ok) return;
    setTold(null);
    onChanged();
  };
  const host = site === null ? '' : brokerHost(site, location.hostname);
  return (
    <div class="act-form">
      {site?.mqtt.external === true && <p class="caution">This shed uses a broker of its own choice: names and passwords are set there. What is made here counts on the built-in broker alone.</p>}
      {told === null ? (
        <p>{hasPassword ? `${probe} has a password. It cannot be read again; a new one takes its place.` : `${probe} has none. With one, nobody else can speak for it, and it can speak for no other.`}</p>
      ) : (
        <>
          <p role="status">
            <b>This is told once.</b> Write it into the probe now. Its name is <code>{probe}</code>.
          </p>
          <CopyLine line={told} label="Password" />
          {site !== null && (
            <>
              <p>The same with the Mosquitto clients:</p>
              <CopyLine line={`mosquitto_pub -h ${host} -p ${String(site.mqtt.port)} -u ${probe} -P ${told} -t brineward/${site.site}/probe/${probe}/temperature -m 18.4`} label="Command" />
            </>
          )}
        </>
      )}
      {problem !== null && <p class="problem" role="alert">{problem}</p>}
      <button type="button" class="main-act" onClick={() => void make()}>
        {hasPassword || told !== null ? 'Make a new one' : 'Make a password'}
      </button>
      {hasPassword && (
        <button type="button" class="quiet" onClick={() => void remove()}>
          Take the password away
        </button>
      )}
      <p class="dim">From the first password on, only this computer may send without one. Give each probe in the shed its own.</p>
    </div>
  );
};
