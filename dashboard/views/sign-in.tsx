import { useEffect, useState } from 'preact/hooks';
import type { Failure } from '../client/call.ts';
import { failureWords } from '../parts/forms/form-frame.ts';
import { useScreen } from '../parts/screen.ts';
import '../parts/forms/forms.css';
import './sign-in.css';

/** The door: sign in, or at the very first visit make the owner with the code that the program printed. */
export const SignInView = () => {
  const { session } = useScreen();
  const known = session.session.value;
  useEffect(() => {
    document.title = 'Sign in · Brineward';
  }, []);
  return (
    <main class="door">
      <p class="door-name">Brineward</p>
      {known?.setUpNeeded === true ? <SetUp /> : <SignIn demo={known?.demo ?? null} />}
    </main>
  );
};

const SignIn = ({ demo }: { readonly demo: { readonly name: string; readonly password: string } | null }) => {
  const { session } = useScreen();
  const [name, setName] = useState(demo?.name ?? 'owner');
  const [password, setPassword] = useState('');
  const [failure, setFailure] = useState<Failure | null>(null);
  const [busy, setBusy] = useState(false);
  const enter = async (as: string, secret: string): Promise<void> => {
    setBusy(true);
    const answer = await session.signIn(as, secret);
    setBusy(false);
    if (!answer.ok) setFailure(answer.error);
  };
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        void enter(name, password);
      }}
    >
      <h1>Sign in</h1>
      {demo !== null && (
        <div class="demo">
          <p>
            This is the demo shed: everything in it is invented. Name <b>{demo.name}</b>, password <b>{demo.password}</b>.
          </p>
          <button type="button" class="quiet" disabled={busy} onClick={() => void enter(demo.name, demo.password)}>
            Look around the demo
          </button>
        </div>
      )}
      <label class="field">
        Name
        <input type="text" name="name" autocomplete="username" required value={name} onInput={(event) => setName(event.currentTarget.value)} />
      </label>
      <label class="field">
        Password
        <input type="password" name="password" autocomplete="current-password" required value={password} onInput={(event) => setPassword(event.currentTarget.value)} />
      </label>
      {failure !== null && (
        <p class="problem" role="alert">
          {failureWords(failure)}
        </p>
      )}
      <button type="submit" class="main-act large" disabled={busy}>
        Sign in
      </button>
    </form>
  );
};

const SetUp = () => {
  const { session } = useScreen();
  const [code, setCode] = useState('');
  const [password, setPassword] = useState('');
  const [failure, setFailure] = useState<Failure | null>(null);
  const [busy, setBusy] = useState(false);
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        setBusy(true);
        void session.setUp(code.trim(), password).then((answer) => {
          setBusy(false);
          if (!answer.ok) setFailure(answer.error);
        });
      }}
    >
      <h1>First visit</h1>
      <p>The program printed a set-up code in its terminal when it started. With it you make the owner of this shed; the code then no longer works.</p>
      <label class="field">
        Set-up code
        <input type="text" name="code" autocomplete="off" autocapitalize="none" spellcheck={false} required value={code} onInput={(event) => setCode(event.currentTarget.value)} />
      </label>
      <label class="field">
        A password for the owner
        <input type="password" name="password" autocomplete="new-password" required minLength={6} value={password} onInput={(event) => setPassword(event.currentTarget.value)} />
        <span class="hint">At least 6 characters; longer is better.</span>
      </label>
      {failure !== null && (
        <p class="problem" role="alert">
          {failureWords(failure)}
        </p>
      )}
      <button type="submit" class="main-act large" disabled={busy}>
        Make the owner
      </button>
    </form>
  );
};
