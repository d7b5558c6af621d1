/** Colours of fruit, not of a state: skin and flesh of each class, drawn because words for them differ from grower to grower. */
const skins = ['#4c7a34', '#a3b04a', '#9fae52', '#7d4a63', '#2c2430', '#2c2430', '#2c2430', '#2c2430'] as const;
/** How far violet has gone into the flesh, from the skin to the stone. */
const violet = [0, 0, 0, 0, 0, 0.45, 0.85, 1] as const;

/** A fruit of one of the eight maturity classes; the ripe ones are cut, since it is their flesh that tells. */
export const FruitMark = ({ index }: { readonly index: number }) => {
  const cut = index >= 4;
  const flesh = 13.5 - 8.5 * (violet[index] ?? 0);
  return (
    <svg viewBox="0 0 40 40" aria-hidden="true" class="fruit-mark">
      <circle cx="20" cy="20" r="17" fill={skins[index]} class="fruit-skin" />
      {index === 2 && <path d="M12 12a4 4 0 1 0 6 5zM25 27a3 3 0 1 0 4-4z" fill="#a5452f" />}
      {index === 3 && <path d="M6 15a17 17 0 0 1 20-11c-3 6-12 12-20 11z" fill="#9fae52" />}
      {cut && (
        <>
          <circle cx="20" cy="20" r="13.5" fill="#6d3f6b" />
          <circle cx="20" cy="20" r={flesh} fill="#dfe0b0" />
          <circle cx="20" cy="20" r="5" fill="#b08a5a" />
        </>
      )}
    </svg>
  );
};
