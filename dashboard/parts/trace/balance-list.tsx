import { verdictWords, type BalanceLine } from '../../state/trace/trace-words.ts';

/** Whether the amounts add up, in a sentence each with its word. */
export const BalanceList = ({ lines }: { readonly lines: readonly BalanceLine[] }) => (
  <ul class="balance-list">
    {lines.map(({ title, text, balances }) => (
      <li key={title} data-verdict={verdictWords(balances)}>
        <h3>
          {title} <span class="verdict">{verdictWords(balances)}</span>
        </h3>
        <p>{text}</p>
      </li>
    ))}
  </ul>
);
