import type { ActForm as Form } from '../../state/task-act.ts';
import { AcidForm } from './acid-form.tsx';
import { BrineForm } from './brine-form.tsx';
import { DistributedForm } from './distributed-form.tsx';
import type { AboutDrum, Act, ActOf } from './form-frame.ts';
import { HandledForm } from './handled-form.tsx';
import { HoldForm } from './hold-form.tsx';
import { JarPhForm } from './jar-ph-form.tsx';
import { JarredForm } from './jarred-form.tsx';
import { JarsNotedForm } from './jars-noted-form.tsx';
import { MoveForm } from './move-form.tsx';
import { MeasuredForm } from './measured-form.tsx';
import { ObservedForm } from './observed-form.tsx';
import { ReleaseForm } from './release-form.tsx';
import { SaltForm } from './salt-form.tsx';
import { SkimmedForm } from './skimmed-form.tsx';
import { SplitForm } from './split-form.tsx';
import { TastedForm } from './tasted-form.tsx';
import { TopUpForm } from './top-up-form.tsx';

export interface ActFormsProps {
  readonly form: Form;
  readonly zone: string;
  readonly before?: Act | undefined;
  readonly about: AboutDrum;
  /** What is measured first. */
  readonly quantity?: 'ph' | 'salinity' | 'temperature' | undefined;
  readonly saveWords: string;
  readonly busy: boolean;
  readonly onSave: (act: Act) => void;
}

export const formTitles = {
  'brine-changed': 'Brine changed', tasted: 'Tasted', measured: 'Measured', 'brine-topped-up': 'Topped up', skimmed: 'Skimmed', observed: 'Seen or smelled', handled: 'Handled', 'salt-added': 'Salt added', 'acid-added': 'Acid added',
  jarred: 'Jars filled', 'jar-ph': 'pH of a jar', hold: 'Hold the lot', release: 'Release', distributed: 'Jars left', 'jars-noted': 'Jars counted or gone', moved: 'Moved to another drum', split: 'Part split off',
} as const satisfies Record<Form, string>;

const as = <Kind extends Act['kind']>(kind: Kind, act: Act | undefined): ActOf<Kind> | undefined => (act?.kind === kind ? (act as ActOf<Kind>) : undefined);

/** The form of one kind of act, empty or filled with what was written before. */
export const ActForm = ({ form, before, about, quantity, ...rest }: ActFormsProps) => {
  switch (form) {
    case 'brine-changed':
      return <BrineForm {...rest} before={as('brine-changed', before)} about={about} />;
    case 'brine-topped-up':
      return <TopUpForm {...rest} before={as('brine-topped-up', before)} about={about} />;
    case 'salt-added':
      return <SaltForm {...rest} before={as('salt-added', before)} about={about} />;
    case 'acid-added':
      return <AcidForm {...rest} before={as('acid-added', before)} about={about} />;
    case 'skimmed':
      return <SkimmedForm {...rest} before={as('skimmed', before)} />;
    case 'tasted':
      return <TastedForm {...rest} before={as('tasted', before)} />;
    case 'measured':
      return <MeasuredForm {...rest} before={as('measured', before)} first={quantity} />;
    case 'observed':
      return <ObservedForm {...rest} before={as('observed', before)} />;
    case 'handled':
      return <HandledForm {...rest} before={as('handled', before)} />;
    case 'jarred':
      return <JarredForm {...rest} before={as('jarred', before)} about={about} />;
    case 'jar-ph':
      return <JarPhForm {...rest} before={as('jar-ph', before)} about={about} />;
    case 'hold':
      return <HoldForm {...rest} before={as('hold', before)} />;
    case 'release':
      return <ReleaseForm {...rest} before={as('release', before)} about={about} />;
    case 'distributed':
      return <DistributedForm {...rest} before={as('distributed', before)} about={about} />;
    case 'jars-noted':
      return <JarsNotedForm {...rest} before={as('jars-noted', before)} about={about} />;
    case 'moved':
      return <MoveForm {...rest} before={as('moved', before)} />;
    case 'split':
      return <SplitForm {...rest} before={as('split', before)} about={about} />;
  }
};
