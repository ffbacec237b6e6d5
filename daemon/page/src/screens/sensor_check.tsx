// A sensor in a box over a saturated salt solution: what to do, how far it is, what came out.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { Back, Choice, useNow } from "../parts/parts";
import { useAsked, verdictWords } from "./sensors";
import { getSensors, type Salt, type Sensor, type Sensors } from "../data/api";
import { tell } from "../data/store";
import type { Words } from "../words/words";

const saltNames: Record<Salt, string> = {
  NaCl: "Table salt",
  MgCl2: "Magnesium chloride",
  K2CO3: "Potassium carbonate",
  LiCl: "Lithium chloride",
  KCl: "Potassium chloride",
  K2SO4: "Potassium sulphate",
};
const usual: Salt[] = ["NaCl", "MgCl2"];

function Begin({ sensor, answer }: { sensor: Sensor; answer: Sensors }): JSX.Element {
  const [salt, setSalt] = useState<Salt>("NaCl");
  const text = (one: Salt): string => {
    const known = answer.salts.find((entry) => entry.salt === one);
    return `${saltNames[one]}: ${known?.expected_pct?.toFixed(1) ?? "?"} %`;
  };
  return (
    <>
      <Choice label="Over which salt (at 20 °C)" options={usual.map((value) => ({ value, text: text(value) }))} value={salt} onChoose={setSalt} />
      <ol>
        <li>A glass with a tight lid, a few spoons of the salt, just enough distilled water that it is like wet sand. Undissolved salt must be seen all the time. Table salt without additives.</li>
        <li>Hang the sensor above it. No drop may touch it. Close the lid.</li>
        <li>Not in the sun, not in a draught, no heater near: wrap it in a towel. 0.2 K across the glass is 1.2 % of the humidity.</li>
        <li>Leave it for 6 hours at the least, better 12. It ends by itself after 24.</li>
      </ol>
      <p class="small">Its readings are kept, and do not count for bay {sensor.bay} meanwhile. If it is the bay's only sensor, the estimates wait.</p>
      <button
        type="button"
        class="primary wide"
        onClick={() => tell({ what: "sensor-check-started", sensor: sensor.sensor, salt }, `${sensor.sensor} goes over ${salt}`)}
      >
        It lies in the box now
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
        Over {saltNames[checking.salt]} since {words.when(checking.since, now)}.
      </p>
      {checking.shown_pct !== null && checking.temperature_c !== null && (
        <dl class="figures">
          <div>
            <dt>Shows</dt>
            <dd>{checking.shown_pct.toFixed(1)} %</dd>
          </div>
          <div>
            <dt>At</dt>
            <dd>{words.temperature(checking.temperature_c)}</dd>
          </div>
        </dl>
      )}
      <p role="status">{words.sentence(checking.text)}</p>
      {result && (
        <button type="button" class="primary wide" onClick={() => tell(result, `${sensor.sensor} checked`)}>
          Keep this result
        </button>
      )}
      <button type="button" onClick={() => tell({ what: "sensor-check-ended", sensor: sensor.sensor }, "Check given up")}>
        Give it up
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
      <h3 id="last">Last check</h3>
      <p>
        {words.when(last.at, now)} over {saltNames[salt]}: it showed {shown_pct.toFixed(1)} %, {expected_pct.toFixed(1)} % was
        expected: {verdictWords[verdict]}.
      </p>
      {last.current && slope != null && offset != null && (
        <>
          <p class="small">The other salt of the pair tells slope and offset; one alone tells an offset.</p>
          <button
            type="button"
            onClick={() =>
              tell({ what: "sensor-corrected", sensor: sensor.sensor, quantity: "relative-humidity", slope, offset }, `${sensor.sensor} corrected`)
            }
          >
            Correct from now on: slope {slope}, offset {offset}
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
      <Back to="#/sensors">Sensors</Back>
      <h2>Check {name}</h2>
      {answer && !sensor && <p class="empty">There is no such sensor.</p>}
      {answer && sensor && (sensor.checking ? <Under sensor={sensor} words={words} /> : <Begin sensor={sensor} answer={answer} />)}
      {sensor && <Last sensor={sensor} words={words} />}
    </>
  );
}
