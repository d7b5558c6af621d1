import { useState } from 'preact/hooks';
import type { Outlet, OutletRoute } from '#contract';
import type { Failure } from '../../client/call.ts';
import { Dialog } from '../forms/dialog.tsx';

const priorities = ['high', 'medium', 'low'] as const;
const minutesChoices = ['', '15', '30', '60', '240', '720'] as const;
const minutesWords: Readonly<Record<(typeof minutesChoices)[number], string>> = { '': 'never', '15': 'every 15 minutes', '30': 'every 30 minutes', '60': 'every hour', '240': 'every 4 hours', '720': 'every 12 hours' };

/** What goes to an outlet, and when. */
export const RouteForm = ({ outlet, onSet, onClose }: { readonly outlet: Outlet; readonly onSet: (route: OutletRoute) => Promise<Failure | null>; readonly onClose: () => void }) => {
  const { route } = outlet;
  const [chosen, setChosen] = useState<readonly string[]>(route.priorities);
  const [quiet, setQuiet] = useState(route.quiet !== null);
  const [from, setFrom] = useState(route.quiet?.from ?? '22:00');
  const [to, setTo] = useState(route.quiet?.to ?? '06:00');
  const [remind, setRemind] = useState(route.remindMinutes === null ? '' : String(route.remindMinutes));
  const [seals, setSeals] = useState(route.seals);
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  return (
    <Dialog title="What and when" aside={outlet.name} onClose={onClose}>
      <form
        class="act-form"
        onSubmit={(event) => {
          event.preventDefault();
          setBusy(true);
          void onSet({ priorities: priorities.filter((each) => chosen.includes(each)), quiet: quiet ? { from, to } : null, remindMinutes: remind === '' ? null : Number(remind), seals }).then((failure) => {
            setBusy(false);
            if (failure === null) onClose();
            else setProblem(`${failure.title}. ${failure.detail}`);
          });
        }}
      >
        <fieldset>
          <legend>Alerts of priority</legend>
          {priorities.map((each) => (
            <label key={each} class="check">
              <input type="checkbox" checked={chosen.includes(each)} onChange={() => setChosen(chosen.includes(each) ? chosen.filter((other) => other !== each) : [...chosen, each])} />
              {each}
            </label>
          ))}
        </fieldset>
        <label class="check">
          <input type="checkbox" checked={quiet} onChange={() => setQuiet(!quiet)} />
          Quiet hours (high alerts come through all the same)
        </label>
        {quiet && (
          <div class="pair-fields">
            <label class="field">
              From
              <input type="time" required value={from} onInput={(event) => setFrom(event.currentTarget.value)} />
            </label>
            <label class="field">
              To
              <input type="time" required value={to} onInput={(event) => setTo(event.currentTarget.value)} />
            </label>
          </div>
        )}
        <label class="field">
          Again, while nobody has seen it
          <select value={remind} onChange={(event) => setRemind(event.currentTarget.value)}>
            {[...new Set([...minutesChoices, remind])].map((minutes) => (
              <option key={minutes} value={minutes}>
                {minutes in minutesWords ? minutesWords[minutes as keyof typeof minutesWords] : `every ${minutes} minutes`}
              </option>
            ))}
          </select>
        </label>
        {outlet.kind === 'mail' && (
          <label class="check">
            <input type="checkbox" checked={seals} onChange={() => setSeals(!seals)} />
            The seal of each day: kept elsewhere it shows that nothing was changed later
          </label>
        )}
        {problem !== null && (
          <p class="problem" role="alert">
            {problem}
          </p>
        )}
        <button type="submit" class="main-act large" disabled={busy}>
          Keep it
        </button>
      </form>
    </Dialog>
  );
};
