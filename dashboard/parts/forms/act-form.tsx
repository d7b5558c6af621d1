import type { ActForm as Form } from '../../state/task-act.ts';
import { BrineForm } from './brine-form.tsx';
import type { Act, ActOf } from './form-frame.ts';
import { MeasuredForm } from './measured-form.tsx';
import { ObservedForm } from './observed-form.tsx';
import { TastedForm } from './tasted-form.tsx';

export interface ActFormsProps {
  readonly form: Form;
  readonly zone: string;
  readonly before?: Act | undefined;
  readonly suggested: { readonly brineL: number; readonly saltG: number };
  readonly temperatureC: number | undefined;
  readonly saveWords: string;
  readonly busy: boolean;
  readonly onSave: (act: Act) => void;
}

export const formTitles = { 'brine-changed': 'Brine changed', tasted: 'Tasted', measured: 'Measured', observed: 'Seen or smelled' } as const satisfies Record<Form, string>;

const as = <Kind extends Act['kind']>(kind: Kind, act: Act | undefined): ActOf<Kind> | undefined => (act?.kind === kind ? (act as ActOf<Kind>) : undefined);

/** The form of one kind of act, empty or filled with what was written before. */
export const ActForm = ({ form, before, suggested, temperatureC, ...rest }: ActFormsProps) => {
  switch (form) {
    case 'brine-changed':
      return <BrineForm {...rest} before={as('brine-changed', before)} suggested={suggested} temperatureC={temperatureC} />;
    case 'tasted':
      return <TastedForm {...rest} before={as('tasted', before)} />;
    case 'measured':
      return <MeasuredForm {...rest} before={as('measured', before)} />;
    case 'observed':
      return <ObservedForm {...rest} before={as('observed', before)} />;
  }
};
