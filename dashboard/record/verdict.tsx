import type { Checked } from './check-record.ts';

/** What the check says, before anything else on the page. */
export const Verdict = ({ checked }: { readonly checked: Checked }) =>
  checked.verified ? (
    <div class="verdict verified" role="status">
      <p class="word">
        <span aria-hidden="true">✓</span> VERIFIED
      </p>
      <p>
        Unchanged since it was signed with the key <strong class="code">{checked.fingerprint}</strong>. Compare these sixteen characters with the ones you have from elsewhere: the wall display of the shed, a label, an earlier paper. If they differ, somebody else signed it.
      </p>
      <p>
        Check code <strong class="code">{checked.code}</strong>: the same as at the foot of the paper that was printed with it. This tells nothing about whether what was written is true. To check without trusting this page, use a script of your own: see “How to check a record” at the address of the site.
      </p>
      <p>
        <a download={`record-${checked.sealed.record.lot}.json`} href={URL.createObjectURL(new Blob([checked.file], { type: 'application/json' }))}>
          Save the signed data for it
        </a>
      </p>
    </div>
  ) : (
    <div class="verdict altered" role="alert">
      <p class="word">
        <span aria-hidden="true">✗</span> ALTERED
      </p>
      <p>{checked.why} It was changed after it was signed, or signed by something else. Do not rely on what stands below. Ask for the record again.</p>
    </div>
  );
