// Witness plates: film on clear plates, looked at as they dry.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { type Catalogue, getPlates, type Plate, type Wetness, type ZoneKind } from "../data/api";
import { useAsked } from "../parts/asked";
import { Back, Choice, FilmPick, Pick, Title, Toggles, useNow } from "../parts/parts";
import { PlateLook } from "../parts/plate_look";
import { tell } from "../data/store";
import { sentence, type Words } from "../words/words";

function Watched({ plate, words }: { plate: Plate; words: Words }): JSX.Element {
  const now = useNow();
  return (
    <article class="card">
      <h3>
        {words.film(plate.film)} {plate.lot && <small>{words.say("lay.lot-of", { lot: plate.lot })}</small>} <small>{words.bayTitle(plate.bay)}</small>
      </h3>
      <p class="small">{words.say("plate.laid-at", { when: words.when(plate.laid, now) })}</p>
      <p role="status">{words.sentence(plate.what)}</p>
      <ul class="plain">
        {plate.seen.map(({ event, at, zone, sign }) => (
          <li key={event}>
            {words.when(at, now)}: <b>{sentence(words.about(words.zone(zone), words.plateSign(sign)))}</b>
          </li>
        ))}
      </ul>
      {!plate.over &&
        plate.zones.map(({ kind, tenth_chance, look }) => (
          <div key={kind} class={look ? "next look" : ""}>
            <PlateLook plate={plate.plate} zone={kind} question={sentence(words.say("plate.question", { zone: words.zone(kind) }))} words={words} />
            {tenth_chance !== null && <p class="small">{sentence(words.say("plate.chance", { share: words.chance(tenth_chance) }))}</p>}
          </div>
        ))}
    </article>
  );
}

const kinds: ZoneKind[] = ["edge", "recess", "field"];

export function PlateScreen({ catalogue, bays, words }: { catalogue: Catalogue; bays: string[]; words: Words }): JSX.Element {
  const { answer } = useAsked<{ plates: Plate[] }>(getPlates);
  const [film, setFilm] = useState(catalogue.films[0]?.key ?? "");
  const [solution, setSolution] = useState(catalogue.solutions[0]?.key ?? "");
  const [wetness, setWetness] = useState<Wetness>("usual");
  const [strips, setStrips] = useState<ZoneKind[]>(["edge", "recess"]);
  const [bay, setBay] = useState(bays[0] ?? "");
  const [lot, setLot] = useState("");
  return (
    <>
      <Back to="#/settings">{words.say("settings.settings")}</Back>
      <Title words={words}>{words.say("plate.title")}</Title>
      <div class="cards">
        {answer?.plates.map((plate) => (
          <Watched key={plate.plate} plate={plate} words={words} />
        ))}
      </div>
      <section aria-labelledby="begin">
        <h3 id="begin">{words.say("plate.begin")}</h3>
        <p class="small">{words.say("plate.how")}</p>
        <FilmPick catalogue={catalogue} value={film} words={words} onPick={setFilm} />
        <label class="field">
          <span>{words.say("coupon.lot")}</span>
          <input value={lot} maxLength={60} onInput={(event) => setLot(event.currentTarget.value)} />
        </label>
        <Pick
          label={words.say("lay.solution")}
          options={catalogue.solutions.map(({ key }) => ({ key, label: words.solution(key) }))}
          value={solution}
          onPick={setSolution}
        />
        <Choice
          label={words.say("lay.after-squeegee")}
          options={(["dry-pulled", "usual", "wet"] as const).map((value) => ({ value, text: sentence(words.wetness(value)) }))}
          value={wetness}
          onChoose={setWetness}
        />
        <Toggles
          label={words.say("plate.strips")}
          options={kinds.map((value) => ({ value, text: sentence(words.zone(value)) }))}
          values={strips}
          onChange={setStrips}
        />
        <p class="small">{words.say("plate.several")}</p>
        <Choice label={words.say("coupon.beside")} options={bays.map((value) => ({ value, text: words.bay(value) }))} value={bay} onChoose={setBay} />
        <button
          type="button"
          class="primary wide"
          disabled={strips.length === 0}
          onClick={() => tell({ what: "plate-laid", film, lot: lot.trim(), bay, solution, wetness, strips }, words.say("plate.plate-laid"))}
        >
          {words.title("lay.laid-now", { again: "no" })}
        </button>
      </section>
    </>
  );
}
