// Finding sensors: the daemon listens on every topic for a minute; a tap on a bay sets one up.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { useAsked } from "../parts/asked";
import { Back, Title } from "../parts/parts";
import { getSearch, type FoundTopic, type ProposedSensor, Refusal, type SensorSearch, startSearch } from "../data/api";
import { tell } from "../data/store";
import type { Words } from "../words/words";

const seconds = 60;

function unitWords(unit: ProposedSensor["reads"][number]["unit"], words: Words): string {
  return unit === "fraction" ? words.say("units.fraction") : unit === "C" || unit === "F" ? `°${unit}` : unit;
}

function Found({ proposal, bays, words }: { proposal: ProposedSensor; bays: string[]; words: Words }): JSX.Element {
  const [name, setName] = useState(proposal.name);
  const assign = (bay: string): void => {
    const reads = proposal.reads.map(({ sample: _, ...read }) => read);
    tell({ what: "sensor-assigned", sensor: name.trim(), bay, reads }, words.say("sensors.set-up-in", { sensor: name.trim(), bay: words.bay(bay) }));
    location.hash = "#/sensors";
  };
  return (
    <article class="card">
      <h3>{proposal.name}</h3>
      <ul class="plain">
        {proposal.reads.map((read) => (
          <li key={read.quantity}>
            <b>{words.title(`words.quantity-${read.quantity}`)}</b> {read.sample} ({unitWords(read.unit, words)})
            <br />
            <small>
              {read.topic} {read.pointer}
            </small>
          </li>
        ))}
      </ul>
      {proposal.guesses.map((guess, index) => (
        <p class="small" key={index}>
          {words.say("sensors.guessed", { guess: words.fact(guess) })}
        </p>
      ))}
      <label class="field">
        <span>{words.say("sensors.name")}</span>
        <input value={name} maxLength={60} onInput={(event) => setName(event.currentTarget.value)} />
      </label>
      <fieldset class="choice">
        <legend>{words.say("sensors.hangs-in")}</legend>
        <div>
          {bays.map((bay) => (
            <button type="button" key={bay} disabled={name.trim() === ""} onClick={() => assign(bay)}>
              {words.bay(bay)}
            </button>
          ))}
        </div>
      </fieldset>
    </article>
  );
}

export function SensorFindScreen({ bays, words }: { bays: string[]; words: Words }): JSX.Element {
  const { answer } = useAsked<SensorSearch>(getSearch, 2000);
  const [refused, setRefused] = useState("");
  const listen = (): void => {
    setRefused("");
    startSearch(seconds).catch((error: unknown) => setRefused(error instanceof Refusal ? error.message : words.say("page.no-answer-later")));
  };
  useEffect(listen, []);
  const others = answer?.topics.filter((topic) => topic.kind !== "readings") ?? [];
  const topicWords = (topic: FoundTopic): string =>
    topic.kind === "availability" || topic.kind === "taken" ? words.say(`sensors.topic-${topic.kind}`, { topic: topic.topic }) : topic.topic;
  return (
    <>
      <Back to="#/sensors">{words.say("sensors.sensors")}</Back>
      <Title words={words}>{words.say("sensors.find")}</Title>
      {refused !== "" && <p class="old">{refused}</p>}
      {answer?.started && <p role="status">{words.say(answer.running ? "sensors.listening" : "sensors.listened")}</p>}
      {answer && !answer.running && (
        <button type="button" onClick={listen}>
          {words.say("sensors.listen-again")}
        </button>
      )}
      {answer?.sensors.length === 0 && <p class="empty">{words.say("sensors.nothing-found")}</p>}
      <div class="cards">
        {answer?.sensors.map((proposal) => (
          <Found key={proposal.name} proposal={proposal} bays={bays} words={words} />
        ))}
      </div>
      {others.length > 0 && (
        <details>
          <summary>{words.say("sensors.other-topics", { count: others.length })}</summary>
          <ul class="plain">
            {others.map((topic) => (
              <li key={topic.topic}>
                {topicWords(topic)}
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
