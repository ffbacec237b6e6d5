// A bay's air over the last days.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { type AirPoint, type Bay, getAir } from "../data/api";
import { useAnswer } from "../parts/asked";
import { Drawn } from "../parts/drawn";
import { Back, Choice } from "../parts/parts";
import { SensorsHere } from "./sensors";
import { shopNow } from "../data/store";
import type { Words } from "../words/words";

const spans = ["24", "72", "168"] as const; // hours

export function BayScreen({ bay, words }: { bay: Bay; words: Words }): JSX.Element {
  const [hours, setHours] = useState<(typeof spans)[number]>("24");
  const { answer, failed } = useAnswer(() => {
    const to = shopNow();
    const from = new Date(to.getTime() - Number(hours) * 3_600_000);
    return getAir(bay.name, from.toISOString(), to.toISOString());
  }, [bay.name, hours]);
  const points = answer?.points ?? [];
  return (
    <>
      <Back to="#/">{words.say("page.board")}</Back>
      <h2>{words.bayTitle(bay.name)}</h2>
      <Choice
        label={words.say("page.span")}
        options={spans.map((value) => ({ value, text: spanWords(Number(value), words) }))}
        value={hours}
        onChoose={setHours}
      />
      {failed && <p class="old">{words.say("bay.failed")}</p>}
      {answer && points.length === 0 && <p class="empty">{words.say("bay.no-readings")}</p>}
      {points.length > 0 && <Summary points={points} words={words} />}
      <Drawn
        class="plots"
        draw={points.length > 0 ? ({ drawAir }, place) => drawAir(place, points, words) : null}
        on={[answer, words]}
        failed={words.say("bay.failed")}
      />
      <p class="small">
        {words.say("bay.legend", { air: words.temperature(21), humidity: words.percent(50) })}
      </p>
      <SensorsHere bay={bay.name} words={words} />
    </>
  );
}

const spanWords = (hours: number, words: Words): string =>
  hours > 24 ? words.say("units.days", { n: hours / 24 }) : words.say("units.hours", { n: words.number(hours, 0) });

// The plot in words, for those who cannot see it.
function Summary({ points, words }: { points: AirPoint[]; words: Words }): JSX.Element {
  const range = (of: (point: AirPoint) => number | null, text: (value: number) => string): string => {
    const values = points.map(of).filter((value): value is number => value !== null);
    return values.length === 0
      ? words.say("bay.not-measured")
      : words.say("bay.range", { low: text(Math.min(...values)), high: text(Math.max(...values)) });
  };
  return (
    <dl class="figures">
      <div>
        <dt>{words.say("bay.air")}</dt>
        <dd>{range((point) => point.air_c, (value) => words.temperature(value))}</dd>
      </div>
      <div>
        <dt>{words.say("bay.humidity")}</dt>
        <dd>{range((point) => point.rh_pct, (value) => words.percent(value))}</dd>
      </div>
      <div>
        <dt>{words.say("bay.pace")}</dt>
        <dd>{range((point) => point.pace, (value) => words.fixed(value, 2))}</dd>
      </div>
    </dl>
  );
}
