// What the shop has shown of its films, its hands and its eyes: what the estimates rest on.
import type { JSX } from "preact";
import { getLearned, type Learned, type LearnedFilm, type Quantiles } from "../data/api";
import { tell } from "../data/store";
import { useAsked } from "../parts/asked";
import { Back, Title, useNow } from "../parts/parts";
import type { Words } from "../words/words";

const factor = (value: number | null, words: Words): string => words.number(value ?? 1, 2);
const rangeOf = ({ low, likely, high }: Quantiles, words: Words): { low: string; likely: string; high: string } => ({
  low: factor(low, words),
  likely: factor(likely, words),
  high: factor(high, words),
});

function Film({ film, words }: { film: LearnedFilm; words: Words }): JSX.Element {
  const { looks, pieces, measurement, known } = film;
  return (
    <li>
      {words.say("learned.film", {
        film: words.film(film.film),
        ...rangeOf(film.resistance, words),
        measured: measurement === 0 ? "no" : "yes",
        looks,
        pieces,
      })}{" "}
      <small>{words.say(known ? "learned.film-known" : "learned.film-new")}</small>
    </li>
  );
}

function Shown({ learned, words }: { learned: Learned; words: Words }): JSX.Element {
  const now = useNow();
  const { looks, pieces, since } = learned;
  return (
    <>
      <p role="status">{looks === 0 ? words.say("learned.none") : words.say("learned.rests", { looks, pieces })}</p>
      {since && <p class="small">{words.say("learned.since", { when: words.when(since, now) })}</p>}
      <section aria-labelledby="hands">
        <h3 id="hands">{words.say("learned.hands")}</h3>
        <p>
          <b>{words.say("learned.water", rangeOf(learned.water, words))}</b>{" "}
          {words.say("learned.unlike", { factor: factor(learned.unlike, words) })}
        </p>
        <ul class="plain">
          {learned.zones.map((zone) => (
            <li key={zone.zone}>{words.say("learned.zone", { zone: words.zone(zone.zone), looks: zone.looks, pieces: zone.pieces })}</li>
          ))}
        </ul>
      </section>
      {learned.films.length > 0 && (
        <section aria-labelledby="films">
          <h3 id="films">{words.say("learned.films")}</h3>
          <ul class="plain">
            {learned.films.map((film) => (
              <Film key={`${film.film} ${film.measurement}`} film={film} words={words} />
            ))}
          </ul>
        </section>
      )}
      <section aria-labelledby="eyes">
        <h3 id="eyes">{words.say("learned.eyes")}</h3>
        <p>{words.say("learned.eye", rangeOf(learned.eye, words))}</p>
        <p class="small">{words.say("learned.range")}</p>
      </section>
      {looks > 0 && (
        <section aria-label={words.say("learned.anew")}>
          <p class="small">{words.say("learned.anew-hint")}</p>
          <button
            type="button"
            class="wide"
            onClick={() => tell({ what: "learn-anew", since: now.toISOString() }, words.say("learned.anew-done", { when: words.when(now.toISOString(), now) }))}
          >
            {words.say("learned.anew")}
          </button>
        </section>
      )}
    </>
  );
}

export function LearnedScreen({ words }: { words: Words }): JSX.Element {
  const { answer, failed } = useAsked<Learned>(getLearned);
  return (
    <>
      <Back to="#/settings">{words.say("settings.settings")}</Back>
      <Title words={words}>{words.say("learned.title")}</Title>
      {failed && <p class="old">{words.say("page.no-answer")}</p>}
      {answer && <Shown learned={answer} words={words} />}
    </>
  );
}
