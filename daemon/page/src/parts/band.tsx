// The water that runs out: full as long as it is surely wet, at its tip the time at which it will be called ready.
import type { JSX } from "preact";
import type { Axis } from "./axis";
import type { Line } from "./lines";

const tall = 14; // px
const units = 360; // of the axis
const share_at_likely = 0.42; // of the height

export function Band({ line, axis, unsure }: { line: Line; axis: Axis; unsure: boolean }): JSX.Element {
  const { at, late, vehicle, step } = line;
  const along = (time: number): number => Math.min(1, Math.max(0, axis.along(time)));
  const percent = (time: number): string => `${(100 * along(time)).toFixed(2)}%`;
  const { early, likely } = step?.milestone.expected ?? {};
  const base = tall - 1;
  const from = along(axis.now);
  const tip = at === null ? 1 : along(at);
  const beyond = at === null || axis.along(at) > 1;
  const middle = Math.min(tip, Math.max(from, likely ? along(Date.parse(likely)) : beyond ? 1 : (from + tip) / 2));
  const surely = Math.min(middle, Math.max(from, early ? along(Date.parse(early)) : beyond && !likely ? 1 : from));
  const x = (share: number): string => (units * share).toFixed(1);
  const end = beyond ? 1 + base * (1 - share_at_likely * 0.7) : base;
  const water = `M${x(from)} 1H${x(surely)}L${x(middle)} ${likely || !beyond ? (base - (base - 1) * share_at_likely).toFixed(1) : 1} ${x(tip)} ${likely || !beyond ? end.toFixed(1) : 1}V${base}H${x(from)}z`;
  const agreed = vehicle.hand_over === null ? null : Date.parse(vehicle.hand_over);
  return (
    <svg class={unsure ? "band unsure" : "band"} width="100%" height={tall} aria-hidden="true">
      <line class="base" x1="0" x2="100%" y1={base + 0.5} y2={base + 0.5} />
      <svg viewBox={`0 0 ${units} ${tall}`} preserveAspectRatio="none" width="100%" height={tall}>
        <path class="water" d={water} />
      </svg>
      <line class="now" x1={percent(axis.now)} x2={percent(axis.now)} y1="0" y2={tall} />
      {agreed !== null && axis.along(agreed) > from && axis.along(agreed) < 1 && (
        <line class="agreed" x1={percent(agreed)} x2={percent(agreed)} y1="0" y2={tall} />
      )}
      {!beyond && (
        <svg x={percent(at)} y="8.5" overflow="visible">
          <path class={late ? "tip late" : "tip"} d={late ? "M0-6L6.5 4.5H-6.5z" : "M0-5.5L5.5 0 0 5.5-5.5 0z"} />
        </svg>
      )}
    </svg>
  );
}
