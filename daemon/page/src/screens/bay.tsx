// A bay's air over the last days.
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { type AirPoint, type Bay, getAir } from "../data/api";
import { Back, Choice } from "../parts/parts";
import { SensorsHere } from "./sensors";
import { shopNow } from "../data/store";
import type { Words } from "../words/words";

const spans = [
  { value: "24", text: "24 h" },
  { value: "72", text: "3 days" },
  { value: "168", text: "7 days" },
] as const;

export function BayScreen({ bay, words }: { bay: Bay; words: Words }): JSX.Element {
  const [hours, setHours] = useState<"24" | "72" | "168">("24");
  const [points, setPoints] = useState<AirPoint[] | null>(null);
  const [failed, setFailed] = useState(false);
  const place = useRef<HTMLDivElement>(null);

  useEffect(() => {
    let current = true;
    const to = shopNow();
    const from = new Date(to.getTime() - Number(hours) * 3_600_000);
    setFailed(false);
    getAir(bay.name, from.toISOString(), to.toISOString())
      .then((air) => current && setPoints(air.points))
      .catch(() => current && setFailed(true));
    return () => {
      current = false;
    };
  }, [bay.name, hours]);

  useEffect(() => {
    if (!points || points.length === 0) {
      return undefined;
    }
    let erase: (() => void) | undefined;
    let current = true;
    import("../plots/plot")
      .then(({ drawAir }) => {
        if (current && place.current) {
          erase = drawAir(place.current, points, words);
        }
      })
      .catch(() => current && setFailed(true));
    return () => {
      current = false;
      erase?.();
    };
  }, [points, words]);

  return (
    <>
      <Back to="#/">Board</Back>
      <h2>Bay {bay.name}</h2>
      <Choice label="Span" options={[...spans]} value={hours} onChoose={setHours} />
      {failed && <p class="old">The air could not be asked for. Try again when the connection is back.</p>}
      {points?.length === 0 && <p class="empty">No readings in this span.</p>}
      {points && points.length > 0 && <Summary points={points} words={words} />}
      <div class="plots" ref={place} />
      <p class="small">
        Grey ground: night, 20:00 to 06:00. Hatched: no readings, the slower end is assumed. Pace 1 is how fast film dries at 21 °C and 50 %.
      </p>
      <SensorsHere bay={bay.name} words={words} />
    </>
  );
}

// The plot in words, for those who cannot see it.
function Summary({ points, words }: { points: AirPoint[]; words: Words }): JSX.Element {
  const range = (of: (point: AirPoint) => number | null, text: (value: number) => string): string => {
    const values = points.map(of).filter((value): value is number => value !== null);
    return values.length === 0 ? "not measured" : `${text(Math.min(...values))} to ${text(Math.max(...values))}`;
  };
  const percent = (value: number): string => `${value.toFixed(0)} %`;
  return (
    <dl class="figures">
      <div>
        <dt>Air</dt>
        <dd>{range((point) => point.air_c, (value) => words.temperature(value))}</dd>
      </div>
      <div>
        <dt>Humidity</dt>
        <dd>{range((point) => point.rh_pct, percent)}</dd>
      </div>
      <div>
        <dt>Pace</dt>
        <dd>{range((point) => point.pace, (value) => value.toFixed(2))}</dd>
      </div>
    </dl>
  );
}
