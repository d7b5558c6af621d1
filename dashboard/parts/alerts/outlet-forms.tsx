import { useState } from 'preact/hooks';
import type { Outlet, SetOutlet } from '#contract';
import type { Failure } from '../../client/call.ts';
import { Dialog } from '../forms/dialog.tsx';
import { Options } from '../forms/options.tsx';

interface OutletFormProps {
  readonly kind: Outlet['kind'];
  /** Null: a new one. */
  readonly outlet: Outlet | null;
  readonly onSet: (body: SetOutlet) => Promise<Failure | null>;
  readonly onClose: () => void;
}

const titles: Readonly<Record<Outlet['kind'], string>> = { mail: 'Mail', webhook: 'Webhook', heartbeat: 'Heartbeat' };
const securities = ['tls', 'starttls', 'none'] as const;
const securityWords = { tls: 'private', starttls: 'private after a word', none: 'in the open' } as const;
const usualPorts = { tls: '465', starttls: '587', none: '25' } as const;

type InputType = 'text' | 'email' | 'number' | 'password' | 'url';
/** The types know inputs by each type by itself, not by a choice of them. */
const inputType = (type: InputType): { readonly type: 'text' } => ({ type: type as 'text' });

/** How an outlet is reached. Passwords and secret addresses are typed in and never shown again. */
export const OutletForm = ({ kind, outlet, onSet, onClose }: OutletFormProps) => {
  const [typed, setTyped] = useState({
    name: outlet?.name ?? '', to: outlet?.kind === 'mail' ? outlet.to : '', host: outlet?.server?.host ?? '', port: String(outlet?.server?.port ?? 465), user: outlet?.server?.user ?? '', from: outlet?.server?.from ?? '', password: '', url: '', minutes: String(outlet?.everyMinutes ?? 5),
  });
  const [security, setSecurity] = useState<(typeof securities)[number]>(outlet?.server?.security ?? 'tls');
  const [busy, setBusy] = useState(false);
  const [failure, setFailure] = useState<Failure | null>(null);
  const field = (key: keyof typeof typed, label: string, more: { readonly type?: InputType; readonly hint?: string; readonly required?: boolean } = {}) => (
    <label class="field">
      {label}
      <input {...inputType(more.type ?? 'text')} required={more.required ?? true} autocomplete="off" value={typed[key]} onInput={(event) => setTyped({ ...typed, [key]: event.currentTarget.value })} />
      {more.hint !== undefined && <span class="hint">{more.hint}</span>}
    </label>
  );
  const body = (): SetOutlet => {
    const name = typed.name.trim();
    if (kind === 'mail') {
      const server = { host: typed.host.trim(), port: Number(typed.port), security, user: typed.user.trim() === '' ? null : typed.user.trim(), from: typed.from.trim() };
      return { kind, name, to: typed.to.trim(), server, ...(typed.password === '' ? {} : { password: typed.password }) };
    }
    const address = typed.url.trim() === '' ? {} : { url: typed.url.trim() };
    return kind === 'webhook' ? { kind, name, ...address } : { kind, name, everyMinutes: Number(typed.minutes), ...address };
  };
  const kept = outlet?.hasSecret === true ? 'Leave empty to keep it as it is.' : undefined;
  return (
    <Dialog title={titles[kind]} onClose={onClose}>
      <form
        class="act-form"
        onSubmit={(event) => {
          event.preventDefault();
          setBusy(true);
          void onSet(body()).then((problem) => {
            setBusy(false);
            setFailure(problem);
          });
        }}
      >
        {field('name', kind === 'mail' ? 'Who it is for' : 'What it is', { hint: 'As it shall stand in the list' })}
        {kind === 'mail' && (
          <>
            {field('to', 'Mail address', { type: 'email' })}
            <div class="pair-fields">
              {field('host', 'Mail server')}
              {field('port', 'Port', { type: 'number' })}
            </div>
            <Options
              name="mail-security" legend="The line to it" options={securities} words={securityWords} chosen={security}
              onChoose={(chosen) => {
                setSecurity(chosen);
                setTyped({ ...typed, port: usualPorts[chosen] });
              }}
            />
            {security === 'none' && <p class="caution">Name, password and alerts then go out readable for everybody on the way. For a server on this machine only.</p>}
            {field('from', 'Sent as', { type: 'email' })}
            {field('user', 'Name at the server', { required: false, hint: 'Empty where it asks for none' })}
            {field('password', 'Password there', { type: 'password', required: false, ...(kept === undefined ? {} : { hint: kept }) })}
          </>
        )}
        {kind !== 'mail' && field('url', 'Address (secret)', { type: 'url', required: outlet === null, hint: kept ?? 'Begins with https:' })}
        {kind === 'heartbeat' && (
          <>
            {field('minutes', 'Every so many minutes', { type: 'number' })}
            <p class="dim">Brineward asks for this address so often while it can measure and store. Let a service outside tell you when that ends: a shed without power tells nobody.</p>
          </>
        )}
        {failure !== null && (
          <p class="problem" role="alert">
            {failure.title}. {failure.detail}
          </p>
        )}
        <button type="submit" class="main-act large" disabled={busy}>
          Keep it
        </button>
      </form>
    </Dialog>
  );
};
