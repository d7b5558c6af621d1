import { useState } from 'preact/hooks';
import { pastMoment } from '../format/time.ts';
import { keptWords } from '../state/kept-words.ts';
import type { Kept } from '../state/kept.ts';
import { isActForm } from '../state/task-act.ts';
import { ActForm } from './forms/act-form.tsx';
import { Dialog } from './forms/dialog.tsx';
import type { AboutDrum, Act } from './forms/form-frame.ts';
import { useAbout } from './use-about.ts';
import { useScreen } from './screen.ts';
import './forms/forms.css';

/** Every act that is kept at this phone, oldest first; one that was refused can be put right or dropped. */
export const KeptDialog = ({ onClose }: { readonly onClose: () => void }) => {
  const { queue, wall, settings, clock } = useScreen();
  const [mending, setMending] = useState<string | null>(null);
  const zone = wall.wall.value?.site.zone ?? 'UTC';
  const items = queue.kept.value;
  const mended = items.find(({ key }) => key === mending);
  return (
    <Dialog title={mended === undefined ? 'Kept here' : 'Put it right'} {...(mended !== undefined && { aside: mended.drumName })} onClose={onClose}>
      {mended !== undefined && (
        <Mend
          kept={mended}
          zone={zone}
          onMend={(act) => {
            setMending(null);
            void queue.mend(mended.key, { kind: 'act', entry: act });
          }}
        />
      )}
      {mended === undefined && (
        <>
          <p>{items.length === 0 ? 'Nothing is kept here any more: all of it is written.' : 'Sent in this order as soon as there is signal, each once.'}</p>
          <ol class="kept-list">
            {items.map((kept) => {
              const { title, detail } = keptWords(kept, settings.units.value);
              return (
                <li key={kept.key}>
                  <p>
                    <b>{title}</b> {detail}
                  </p>
                  <p class="dim">
                    {kept.drumName}, {pastMoment(Date.parse(kept.keptAt), clock.now.peek(), zone)}
                    {kept.takeBack !== null && ', taken back'}
                  </p>
                  {kept.refused !== null && (
                    <p class="problem">
                      Not taken: {kept.refused.title}. {kept.refused.detail}
                    </p>
                  )}
                  <p class="kept-acts">
                    {kept.refused !== null && actOf(kept) !== null && (
                      <button type="button" class="main-act" onClick={() => setMending(kept.key)}>
                        Put it right
                      </button>
                    )}
                    {kept.refused !== null && (
                      <button type="button" class="quiet" onClick={() => queue.drop(kept.key)}>
                        Drop it
                      </button>
                    )}
                    {kept.refused === null && kept.takeBack === null && kept.what.kind === 'act' && (
                      <button type="button" class="quiet" onClick={() => void queue.takeBack(kept.key)}>
                        Take it back
                      </button>
                    )}
                  </p>
                </li>
              );
            })}
          </ol>
        </>
      )}
    </Dialog>
  );
};

const actOf = ({ what }: Kept): Act | null => (what.kind === 'act' && what.entry.kind !== 'corrected' && isActForm(what.entry.kind) ? what.entry : null);

const Mend = ({ kept, zone, onMend }: { readonly kept: Kept; readonly zone: string; readonly onMend: (act: Act) => void }) => {
  const about: AboutDrum = useAbout(kept.drum);
  const act = actOf(kept);
  if (act === null || !isActForm(act.kind)) return null;
  return (
    <>
      {kept.refused !== null && <p class="problem">{kept.refused.detail}</p>}
      <ActForm form={act.kind} zone={zone} before={act} about={about} saveWords="Send it again" busy={false} onSave={onMend} />
    </>
  );
};
