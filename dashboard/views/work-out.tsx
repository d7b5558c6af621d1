import { useEffect, useRef } from 'preact/hooks';
import { loadCalculators, type LoadedCalculators } from '#contract';
import { Go } from '../parts/go.tsx';
import { Notice } from '../parts/notice.tsx';
import { Places } from '../parts/places.tsx';
import { useScreen } from '../parts/screen.ts';
import { SettingsButton } from '../parts/settings.tsx';
import { ToolList } from '../parts/work-out/tool-list.tsx';
import { ToolScreen } from '../parts/work-out/tool-screen.tsx';
import { toolOf } from '../state/work-out/tools.ts';
import '../parts/flag.css';
import '../parts/forms/forms.css';
import '../parts/ribbon/ribbon.css';
import '../parts/work-out/recipe.css';
import './work-out.css';

interface WorkOutProps {
  readonly tool: string | null;
  readonly inputs: string;
}

/** The formulas come with the view, so that it works on without a connection. */
export const loadWorkOut = async () => {
  const loaded = await loadCalculators();
  return (props: WorkOutProps) => <WorkOut {...props} loaded={loaded} />;
};

/** The arithmetic of brine, acid, cure and jars, for a grower with a scale and a bucket. */
const WorkOut = ({ tool: id, inputs, loaded }: WorkOutProps & { readonly loaded: LoadedCalculators }) => {
  const { link } = useScreen();
  const head = useRef<HTMLHeadingElement>(null);
  const tool = id === null ? null : toolOf(id);
  const title = tool === null ? 'Work out' : tool.question;

  useEffect(() => {
    document.title = `${title} · Brineward`;
  }, [title]);
  useEffect(() => {
    // Whoever listens hears which screen has come.
    head.current?.focus({ preventScroll: true });
  }, [id]);

  if (id !== null && tool === null) {
    return (
      <Notice title="There is no such question">
        <Go to={{ view: 'work-out', tool: null, inputs: '' }}>To all of them</Go>
      </Notice>
    );
  }
  return (
    <div class="work-out">
      <header class="top">
        <Places />
        <div class="top-end">
          {tool !== null && <Go to={{ view: 'work-out', tool: null, inputs: '' }}>All questions</Go>}
          <SettingsButton />
        </div>
      </header>
      <main>
        <header class="work-out-head">
          <h1 ref={head} tabIndex={-1}>
            {title}
          </h1>
          <p class="dim">{tool === null ? 'With a scale, a bucket and a thermometer at hand. Nothing here is written down.' : tool.about}</p>
          {link.connection.value.state === 'lost' && <p class="dim">No connection to the shed computer just now: this page goes on working by itself.</p>}
        </header>
        {tool === null ? <ToolList /> : <ToolScreen key={tool.id} tool={tool} inputs={inputs} loaded={loaded} />}
      </main>
    </div>
  );
};
