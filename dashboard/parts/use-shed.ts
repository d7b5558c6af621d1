import { useEffect } from 'preact/hooks';
import { useScreen } from './screen.ts';

/** Where acts are written: fetches the stories of all batches in drums ahead, and again where one has grown, so that forms are filled also without signal. */
export const useShed = (wanted: boolean): void => {
  const { wall, stories, link } = useScreen();
  const drums = wall.wall.value?.drums ?? [];
  const marks = drums.flatMap(({ batch, revision }) => (batch === null || batch.jarredAt !== null ? [] : [`${batch.lot} ${String(revision)}`])).join('\n');
  const lost = link.connection.value.state === 'lost';
  useEffect(() => {
    if (!wanted || lost || marks === '') return;
    for (const mark of marks.split('\n')) {
      const [lot = '', revision = ''] = mark.split(' ');
      void stories.want(lot, Number(revision));
    }
  }, [wanted, marks, lost, stories]);
};
