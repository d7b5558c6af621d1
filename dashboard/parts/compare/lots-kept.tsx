/** Words in which a lot code is never parted at the end of a line. */
export const LotsKept = ({ text }: { readonly text: string }) => (
  <>
    {text.split(/([A-Z]{1,3}\d{2}-[A-Z0-9]+)/).map((part, index) =>
      index % 2 === 0 ? (
        part
      ) : (
        <span key={index} class="lot-kept">
          {part}
        </span>
      ),
    )}
  </>
);
