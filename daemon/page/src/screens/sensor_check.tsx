// A sensor in a box over a saturated salt solution: what to do, how far it is, what came out.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { useAsked } from "../parts/asked";
import { Back, Choice, Title, useNow } from "../parts/parts";
import { getSensors, type Salt, type Sensor, type Sensors } from "../data/api";
import { tell } from "../data/store";
import { sentence, type Words } from "../words/words";

const saltWords = (salt: Salt, words: Words): string => words.say(`sensors.salt-${salt}`);
const usual: Salt[] = ["NaCl", "MgCl2"];

function Begin({ sensor, answer, words }: { sensor: Sensor; answer: Sensors; words: Words }): JSX.Element {
  const [salt, setSalt] = useState<Salt>("NaCl");
  const text = (one: Salt): string => {
    const known = answer.salts.find((entry) => entry.salt === one);
    const expected = known?.expected_pct == null ? "?" : words.percent(known.expected_pct, 1);
    return words.about(sentence(saltWords(one, words)), expected);
  };
  return (
    <>
      <Choice
        label={words.say("sensors.which-salt", { temperature: words.temperature(20) })}
        options={usual.map((value) => ({ value, text: text(value) }))}
        value={salt}
        onChoose={setSalt}
      />
      <ol>
        <li>{words.say("sensors.check-1")}</li>
        <li>{words.say("sensors.check-2")}</li>
        <li>{words.say("sensors.check-3", { difference: words.difference(0.2), humidity: words.percent(1.2, 1) })}</li>
        <li>{words.say("sensors.check-4")}</li>
      </ol>
      <p class="small">{words.say("sensors.check-meanwhile", { bay: words.bay(sensor.bay) })}</p>
      <button
        type="button"
        class="primary wide"
        onClick={() => {
          const said = words.say("sensors.goes-over", { sensor: sensor.sensor, salt: saltWords(salt, words) });
          tell({ what: "sensor-check-started", sensor: sensor.sensor, salt }, said);
        }}
      >
        {words.say("sensors.in-the-glass")}
      </button>
    </>
  );
}

function Under({ sensor, words }: { sensor: Sensor; words: Words }): JSX.Element | null {
  const now = useNow();
  const { checking } = sensor;
  if (!checking) {
    return null;
  }
  const { result } = checking;
  return (
    <>
      <p>
        {words.say("sensors.over-since", { salt: saltWords(checking.salt, words), when: words.when(checking.since, now) })}
      </p>
      {checking.shown_pct !== null && checking.temperature_c !== null && (
        <dl class="figures">
          <div>
            <dt>{words.say("sensors.shows")}</dt>
            <dd>{words.percent(checking.shown_pct, 1)}</dd>
          </div>
          <div>
            <dt>{words.say("sensors.at")}</dt>
            <dd>{words.temperature(checking.temperature_c)}</dd>
          </div>
        </dl>
      )}
      <p role="status">{words.sentence(checking.what)}</p>
      {result && (
        <button type="button" class="primary wide" onClick={() => tell(result, words.say("sensors.checked", { sensor: sensor.sensor }))}>
          {words.say("sensors.keep-result")}
        </button>
      )}
      <button type="button" onClick={() => tell({ what: "sensor-check-ended", sensor: sensor.sensor }, words.say("sensors.given-up"))}>
        {words.say("sensors.give-up")}
      </button>
    </>
  );
}

function Last({ sensor, words }: { sensor: Sensor; words: Words }): JSX.Element | null {
  const now = useNow();
  const last = sensor.last_check;
  if (!last) {
    return null;
  }
  const { slope, offset, salt, shown_pct, expected_pct, verdict } = last.result;
  return (
    <section aria-labelledby="last">
      <h3 id="last">{words.say("sensors.last-check")}</h3>
      <p>
        {words.say("sensors.check-gave", {
          when: words.when(last.at, now),
          salt: saltWords(salt, words),
          shown: words.percent(shown_pct, 1),
          expected: words.percent(expected_pct, 1),
          verdict: words.say(`sensors.verdict-${verdict}`),
        })}
      </p>
      {last.current && slope != null && offset != null && (
        <>
          <p class="small">{words.say("sensors.pair")}</p>
          <button
            type="button"
            onClick={() => {
              const said = words.say("sensors.corrected", { sensor: sensor.sensor });
              tell({ what: "sensor-corrected", sensor: sensor.sensor, quantity: "relative-humidity", slope, offset }, said);
            }}
          >
            {words.say("sensors.correct", { slope: words.number(slope, 4), offset: words.number(offset, 4) })}
          </button>
        </>
      )}
    </section>
  );
}

export function SensorCheckScreen({ name, words }: { name: string; words: Words }): JSX.Element {
  const { answer } = useAsked<Sensors>(getSensors);
  const sensor = answer?.sensors.find((one) => one.sensor === name);
  return (
    <>
      <Back to="#/sensors">{words.say("sensors.sensors")}</Back>
      <Title words={words}>{words.say("sensors.check-sensor", { sensor: name })}</Title>
      {answer && !sensor && <p class="empty">{words.say("sensors.no-such")}</p>}
      {answer && sensor && (sensor.checking ? <Under sensor={sensor} words={words} /> : <Begin sensor={sensor} answer={answer} words={words} />)}
      {sensor && <Last sensor={sensor} words={words} />}
    </>
  );
}
