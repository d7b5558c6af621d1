import { useEffect, useState } from 'preact/hooks';
import { channelNames, channels, isChannelName, unitsOf, type ImportPreview, type ImportUploaded, type LoggerMappingGiven } from '#contract';
import { clockTime, dayMonth } from '../../format/time.ts';
import { inWords, showQuantity } from '../../format/units.ts';
import { slugFrom } from '../../state/first-steps.ts';
import { columnWords, delimiterWords, formatWords, unitWords } from '../../state/probes/file-words.ts';
import { failureWords } from '../forms/form-frame.ts';
import { TableRoom } from '../compare/table-room.tsx';
import { useScreen } from '../screen.ts';

interface MapFileProps {
  readonly uploaded: ImportUploaded;
  readonly probes: readonly string[];
  readonly zone: string;
  readonly onStarted: (id: string) => void;
  readonly onDropped: () => void;
}

/** What stands where in the file, with the first rows as they will be taken in: nothing is written before they look right. */
export const MapFile = ({ uploaded, probes, zone, onStarted, onDropped }: MapFileProps) => {
  const { call, settings } = useScreen();
  const [mapping, setMapping] = useState<Omit<LoggerMappingGiven, 'probe'>>(uploaded.guess);
  const [probe, setProbe] = useState(slugFrom(uploaded.file.replace(/\.[^.]*$/, '')) || 'logger');
  const [preview, setPreview] = useState<ImportPreview | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const { id } = uploaded;
  useEffect(() => {
    let gone = false;
    const timer = setTimeout(() => {
      void call('lookAtImport', { params: { id }, body: mapping }).then((answer) => {
        if (gone) return;
        setProblem(answer.ok ? null : failureWords(answer.error));
        setPreview(answer.ok ? answer.value : null);
      });
    }, 200);
    return () => {
      gone = true;
      clearTimeout(timer);
    };
  }, [call, id, mapping]);

  const rows = preview?.rows ?? uploaded.rows;
  const width = Math.max(...rows.map((cells) => cells.length), 1);
  const columns = Array.from({ length: width }, (_, column) => column);
  const units = settings.units.value;
  const change = (over: Partial<typeof mapping>): void => setMapping({ ...mapping, ...over });
  const roleOf = (column: number): 'time' | 'value' | undefined => (mapping.timeColumns.includes(column) ? 'time' : column === mapping.valueColumn ? 'value' : undefined);
  const good = preview?.understood.filter((row) => 'at' in row).length ?? 0;
  const start = async (): Promise<void> => {
    setBusy(true);
    const answer = await call('startImport', { params: { id }, body: { ...mapping, probe } });
    setBusy(false);
    if (answer.ok) onStarted(answer.value.id);
    else setProblem(failureWords(answer.error));
  };
  const pick = <Value extends string>(label: string, value: Value, options: readonly (readonly [Value, string])[], onPick: (value: Value) => void, hint?: string) => (
    <label class="field">
      {label}
      <select value={value} onChange={(event) => onPick(event.currentTarget.value as Value)}>
        {options.map(([option, words]) => (
          <option key={option} value={option}>
            {words}
          </option>
        ))}
      </select>
      {hint !== undefined && <span class="hint">{hint}</span>}
    </label>
  );
  const columnOptions = columns.map((column) => [String(column), columnWords(rows, mapping.skipRows, column)] as const);
  const shownUnit = isChannelName(mapping.channel) ? channels[mapping.channel].unit : '';
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        void start();
      }}
    >
      <h2>{uploaded.file}: what stands where</h2>
      <div class="map-fields">
        {pick('Columns are parted by', mapping.delimiter, Object.entries(delimiterWords) as [typeof mapping.delimiter, string][], (delimiter) => change({ delimiter }))}
        <label class="field">
          Rows before the first reading
          <input type="number" min={0} max={1000} value={mapping.skipRows} onInput={(event) => change({ skipRows: Math.max(0, Math.floor(Number(event.currentTarget.value)) || 0) })} />
        </label>
        {pick('Time, or date', String(mapping.timeColumns[0] ?? 0), columnOptions, (column) => change({ timeColumns: [Number(column), ...mapping.timeColumns.slice(1)] }))}
        {pick('Clock time in a column of its own', String(mapping.timeColumns[1] ?? ''), [['', 'no'], ...columnOptions], (column) => change({ timeColumns: [mapping.timeColumns[0] ?? 0, ...(column === '' ? [] : [Number(column)])] }))}
        {pick('Times are written', mapping.timeFormat, Object.entries(formatWords) as [typeof mapping.timeFormat, string][], (timeFormat) => change({ timeFormat }))}
        <label class="field">
          Clock of the logger
          <input type="text" list="zones" value={mapping.zone} onInput={(event) => change({ zone: event.currentTarget.value })} />
          <datalist id="zones">
            {[zone, 'UTC', '+01:00', '+02:00', '-05:00', '-08:00'].map((each) => (
              <option key={each}>{each}</option>
            ))}
          </datalist>
          <span class="hint">A logger that stays on winter time has a fixed offset, such as +01:00.</span>
        </label>
        {pick('Value', String(mapping.valueColumn), columnOptions, (column) => change({ valueColumn: Number(column) }))}
        {pick('Decimal mark', mapping.decimal, [['.', 'point: 18.5'], [',', 'comma: 18,5']], (decimal) => change({ decimal }))}
        {pick('It is', mapping.channel, channelNames.map((name) => [name, channels[name].label] as const), (channel) => change({ channel, unit: (isChannelName(channel) ? unitsOf(channel)[0] : undefined) ?? '' }))}
        {pick('in', mapping.unit, (isChannelName(mapping.channel) ? unitsOf(mapping.channel) : []).map((unit) => [unit, unitWords(unit)] as const), (unit) => change({ unit }))}
        <label class="field">
          Kept as probe
          <input type="text" list="known-probes" required maxLength={40} value={probe} onInput={(event) => setProbe(event.currentTarget.value)} />
          <datalist id="known-probes">
            {probes.map((each) => (
              <option key={each}>{each}</option>
            ))}
          </datalist>
          <span class="hint">Placed in a drum afterwards, with a time in the past.</span>
        </label>
      </div>
      <TableRoom label="The first rows of the file">
        <table class="map-rows">
          <caption class="hidden-words">The first rows of the file, and how each is understood</caption>
          <thead>
            <tr>
              <th scope="col">Row</th>
              {columns.map((column) => (
                <th key={column} scope="col" data-use={roleOf(column)}>
                  {column + 1}
                </th>
              ))}
              <th scope="col">Understood as</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((cells, index) => {
              const row = preview?.understood.find((each) => each.row === index + 1);
              return (
                <tr key={index} data-skip={index < mapping.skipRows}>
                  <td>{index + 1}</td>
                  {columns.map((column) => (
                    <td key={column} data-use={index < mapping.skipRows ? undefined : roleOf(column)}>
                      {cells[column] ?? ''}
                    </td>
                  ))}
                  <td>
                    {row === undefined ? '' : 'at' in row ? <b>{`${dayMonth(Date.parse(row.at), zone)} ${row.at.slice(0, 4)} ${clockTime(Date.parse(row.at), zone)}, ${inWords(showQuantity(row.value, shownUnit, units))}`}</b> : <span class="refused">◇ {row.words}</span>}
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </TableRoom>
      {problem !== null && <p class="problem" role="alert">{problem}</p>}
      <button type="submit" class="main-act large" disabled={busy || good === 0 || probe === ''}>
        Take it in
        <span class="under">{good === 0 ? 'no row gives a reading this way' : `${String(good)} of the first ${String(preview?.understood.length ?? 0)} rows give a reading`}</span>
      </button>
      <button type="button" class="quiet" onClick={() => void call('dropImport', { params: { id } }).then(onDropped)}>
        Another file
      </button>
    </form>
  );
};
