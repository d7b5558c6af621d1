interface OptionsProps<Value extends string> {
  readonly legend: string;
  readonly name: string;
  readonly options: readonly Value[];
  readonly words?: Readonly<Record<Value, string>>;
  readonly chosen: Value;
  readonly onChoose: (value: Value) => void;
}

/** One of a few, all in sight, each a large target. */
export const Options = <Value extends string>({ legend, name, options, words, chosen, onChoose }: OptionsProps<Value>) => (
  <fieldset class="choice">
    <legend>{legend}</legend>
    {options.map((option) => (
      <label key={option}>
        <input type="radio" name={name} checked={option === chosen} onChange={() => onChoose(option)} />
        <span>{words?.[option] ?? option}</span>
      </label>
    ))}
  </fieldset>
);
