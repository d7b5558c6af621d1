import { boxLabels, boxNames, pouredOf, type BoxName, type Boxes, type SheetStop, type Told } from '../../state/sheet.ts';

interface SheetDrumProps {
  readonly stop: SheetStop;
  readonly boxes: Boxes;
  readonly told: Told;
  /** Faults are told when somebody has asked to write, not while a figure is half typed. */
  readonly showFaults: boolean;
  readonly timeAbove: string | null;
  readonly onChange: (boxes: Boxes) => void;
}

/** The boxes of one drum, in the order and with the numbers they have on the paper. */
export const SheetDrum = ({ stop, boxes, told, showFaults, timeAbove, onChange }: SheetDrumProps) => (
  <section class="sheet-drum" aria-labelledby={`sheet-${stop.lot}`}>
    <h2 id={`sheet-${stop.lot}`}>
      <span class="sheet-number">{stop.number}</span> {stop.name} <span class="dim">{stop.lot}</span>
    </h2>
    <div class="sheet-boxes">
      {boxNames.map((name, index) => {
        const fault = showFaults ? told.faults.find(({ box }) => box === name) : undefined;
        const id = `${stop.lot}-${name}`;
        return (
          <div key={name} class="sheet-box">
            <label for={id}>
              <b>{`${String(stop.number)}.${String(index + 1)}`}</b> {boxLabels[name]}
            </label>
            <input
              id={id} type="text" inputMode={modes[name]} autocomplete="off" maxLength={name === 'who' ? 40 : 8} value={boxes[name] ?? ''} placeholder={name === 'time' ? (timeAbove ?? '') : ''}
              aria-invalid={fault !== undefined} aria-describedby={fault === undefined ? undefined : `${id}-fault`}
              onInput={(event) => onChange({ ...boxes, [name]: event.currentTarget.value })}
            />
            {fault !== undefined && (
              <p id={`${id}-fault`} class="fault">
                {fault.words}
              </p>
            )}
          </div>
        );
      })}
    </div>
    <Poured stop={stop} boxes={boxes} told={told} onChange={onChange} />
  </section>
);

const modes: Readonly<Record<BoxName, 'decimal' | 'numeric' | 'text'>> = {
  temperature: 'text', ph: 'decimal', salt: 'decimal', taste: 'decimal', litres: 'decimal', saltIn: 'decimal', time: 'text', who: 'text',
};

/** The paper does not say whether litres were a change or a topping up; the screen says what it takes them for. */
const Poured = ({ stop, boxes, told, onChange }: Pick<SheetDrumProps, 'stop' | 'boxes' | 'told' | 'onChange'>) => {
  const entry = told.acts.map((act) => act.entry).find(({ kind }) => kind === 'brine-changed' || kind === 'brine-topped-up');
  if (entry === undefined || !('saltGPerL' in entry)) return null;
  const poured = pouredOf(boxes, stop);
  const strength = entry.saltGPerL === 0 ? 'plain water' : `${String(Math.round(entry.saltGPerL))} g salt per litre`;
  return (
    <div class="sheet-poured" role="group" aria-label={`What the litres in ${stop.name} were`}>
      <p>
        {String(entry.brineL)} L, {strength}
        {(boxes.saltIn ?? '').trim() === '' && ', as last time'}:
      </p>
      <div class="tabs">
        {(['change', 'top-up'] as const).map((each) => (
          <button key={each} type="button" aria-pressed={poured === each} onClick={() => onChange({ ...boxes, poured: each })}>
            {each === 'change' ? 'the change' : 'topped up'}
          </button>
        ))}
      </div>
    </div>
  );
};
