// Finding sensors: the daemon listens on every topic for a minute; a tap on a bay sets one up.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Back } from "../parts/parts";
import { quantityWords, useAsked } from "./sensors";
import { getSearch, type ProposedSensor, type SensorSearch, startSearch } from "../data/api";
import { tell } from "../data/store";

const seconds = 60;

function Found({ proposal, bays }: { proposal: ProposedSensor; bays: string[] }): JSX.Element {
  const [name, setName] = useState(proposal.name);
  const assign = (bay: string): void => {
    const reads = proposal.reads.map(({ sample: _, ...read }) => read);
    tell({ what: "sensor-assigned", sensor: name.trim(), bay, reads }, `${name.trim()} set up in ${bay}`);
    location.hash = "#/sensors";
  };
  return (
    <article class="card">
      <h3>{proposal.name}</h3>
      <ul class="plain">
        {proposal.reads.map((read) => (
          <li key={read.quantity}>
            <b>{quantityWords[read.quantity]}</b> {read.sample} ({read.unit})
            <br />
            <small>
              {read.topic} {read.pointer}
            </small>
          </li>
        ))}
      </ul>
      {proposal.guesses.map((guess) => (
        <p class="small" key={guess}>
          Guessed: {guess}.
        </p>
      ))}
      <label class="field">
        <span>Name</span>
        <input value={name} maxLength={60} onInput={(event) => setName(event.currentTarget.value)} />
      </label>
      <fieldset class="choice">
        <legend>It hangs in bay</legend>
        <div>
          {bays.map((bay) => (
            <button type="button" key={bay} disabled={name.trim() === ""} onClick={() => assign(bay)}>
              {bay}
            </button>
          ))}
        </div>
      </fieldset>
    </article>
  );
}

export function SensorFindScreen({ bays }: { bays: string[] }): JSX.Element {
  const { answer } = useAsked<SensorSearch>(getSearch, 2000);
  const [refused, setRefused] = useState("");
  const listen = (): void => {
    setRefused("");
    startSearch(seconds).catch((error: unknown) => setRefused(error instanceof Error ? error.message : "It could not be started."));
  };
  useEffect(listen, []);
  const others = answer?.topics.filter((topic) => topic.kind !== "readings") ?? [];
  const hint = { availability: " (a device is there)", taken: " (set up already)", other: "", readings: "" };
  return (
    <>
      <Back to="#/sensors">Sensors</Back>
      <h2>Find sensors</h2>
      {refused !== "" && <p class="old">{refused}</p>}
      <p role="status">
        {answer?.running
          ? "Listening on every topic of the broker. What sends seldom takes a while."
          : "Listened. Readings are not kept from this."}
      </p>
      {answer && !answer.running && (
        <button type="button" onClick={listen}>
          Listen again
        </button>
      )}
      {answer?.sensors.length === 0 && <p class="empty">Nothing yet that looks like temperature or humidity.</p>}
      <div class="cards">
        {answer?.sensors.map((proposal) => (
          <Found key={proposal.name} proposal={proposal} bays={bays} />
        ))}
      </div>
      {others.length > 0 && (
        <details>
          <summary>{others.length} other topics</summary>
          <ul class="plain">
            {others.map((topic) => (
              <li key={topic.topic}>
                {topic.topic}
                {hint[topic.kind]}
                <br />
                <small>{topic.payload.slice(0, 80)}</small>
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}
