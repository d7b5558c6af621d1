import type { Schedule } from '#contract';
import { cureStyles, type CureStyle } from '#domain/cure/batch.ts';
import { scheduleKey } from '#domain/cure/own-schedules.ts';
import { changeSteps, media, type Medium, type Steps } from '#domain/cure/schedules.ts';
import { byUser } from '#domain/journal/entry.ts';
import { notFound, unfit } from '../errors.ts';
import { personOf } from '../shed/shape.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

/** Schedules of changes: the defaults with their sources, and what the site has set in their place. */
export const scheduleRoutes = (model: ShedModel): Handlers<'schedules' | 'setSchedule'> => {
  const scheduleOf = (style: CureStyle, medium: Medium, usual: Steps): Schedule => {
    const own = model.shed().schedules.get(scheduleKey(style, medium));
    return {
      style,
      medium,
      steps: shapeOf(own?.steps ?? usual),
      own: own !== undefined,
      setBy: own === undefined ? null : personOf(own.by),
      setAt: own?.at ?? null,
      usual: shapeOf(usual),
      caution: medium === 'water' ? waterCaution : null,
    };
  };
  return {
    schedules: () => ({
      schedules: cureStyles.flatMap((style) => media.flatMap((medium) => {
        const usual = changeSteps[style][medium];
        return usual === null ? [] : [scheduleOf(style, medium, usual)];
      })),
    }),
    setSchedule: ({ params, body, user }) => {
      const style = cureStyles.find((each) => each === params.style);
      if (style === undefined) throw notFound(`cure style ${params.style ?? ''}`);
      const usual = changeSteps[style][body.medium];
      if (usual === null) throw unfit('medium', `${body.medium} is not changed in the style ${style}: a brine that is kept makes its own acid`);
      const steps = body.steps === null ? null : { ...body.steps, source: body.steps.source ?? `set by ${user.name}` };
      model.write([{ who: byUser(user.name), kind: 'schedule-set', body: { style, medium: body.medium, steps } }]);
      return scheduleOf(style, body.medium, usual);
    },
  };
};

const waterCaution = 'Plain water holds nothing back. How long it may stand is a limit of its own, whatever the schedule says.';

const shapeOf = ({ afterDays, thenEveryDays, source }: Steps): Schedule['steps'] => ({ afterDays: [...afterDays], thenEveryDays: [...thenEveryDays], source });
