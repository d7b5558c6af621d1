import { useEffect, useState } from 'preact/hooks';
import { mostImportBytes, type ImportReport, type ImportUploaded } from '#contract';
import { sendFile } from '../client/upload.ts';
import { failureWords } from '../parts/forms/form-frame.ts';
import { Go } from '../parts/go.tsx';
import { ImportCard } from '../parts/probes/import-card.tsx';
import { MapFile } from '../parts/probes/map-file.tsx';
import { Places } from '../parts/places.tsx';
import { useScreen } from '../parts/screen.ts';
import { SettingsButton } from '../parts/settings.tsx';
import '../parts/forms/forms.css';
import './probes.css';

const askEveryMs = 1_000;

/** The file of a logger: handed in, mapped, taken in, told what became of each row. */
export const LoggerFileView = () => {
  const { call, clock, session, wall } = useScreen();
  const [uploaded, setUploaded] = useState<ImportUploaded | null>(null);
  const [share, setShare] = useState<number | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [reports, setReports] = useState<readonly ImportReport[]>([]);
  const [probes, setProbes] = useState<readonly string[]>([]);
  const [turn, setTurn] = useState(0);
  const zone = wall.wall.value?.site.zone ?? 'UTC';
  const isOn = reports.some(({ state }) => state === 'waiting' || state === 'reading');

  useEffect(() => {
    document.title = 'A logger’s file · Brineward';
    void call('probes').then((answer) => answer.ok && setProbes(answer.value.probes.map(({ id }) => id)));
  }, [call]);
  useEffect(() => {
    void call('imports').then((answer) => answer.ok && setReports(answer.value.imports));
    if (!isOn) return undefined;
    const timer = setTimeout(() => setTurn((before) => before + 1), askEveryMs);
    return () => clearTimeout(timer);
  }, [call, turn, isOn]);

  const hand = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    setProblem(null);
    if (file.size > mostImportBytes) {
      setProblem(`This file is larger than ${String(mostImportBytes / 1_048_576)} MiB. Cut it in two.`);
      return;
    }
    setShare(0);
    const sent = await sendFile(file, setShare);
    setShare(null);
    if (sent.ok) setUploaded(sent.value);
    else setProblem(failureWords(sent.error));
  };

  return (
    <div class="logger-file">
      <header class="top">
        <Places />
        <div class="top-end">
          <SettingsButton />
        </div>
      </header>
      <main>
        <p>
          <Go to={{ view: 'probes' }}>‹ Probes</Go>
        </p>
        <h1>Take in a logger’s file</h1>
        {session.mayWork.value && uploaded === null && (
          <div class="drop-file">
            <p>A table as text (CSV), as a logger or its program saves it. Each row is a reading with its own time; what is there already is not written twice.</p>
            <label class="field">
              The file
              <input type="file" accept=".csv,.txt,.tsv,text/csv,text/plain" onChange={(event) => void hand(event.currentTarget.files?.[0])} />
            </label>
            {share !== null && <progress max={1} value={share} aria-label="Handed in" />}
          </div>
        )}
        {problem !== null && <p class="problem" role="alert">{problem}</p>}
        {uploaded !== null && (
          <MapFile
            key={uploaded.id}
            uploaded={uploaded}
            probes={probes}
            zone={zone}
            onStarted={() => {
              setUploaded(null);
              setTurn(turn + 1);
            }}
            onDropped={() => setUploaded(null)}
          />
        )}
        {reports.length > 0 && (
          <section aria-labelledby="files-taken">
            <h2 id="files-taken">Files so far</h2>
            <ul class="import-list">
              {reports.map((report) => (
                <ImportCard key={report.id} report={report} now={clock.now.peek()} zone={zone} />
              ))}
            </ul>
          </section>
        )}
      </main>
    </div>
  );
};
