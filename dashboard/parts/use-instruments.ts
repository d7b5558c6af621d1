import { useEffect, useState } from 'preact/hooks';
import { useScreen } from './screen.ts';

type Quantity = 'ph' | 'salinity' | 'temperature';

/** What was measured with last at this screen: a round is walked with one thermometer and one meter. */
export const lastInstrument = new Map<Quantity, string>();

/** The instruments of the shed that measure this; none while there is no connection, and any other name may be typed. */
export const useInstruments = (quantity: Quantity): readonly string[] => {
  const { call } = useScreen();
  const [names, setNames] = useState<readonly string[]>([]);
  useEffect(() => {
    let gone = false;
    void call('instruments').then((answer) => {
      if (!gone && answer.ok) setNames(answer.value.instruments.filter(({ uses }) => uses.some(({ measured }) => measured === quantity)).map(({ id }) => id));
    });
    return () => {
      gone = true;
    };
  }, [call, quantity]);
  return names;
};
