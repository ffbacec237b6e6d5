// The sensors: what each says, how far it is believed, and what to do with it.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Back, useNow } from "../parts/parts";
import { getSensors, type Sensor, type SensorStream, type Sensors } from "../data/api";
import { tell, useKnown } from "../data/store";
import { agoWords, type Words } from "../words/words";

// What `get` answers: asked again every few seconds, and when something was told.
export function useAsked<T>(get: () => Promise<T>, every = 5000): { answer: T | null; failed: boolean } {
  const [state, setState] = useState<{ answer: T | null; failed: boolean }>({ answer: null, failed: false });
  const { last } = useKnown();
  useEffect(() => {
    let current = true;
    const ask = (): void => {
      get()
        .then((answer) => current && setState({ answer, failed: false }))
        .catch(() => current && setState((before) => ({ ...before, failed: true })));
    };
    ask();
    const timer = setInterval(ask, every);
    return () => {
      current = false;
      clearInterval(timer);
    };
  }, [get, every, last]);
  return state;
}

export const quantityWords: Record<SensorStream["quantity"], string> = {
  "air-temperature": "Air",
  "relative-humidity": "Humidity",
  "panel-temperature": "Panel",
  "air-speed": "Air speed",
};

export function valueWords(read: SensorStream, words: Words): string {
  if (read.value === null) {
    return "nothing yet";
  }
  if (read.quantity === "relative-humidity") {
    return `${read.value.toFixed(1)} %`;
  }
  return read.quantity === "air-speed" ? `${read.value.toFixed(1)} m/s` : words.temperature(read.value);
}

function doubts(read: SensorStream): string {
  return Object.entries(read.counts)
    .filter(([verdict, count]) => verdict !== "ok" && count > 0)
    .map(([verdict, count]) => `${verdict.replace("-", " ")} ${count}`)
    .join(", ");
}

export const verdictWords = {
  agrees: "agrees with the salt",
  doubtful: "off by less than the check can tell",
  off: "off",
};

function checkedWords(sensor: Sensor, now: Date, words: Words): string {
  if (sensor.checking) {
    return `Being checked over ${sensor.checking.salt}: its readings are not the bay's.`;
  }
  return sensor.last_check
    ? `Checked ${words.when(sensor.last_check.at, now)}: ${verdictWords[sensor.last_check.result.verdict]}.`
    : "Never checked against a salt.";
}

// Of one bay, for its screen.
export function SensorsHere({ bay, words }: { bay: string; words: Words }): JSX.Element | null {
  const { answer } = useAsked<Sensors>(getSensors, 30_000);
  const now = useNow();
  const here = answer?.sensors.filter((sensor) => sensor.bay === bay) ?? [];
  return here.length === 0 ? null : (
    <section aria-labelledby="here">
      <h3 id="here">Sensors here</h3>
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
  const unsure = [...new Set(sensor.reads.map(doubts).filter((text) => text !== ""))];
  const about = [sensor.model, sensor.place].filter((text) => text !== "").join(", ");
  return (
    <article class="card">
      <h3>
        {sensor.sensor} <small>bay {sensor.bay}</small>
      </h3>
      <dl class="figures">
        {sensor.reads.map((read) => (
          <div key={read.quantity}>
            <dt>{quantityWords[read.quantity]}</dt>
            <dd>{valueWords(read, words)}</dd>
          </div>
        ))}
      </dl>
      <p class="small">
        {sensor.heard ? `Last heard ${agoWords(now.getTime() - Date.parse(sensor.heard))}.` : "Not heard of yet."}{" "}
        {sensor.from === "file" ? "Set up in the configuration file." : "Set up here."}
        {about !== "" && ` (${about})`}
      </p>
      {unsure.length > 0 && <p class="old">Not believed: {unsure.join("; ")}</p>}
      <p>{checkedWords(sensor, now, words)}</p>
      <div class="actions">
        <a class="button deed" href={`#/sensors/check/${encodeURIComponent(sensor.sensor)}`}>
          {sensor.checking ? "How far is it?" : "Check"}
        </a>
        {sensor.from === "assigned" && (
          <button type="button" onClick={() => tell({ what: "sensor-retired", sensor: sensor.sensor }, `${sensor.sensor} retired`)}>
            Retire
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
      <Back to="#/settings">Settings</Back>
      <div class="head">
        <h2>Sensors</h2>
        <a class="button primary deed" href="#/sensors/find">
          Find sensors
        </a>
      </div>
      {failed && <p class="old">The daemon could not be asked. Try again when the connection is back.</p>}
      {answer?.sensors.length === 0 && <p class="empty">No sensor is set up. Find what the broker has to offer.</p>}
      <div class="cards">
        {answer?.sensors.map((sensor) => (
          <Card key={sensor.sensor} sensor={sensor} now={now} words={words} />
        ))}
      </div>
    </>
  );
}
