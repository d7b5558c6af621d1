import { useEffect, useState } from 'preact/hooks';
import { withSample, type Sample } from '../../state/probes/steady.ts';
import { useScreen } from '../screen.ts';

const askEveryMs = 1_000;

/** What a channel of a probe says while somebody waits: the readings as they come, the last two minutes of them. */
export const useLiveValue = (probe: string | null, channel: string | null): readonly Sample[] => {
  const { call } = useScreen();
  const [samples, setSamples] = useState<readonly Sample[]>([]);
  useEffect(() => {
    setSamples([]);
    if (probe === null || channel === null) return undefined;
    const ask = (): void =>
      void call('probes').then((answer) => {
        const last = answer.ok ? answer.value.probes.find(({ id }) => id === probe)?.channels.find((each) => each.channel === channel)?.last : null;
        if (last?.quality === 'good') setSamples((before) => withSample(before, { at: Date.parse(last.at), value: last.value }));
      });
    ask();
    const timer = setInterval(ask, askEveryMs);
    return () => clearInterval(timer);
  }, [call, probe, channel]);
  return samples;
};
