// The sensors: what each says, how far it is believed, and what to do with it.
import type { JSX } from "preact";
import { useAsked } from "../parts/asked";
import { Back, Title, useNow } from "../parts/parts";
import { getSensors, type Sensor, type SensorStream, type Sensors } from "../data/api";
import { tell } from "../data/store";
import type { Words } from "../words/words";

function valueWords(read: SensorStream, words: Words): string {
  if (read.value === null) {
    return words.say("sensors.nothing-yet");
  }
  if (read.quantity === "relative-humidity") {
    return words.percent(read.value, 1);
  }
  return read.quantity === "air-speed" ? words.say("units.speed", { n: words.fixed(read.value, 1) }) : words.temperature(read.value);
}

function doubts(read: SensorStream, words: Words): string {
  return (Object.entries(read.counts) as [SensorStream["last_verdict"], number][])
    .filter(([verdict, count]) => verdict !== "ok" && count > 0)
    .map(([verdict, count]) => words.say("sensors.doubt", { why: words.say(`words.verdict-${verdict}`), count: words.number(count, 0) }))
    .join(", ");
}

function checkedWords(sensor: Sensor, now: Date, words: Words): string {
  if (sensor.checking) {
    return words.say("sensors.being-checked", { salt: words.say(`sensors.salt-${sensor.checking.salt}`) });
  }
  return sensor.last_check
    ? words.say("sensors.checked-at", {
        when: words.when(sensor.last_check.at, now),
        verdict: words.say(`sensors.verdict-${sensor.last_check.result.verdict}`),
      })
    : words.say("sensors.never-checked");
}

// Of one bay, for its screen.
export function SensorsHere({ bay, words }: { bay: string; words: Words }): JSX.Element | null {
  const { answer } = useAsked<Sensors>(getSensors, 30_000);
  const now = useNow();
  const here = answer?.sensors.filter((sensor) => sensor.bay === bay) ?? [];
  return here.length === 0 ? null : (
    <section aria-labelledby="here">
      <h3 id="here">{words.say("sensors.here")}</h3>
      <ul class="rows">
        {here.map((sensor) => (
          <li key={sensor.sensor}>
            <a href={`#/sensors/check/${encodeURIComponent(sensor.sensor)}`}>
              <b>{sensor.sensor}</b> {sensor.reads.map((read) => valueWords(read, words)).join(", ")}
              <small>{checkedWords(sensor, now, words)}</small>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

function Card({ sensor, now, words }: { sensor: Sensor; now: Date; words: Words }): JSX.Element {
  const unsure = [...new Set(sensor.reads.map((read) => doubts(read, words)).filter((text) => text !== ""))];
  const about = [sensor.model, sensor.place].filter((text) => text !== "").join(", ");
  return (
    <article class="card">
      <h3>
        {sensor.sensor} <small>{words.bayTitle(sensor.bay)}</small>
      </h3>
      <dl class="figures">
        {sensor.reads.map((read) => (
          <div key={read.quantity}>
            <dt>{words.title(`words.quantity-${read.quantity}`)}</dt>
            <dd>{valueWords(read, words)}</dd>
          </div>
        ))}
      </dl>
      <p class="small">
        {sensor.heard ? words.say("sensors.heard", { ago: words.ago(now.getTime() - Date.parse(sensor.heard)) }) : words.say("sensors.not-heard")}{" "}
        {words.say(`sensors.from-${sensor.from}`)}
        {about !== "" && ` (${about})`}
      </p>
      {unsure.length > 0 && <p class="old">{words.say("sensors.not-believed", { doubts: unsure.join("; ") })}</p>}
      <p>{checkedWords(sensor, now, words)}</p>
      <div class="actions">
        <a class="button deed" href={`#/sensors/check/${encodeURIComponent(sensor.sensor)}`}>
          {words.say(sensor.checking ? "sensors.how-far" : "sensors.check")}
        </a>
        {sensor.from === "assigned" && (
          <button type="button" onClick={() => tell({ what: "sensor-retired", sensor: sensor.sensor }, words.say("sensors.retired", { sensor: sensor.sensor }))}>
            {words.say("sensors.retire")}
          </button>
        )}
      </div>
    </article>
  );
}

export function SensorsScreen({ words }: { words: Words }): JSX.Element {
  const { answer, failed } = useAsked<Sensors>(getSensors);
  const now = useNow();
  return (
    <>
      <Back to="#/settings">{words.say("settings.settings")}</Back>
      <div class="head">
        <Title words={words}>{words.say("sensors.sensors")}</Title>
        <a class="button primary deed" href="#/sensors/find">
          {words.say("sensors.find")}
        </a>
      </div>
      {failed && <p class="old">{words.say("sensors.failed")}</p>}
      {answer?.sensors.length === 0 && <p class="empty">{words.say("sensors.none")}</p>}
      <div class="cards">
        {answer?.sensors.map((sensor) => (
          <Card key={sensor.sensor} sensor={sensor} now={now} words={words} />
        ))}
      </div>
    </>
  );
}
