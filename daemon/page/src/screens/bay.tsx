// A bay this evening: what will be ready by the morning, its air now and so far.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { type AirPoint, type Bay, type Board, getAir, type Vehicle } from "../data/api";
import { useAnswer } from "../parts/asked";
import { Drawn } from "../parts/drawn";
import { AirAge } from "../parts/air_now";
import { untils } from "../parts/axis";
import { byTime, type Line, linesOf } from "../parts/lines";
import { lateBy, ReleaseShort, releaseSign } from "../parts/release_state";
import { PieceName, tagsOf } from "../parts/row";
import { Back, Choice, Sign, Title, useNow } from "../parts/parts";
import { SensorsHere } from "./sensors";
import { shopNow } from "../data/store";
import type { Words } from "../words/words";

const spans = ["24", "72", "168"] as const; // hours

export function BayScreen({ bay, board, words }: { bay: Bay; board: Board; words: Words }): JSX.Element {
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
      <Title words={words}>{words.bayTitle(bay.name)}</Title>
      <ByMorning bay={bay} vehicles={board.vehicles.filter((vehicle) => !vehicle.released && vehicle.bay === bay.name)} words={words} />
      <AirNow bay={bay} words={words} />
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

// The verdict first, then what it is made of.
function ByMorning({ bay, vehicles, words }: { bay: Bay; vehicles: Vehicle[]; words: Words }): JSX.Element | null {
  const now = useNow();
  const lines = linesOf(vehicles);
  const coming = lines.filter(({ mark, step }) => mark === "waiting" && step?.which !== "may-leave").sort(byTime);
  const morning = untils(now.getTime(), words.site.time_zone).find(({ what }) => what === "morning");
  if (!morning || lines.length === 0) {
    return null;
  }
  const likely = ({ step }: Line): number => Date.parse(step?.milestone.expected.likely ?? "") || Infinity;
  const sure = coming.filter(({ at }) => at !== null && at <= morning.at);
  const perhaps = coming.filter((line) => !sure.includes(line) && likely(line) <= morning.at);
  const later = coming.length - sure.length - perhaps.length;
  const row = (line: Line, text: string): JSX.Element => (
    <li key={line.piece.id} class={sure.includes(line) ? "" : "perhaps"}>
      <a href={`#/vehicle/${line.vehicle.id}?piece=${line.piece.id}`}>
        <Sign of="ready" />
        <PieceName piece={line.piece} tag={tagsOf(vehicles).get(line.vehicle.id)} words={words} />
        <span class="st">{words.shortStep(line.step?.which ?? "may-leave")}</span>
        <span class="tm">{text}</span>
      </a>
    </li>
  );
  return (
    <section class="verdict" aria-label={words.say("bay.by-morning-of", { bay: words.bay(bay.name) })}>
      {coming.length > 0 && <p class="sum">{words.say("bay.by-morning", { when: words.clockAt(morning.at), ready: String(sure.length), all: String(coming.length), perhaps: perhaps.length })}</p>}
      {vehicles.map((vehicle) => (
        <p key={vehicle.id} class={lateBy(vehicle) === null ? "of-vehicle" : "of-vehicle late"}>
          <Sign of={releaseSign(vehicle)} />
          <span>
            {vehicle.reference} <ReleaseShort vehicle={vehicle} words={words} />
          </span>
        </p>
      ))}
      <ul class="by-morning">
        {sure.map((line) => row(line, words.clockAt(line.at ?? 0)))}
        {perhaps.map((line) => row(line, words.say("bay.perhaps")))}
        {later > 0 && <li class="perhaps">{words.say("bay.later-than-that", { count: later })}</li>}
      </ul>
    </section>
  );
}

function paceWord(pace: number, words: Words): string {
  const how = pace <= 0 ? "none" : pace < 0.4 ? "very-slow" : pace < 0.8 ? "slow" : pace <= 1.2 ? "usual" : "fast";
  return words.say(`board.pace-${how}`);
}

function AirNow({ bay, words }: { bay: Bay; words: Words }): JSX.Element {
  const { as_of, air_c, rh_pct, dew_point_c, pace } = bay;
  const figures = [
    [words.say("bay.air"), air_c === null ? "?" : words.temperature(air_c), ""],
    [words.say("bay.humidity"), rh_pct === null ? "?" : words.percent(rh_pct), ""],
    [words.say("bay.dew-point"), dew_point_c === null ? "?" : words.temperature(dew_point_c), ""],
    [words.say("bay.pace"), pace === null ? "?" : words.fixed(pace, 2), pace === null ? "" : paceWord(pace, words)],
  ] as const;
  return (
    <section aria-label={words.say("bay.air-now")}>
      <p class="small">
        {words.say("bay.air-now")} <AirAge bay={bay} words={words} />
      </p>
      {as_of !== null && (
        <dl class="figures">
          {figures.map(([name, value, note]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>
                {value} {note && <small>{note}</small>}
              </dd>
            </div>
          ))}
        </dl>
      )}
    </section>
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
