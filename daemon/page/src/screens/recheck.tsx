// A vehicle that was handed over: where to look when it comes back, and what was found.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { getEvents, type Piece, type Recheck, type RecordedEvent, type Vehicle, withdrawnIn, type ZoneKind } from "../data/api";
import { useAnswer } from "../parts/asked";
import { Course } from "../parts/course";
import { useWhen, type When, WhenBar } from "../parts/late";
import { Back, Choice, useNow } from "../parts/parts";
import { PersonalPart } from "../parts/personal";
import { RecordLinks } from "../parts/record_links";
import { laidNow } from "../parts/steps";
import { NoteForm } from "../parts/vehicle_more";
import { sentence, type Words } from "../words/words";

// `past`: it left the board long ago, and its course is no longer at hand. `applied`: the board's last event.
export function RecheckScreen(props: { vehicle: Vehicle; applied: number; past?: boolean; words: Words }): JSX.Element {
  const { vehicle, applied, past = false, words } = props;
  const now = useNow();
  const when = useWhen(words);
  const { answer } = useAnswer(() => getEvents(vehicle.id), [vehicle.id, applied]);
  const pieces = laidNow(vehicle);
  const places = pieces.map((piece) => ({ piece, look: whereToLook(piece, words) })).filter(({ look }) => look.length > 0);
  return (
    <>
      <Back to={past ? "#/handed-over" : "#/"}>{words.say(past ? "rechecks.handed-over" : "page.board")}</Back>
      <h2>
        {vehicle.reference} <small>{words.say("rechecks.released-at", { when: words.when(vehicle.released ?? "", now) })}</small>
      </h2>
      <p class="actions">
        <RecordLinks vehicle={vehicle} words={words} />
      </p>
      <PersonalPart vehicle={vehicle} words={words} />
      <section aria-labelledby="look">
        <h3 id="look">{words.say("rechecks.where-to-look")}</h3>
        {places.length === 0 && <p class="empty">{words.say("rechecks.look-everywhere")}</p>}
        <ul class="plain">
          {places.map(({ piece, look }) => (
            <li key={piece.id}>
              <b>{words.piece(piece)}</b>
              {look.map((line) => (
                <p key={line}>{line}</p>
              ))}
            </li>
          ))}
        </ul>
      </section>
      <WhenBar when={when} words={words} />
      {pieces.map((piece) => (
        <RecheckCard key={piece.id} vehicle={vehicle} piece={piece} recorded={answer?.events ?? []} past={past} words={words} when={when} />
      ))}
      <details>
        <summary>{words.say("vehicle.more", { reference: vehicle.reference })}</summary>
        <NoteForm vehicle={vehicle} words={words} when={when} />
      </details>
    </>
  );
}

function whereToLook(piece: Piece, words: Words): string[] {
  const { tension, relief_cuts, joins } = piece.notes;
  return [
    ...piece.early_steps.map((early) => words.say("rechecks.early", { step: sentence(words.done(early.step)), still_wet: words.fact(early.still_wet) })),
    ...(tension ? [words.say("rechecks.under-tension", { where: tension })] : []),
    ...(relief_cuts ? [words.about(words.say("lay.relief-cuts"), relief_cuts)] : []),
    ...(joins ? [words.about(words.say("lay.joins"), joins)] : []),
  ];
}

const findings: Recheck[] = ["sound", "lifting", "redone"];

function foundWords(found: RecordedEvent & { what: "rechecked" }, now: Date, words: Words): string {
  const values = { when: words.when(found.at, now), finding: words.say(`words.recheck-${found.finding}`) };
  return found.zone ? words.say("rechecks.found-at", { ...values, zone: words.zone(found.zone) }) : words.say("rechecks.found", values);
}

function RecheckCard(props: { vehicle: Vehicle; piece: Piece; recorded: RecordedEvent[]; past: boolean; words: Words; when: When }): JSX.Element {
  const { vehicle, piece, recorded, past, words, when } = props;
  const now = useNow();
  const name = words.piece(piece);
  const [where, setWhere] = useState<ZoneKind | "">("");
  const withdrawn = withdrawnIn(recorded);
  const found = recorded
    .flatMap((one) => (one.what === "rechecked" && one.piece === piece.id && !withdrawn.has(one.seq) ? [one] : []))
    .at(-1);
  return (
    <article class="card piece" aria-label={name}>
      <h3>{name}</h3>
      <p>
        {found ? foundWords(found, now, words) : words.say("rechecks.not-yet")}
      </p>
      <div class="deed">
        <Choice
          label={words.say("rechecks.where-if-it-lifts", { piece: name })}
          options={[
            { value: "", text: words.say("rechecks.not-said") },
            ...piece.zones.map((value) => ({ value, text: sentence(words.zone(value)) })),
          ]}
          value={where}
          onChoose={setWhere}
        />
      </div>
      <fieldset class="deed choice">
        <legend>{words.say("rechecks.found-legend")}</legend>
        <div>
          {findings.map((finding) => (
            <button
              type="button"
              key={finding}
              onClick={() =>
                when.tell(
                  { what: "rechecked", piece: piece.id, finding, ...(where && finding !== "sound" ? { zone: where } : {}) },
                  words.say("rechecks.said", { piece: name, finding: words.say(`words.recheck-${finding}`) }),
                )
              }
            >
              {words.title(`words.recheck-${finding}`)}
            </button>
          ))}
        </div>
      </fieldset>
      {!past && <Course vehicle={vehicle} piece={piece} words={words} />}
    </article>
  );
}
