/** A furrow in long section as the page's own picture: seeds even, then shallow where the wheels run light, then even. */
const SEEDS = 45;
const WIDTH = 600;
const SURFACE = 22;
const TARGET = 66;

function depthOf(i: number): number {
  const lifted = Math.exp(-(((i - 24) / 5) ** 2)) * 27;
  return TARGET - lifted + 2.5 * Math.sin(i * 2.4);
}

export function FurrowEmblem() {
  return (
    <svg class="emblem" viewBox={`0 0 ${WIDTH} 90`} aria-hidden="true">
      <path d={`M0 ${SURFACE}H${WIDTH}V90H0Z`} class="furrow-earth" />
      <path d={`M0 ${TARGET}H${WIDTH}`} class="furrow-target" />
      <path d={`M0 ${SURFACE}H${WIDTH}`} class="furrow-surface" />
      <path
        class="furrow-seeds"
        stroke-width="7"
        d={Array.from(
          { length: SEEDS },
          (_, i) => `M${((i + 0.5) * WIDTH) / SEEDS} ${depthOf(i).toFixed(1)}h0`,
        ).join("")}
      />
    </svg>
  );
}
