import { useEffect, useMemo, useState } from 'preact/hooks';
import { outletKindList, type Announced, type Outlet } from '#contract';
import type { Failure } from '../../client/call.ts';
import { pastMoment } from '../../format/time.ts';
import { createOutlets, outletId, type OutletsModel } from '../../state/outlets.ts';
import { announcedWords, kindWords, routeWords, statusWords } from '../../state/outlet-words.ts';
import { useScreen } from '../screen.ts';
import { OutletForm } from './outlet-forms.tsx';
import { RouteForm } from './route-form.tsx';
import { SoundRow } from './sound-row.tsx';

const bus = 'mqtt';
const whileTestingMs = 1_000;
const otherwiseMs = 15_000;

const saidOf = (failure: Failure | null): string | null => (failure === null ? null : `${failure.title}. ${failure.detail}`);

/** Who is told of alerts and by what way, each to be tried; and what was told last. */
export const OutletsSection = ({ zone }: { readonly zone: string }) => {
  const { call, clock, session } = useScreen();
  const model = useMemo(() => createOutlets(call), [call]);
  const [asks, setAsks] = useState<{ readonly kind: Outlet['kind']; readonly outlet: Outlet | null } | null>(null);
  const [route, setRoute] = useState<Outlet | null>(null);
  const [key, setKey] = useState<string | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const testing = model.testing.value.size > 0;
  useEffect(() => {
    void model.load();
    const timer = setInterval(() => void model.load(), testing ? whileTestingMs : otherwiseMs);
    return () => clearInterval(timer);
  }, [model, testing]);

  const outlets = model.outlets.value;
  const now = clock.now.value;
  const isOwner = session.isOwner.value;
  if (outlets === null) return <p class="waiting">{model.failure.value?.detail ?? 'One moment …'}</p>;
  return (
    <>
      <section aria-labelledby="ways">
        <h2 id="ways">Who is told</h2>
        {outlets.length === 0 && <p>Nobody is told yet but whoever looks at a screen. Mail reaches you anywhere; a heartbeat lets somebody outside notice when the shed has no power.</p>}
        <ul class="outlet-list">
          {outlets.map((outlet) => (
            <li key={outlet.id} data-status={outlet.status}>
              <h3>{outlet.name}</h3>
              <p class="dim">
                {kindWords(outlet.kind)} to {outlet.to}
                {outlet.everyMinutes === null ? '' : `, every ${String(outlet.everyMinutes)} min`}
              </p>
              {outlet.kind !== 'heartbeat' && <p>{routeWords(outlet.route, outlet.kind)}</p>}
              <p class="status">{statusWords(outlet, now)}</p>
              {outlet.detail !== null && <p>{outlet.detail}</p>}
              <LastTest outlet={outlet.id} model={model} now={now} zone={zone} />
              {isOwner && (
                <div class="outlet-acts">
                  <TestButton outlet={outlet.id} name={outlet.name} model={model} onProblem={setProblem} />
                  {outlet.kind !== 'heartbeat' && (
                    <button type="button" onClick={() => setRoute(outlet)}>
                      What and when
                    </button>
                  )}
                  <button type="button" onClick={() => setAsks({ kind: outlet.kind, outlet })}>
                    Change
                  </button>
                  <button type="button" class="quiet" onClick={() => void model.remove(outlet.id).then((failure) => setProblem(saidOf(failure)))}>
                    Take away
                  </button>
                </div>
              )}
            </li>
          ))}
          <li data-status="not-tried">
            <h3>Other programs</h3>
            <p class="dim">MQTT: every open alert stands on the bus for whoever listens</p>
            <LastTest outlet={bus} model={model} now={now} zone={zone} />
            {isOwner && (
              <div class="outlet-acts">
                <TestButton outlet={bus} name="MQTT" model={model} onProblem={setProblem} />
              </div>
            )}
          </li>
          <SoundRow />
        </ul>
        {key !== null && (
          <div class="key-once" role="status">
            <p>The signing key of this webhook. It is shown this once; give it to the program that is told, so that it can check that a message is yours.</p>
            <code>{key}</code>
          </div>
        )}
        {problem !== null && (
          <p class="problem" role="alert">
            {problem}
          </p>
        )}
        {isOwner && (
          <div class="outlet-acts" role="group" aria-label="Add a way">
            {outletKindList.map((kind) => (
              <button key={kind} type="button" onClick={() => setAsks({ kind, outlet: null })}>
                Add {kind === 'mail' ? 'mail' : `a ${kind}`}
              </button>
            ))}
          </div>
        )}
      </section>
      <Told announced={model.announced.value} nameOf={(id) => (id === bus ? 'MQTT' : (outlets.find((each) => each.id === id)?.name ?? id))} now={now} zone={zone} />
      {asks !== null && (
        <OutletForm
          kind={asks.kind} outlet={asks.outlet} onClose={() => setAsks(null)}
          onSet={async (body) => {
            const answer = await model.set(asks.outlet?.id ?? outletId(body.name, outlets.map(({ id }) => id)), body);
            if ('failure' in answer) return answer.failure;
            setKey(answer.key);
            setAsks(null);
            return null;
          }}
        />
      )}
      {route !== null && <RouteForm outlet={route} onSet={(next) => model.setRoute(route.id, next)} onClose={() => setRoute(null)} />}
    </>
  );
};

const TestButton = ({ outlet, name, model, onProblem }: { readonly outlet: string; readonly name: string; readonly model: OutletsModel; readonly onProblem: (problem: string | null) => void }) => {
  const underWay = model.testing.value.has(outlet);
  return (
    <button type="button" disabled={underWay} aria-label={`Send a test: ${name}`} onClick={() => void model.test(outlet).then((failure) => onProblem(saidOf(failure)))}>
      {underWay ? 'Sending …' : 'Send a test'}
    </button>
  );
};

const LastTest = ({ outlet, model, now, zone }: { readonly outlet: string; readonly model: OutletsModel; readonly now: number; readonly zone: string }) => {
  const last = model.announced.value.find((each) => each.outlet === outlet && each.what === 'test');
  return (
    <p role="status" class="dim">
      {last === undefined ? '' : `${pastMoment(Date.parse(last.at), now, zone)}: ${announcedWords(last)}`}
    </p>
  );
};

const Told = ({ announced, nameOf, now, zone }: { readonly announced: readonly Announced[]; readonly nameOf: (id: string) => string; readonly now: number; readonly zone: string }) => (
  <section aria-labelledby="told">
    <h2 id="told">Told lately</h2>
    {announced.length === 0 ? (
      <p>Nothing yet.</p>
    ) : (
      <ol class="told-list">
        {announced.map((each) => (
          <li key={each.entry} data-result={each.result}>
            <span>{pastMoment(Date.parse(each.at), now, zone)}</span>
            <b>{nameOf(each.outlet)}</b>
            <span>{announcedWords(each)}</span>
          </li>
        ))}
      </ol>
    )}
  </section>
);
