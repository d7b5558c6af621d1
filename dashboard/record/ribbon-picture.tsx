import type { CureRibbon } from '#contract';

/** The cure as one band, in ink: shapes tell what colours would. */
export const RibbonPicture = ({ ribbon: { width, height, shapes, caption } }: { readonly ribbon: CureRibbon }) => (
  <figure>
    <svg viewBox={`0 0 ${width} ${height}`} role="img" aria-label={caption}>
      <defs>
        <pattern id="gap" width="4" height="4" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect width="4" height="4" fill="#fff" />
          <line x1="0" y1="0" x2="0" y2="4" stroke="#777" stroke-width="1" />
        </pattern>
      </defs>
      {shapes.map((shape, index) => {
        if (shape.kind === 'box') return <rect key={index} x={shape.x} y={shape.y} width={shape.width} height={shape.height} fill={shape.fill === 'gap' ? 'url(#gap)' : '#555'} />;
        if (shape.kind === 'line') return <line key={index} x1={shape.x1} y1={shape.y1} x2={shape.x2} y2={shape.y2} stroke="#111" stroke-width="0.6" stroke-dasharray={shape.dashed ? '3 2' : 'none'} />;
        return (
          <text key={index} x={shape.x} y={shape.y} text-anchor={shape.end} font-size="8">
            {shape.text}
          </text>
        );
      })}
    </svg>
    <figcaption>{caption}</figcaption>
  </figure>
);
