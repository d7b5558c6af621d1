import { useEffect } from 'preact/hooks';
import type { BatchDetail, Drum, Task } from '#contract';
import { lastStrength } from '../state/from-story.ts';
import { suggestedBrine } from '../state/suggested-brine.ts';
import { isMeasured } from '../state/value.ts';
import type { AboutDrum } from './forms/form-frame.ts';
import { useScreen } from './screen.ts';

/** What the forms may be filled with, from what is known of a drum. */
export const aboutDrum = (drum: Drum | null, batch: BatchDetail | null, task: Task | null = drum?.nextTask ?? null): AboutDrum => {
  const temperature = drum?.now.temperature;
  return {
    batch,
    suggested: drum === null ? { brineL: 0, saltG: 0 } : suggestedBrine(drum, batch, task),
    sameBrineGPerL: lastStrength(batch, drum?.batch ?? null),
    temperatureC: temperature !== undefined && isMeasured(temperature) && temperature.quality === 'good' ? temperature.value : undefined,
  };
};

/** The same for a drum of the wall, with its story as far as it was fetched ahead. For a task it is about its lot, which may be in jars while another is in the drum. */
export const useAbout = (id: string, task?: Task | null): AboutDrum => {
  const { wall, stories } = useScreen();
  const drum = wall.wall.value?.drums.find((each) => each.id === id) ?? null;
  const lot = task?.lot ?? drum?.batch?.lot ?? '';
  const revision = drum?.revision ?? 0;
  useEffect(() => {
    if (lot !== '') void stories.want(lot, revision);
  }, [stories, lot, revision]);
  return aboutDrum(task == null || drum?.batch?.lot === lot ? drum : null, stories.batches.value.get(lot) ?? null, task ?? drum?.nextTask ?? null);
};
