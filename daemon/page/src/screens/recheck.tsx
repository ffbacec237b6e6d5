// A vehicle that was handed over: where to look when it comes back, and what was found.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { getEvents, type Piece, type Recheck, type RecordedEvent, type Vehicle, type ZoneKind } from "../data/api";
import { Course } from "../parts/course";
import { useWhen, type When, WhenBar } from "../parts/late";
import { Back, Choice, laidNow, useNow } from "../parts/parts";
import { PersonalPart } from "../parts/personal";
import { RecordLinks } from "../parts/record_links";
import { NoteForm } from "../parts/vehicle_more";
import { earlyWords, sentence, type Words, zoneWords } from "../words/words";

// `past`: it left the board long ago, and its course is no longer at hand. `applied`: the board's last event.
export function RecheckScreen(props: { vehicle: Vehicle; applied: number; past?: boolean; words: Words }): JSX.Element {
  const { vehicle, applied, past = false, words } = props;
  const now = useNow();
  const when = useWhen(words);
  const [told, setTold] = useState<RecordedEvent[]>([]);
  useEffect(() => {
    let current = true;
    getEvents(vehicle.id)
      .then(({ events }) => current && setTold(events))
      .catch(() => undefined); // the link's state tells
    return () => {
      current = false;
    };
  }, [vehicle.id, applied]);
  const pieces = laidNow(vehicle);
  const places = pieces.map((piece) => ({ piece, look: whereToLook(piece, words) })).filter(({ look }) => look.length > 0);
  return (
    <>
      <Back to={past ? "#/handed-over" : "#/"}>{past ? "Handed over" : "Board"}</Back>
      <h2>
        {vehicle.reference} <small>released {words.when(vehicle.released ?? "", now)}</small>
      </h2>
      <p class="actions">
        <RecordLinks vehicle={vehicle} />
      </p>
      <PersonalPart vehicle={vehicle} />
      <section aria-labelledby="look">
        <h3 id="look">Where to look at the recheck</h3>
        {places.length === 0 && <p class="empty">No step was early and nothing was noted: look at every edge.</p>}
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
      <WhenBar when={when} />
      {pieces.map((piece) => (
        <RecheckCard key={piece.id} vehicle={vehicle} piece={piece} told={told} past={past} words={words} when={when} />
      ))}
      <details>
        <summary>More for {vehicle.reference}</summary>
        <NoteForm vehicle={vehicle} when={when} />
      </details>
    </>
  );
}

function whereToLook(piece: Piece, words: Words): string[] {
  const { tension, relief_cuts, joins } = piece.notes;
  return [
    ...piece.early_steps.map((early) => `${sentence(earlyWords(early.step))} early, still wet then: ${words.sentence(early.still_wet)}`),
    ...(tension ? [`Under tension: ${tension}`] : []),
    ...(relief_cuts ? [`Relief cuts: ${relief_cuts}`] : []),
    ...(joins ? [`Joins: ${joins}`] : []),
  ];
}

const findings: { finding: Recheck; text: string }[] = [
  { finding: "sound", text: "Sound" },
  { finding: "lifting", text: "Lifting" },
  { finding: "redone", text: "Redone" },
];

function RecheckCard(props: { vehicle: Vehicle; piece: Piece; told: RecordedEvent[]; past: boolean; words: Words; when: When }): JSX.Element {
  const { vehicle, piece, told, past, words, when } = props;
  const now = useNow();
  const name = words.piece(piece);
  const [where, setWhere] = useState<ZoneKind | "">("");
  const withdrawn = new Set(told.flatMap((one) => (one.what === "superseded" ? [one.event] : [])));
  const found = told
    .flatMap((one) => (one.what === "rechecked" && one.piece === piece.id && !withdrawn.has(one.seq) ? [one] : []))
    .at(-1);
  return (
    <article class="card piece" aria-label={name}>
      <h3>{name}</h3>
      <p>
        {found
          ? `Rechecked ${words.when(found.at, now)}: ${found.finding}${found.zone ? ` at the ${zoneWords[found.zone].toLowerCase()}` : ""}`
          : "Not rechecked yet."}
      </p>
      <div class="deed">
        <Choice
          label={`${name}: where, if it lifts`}
          options={[{ value: "", text: "Not said" }, ...piece.state.zones.map(({ kind }) => ({ value: kind, text: zoneWords[kind] }))]}
          value={where}
          onChoose={setWhere}
        />
      </div>
      <fieldset class="deed choice">
        <legend>Found at the recheck</legend>
        <div>
          {findings.map(({ finding, text }) => (
            <button
              type="button"
              key={finding}
              onClick={() =>
                when.tell(
                  { what: "rechecked", piece: piece.id, finding, ...(where && finding !== "sound" ? { zone: where } : {}) },
                  `${name}: ${finding} at the recheck${when.after}`,
                )
              }
            >
              {text}
            </button>
          ))}
        </div>
      </fieldset>
      {!past && <Course vehicle={vehicle} piece={piece} words={words} />}
    </article>
  );
}
