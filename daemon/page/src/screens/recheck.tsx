// A vehicle that was handed over: where to look when it comes back, and what was found.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { getEvents, type Piece, type Recheck, type RecordedEvent, type Vehicle, withdrawnIn, type ZoneKind } from "../data/api";
import { useAnswer } from "../parts/asked";
import { PastCourse } from "../parts/course";
import { useWhen, type When, WhenBar } from "../parts/late";
import { Back, Sign, Title, useNow } from "../parts/parts";
import { PersonalPart } from "../parts/personal";
import { RecordLinks } from "../parts/record_links";
import { AnswerRow, PieceName } from "../parts/row";
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
  const recorded = answer?.events ?? [];
  const withdrawn = withdrawnIn(recorded);
  const foundOf = (piece: Piece): Found | undefined =>
    recorded.flatMap((one) => (one.what === "rechecked" && one.piece === piece.id && !withdrawn.has(one.seq) ? [one] : [])).at(-1);
  const unseen = answer === null ? [] : pieces.filter((piece) => !foundOf(piece));
  const places = pieces.map((piece) => ({ piece, look: whereToLook(piece, words) })).filter(({ look }) => look.length > 0);
  return (
    <>
      <Back to={past ? "#/handed-over" : "#/"}>{words.say(past ? "rechecks.handed-over" : "page.board")}</Back>
      <Title words={words}>
        {vehicle.reference} <small>{words.say("rechecks.released-at", { when: words.when(vehicle.released ?? "", now) })}</small>
      </Title>
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
      <section aria-labelledby="found">
        <h3 id="found">{words.say("rechecks.found-legend")}</h3>
        <ul class="bare">
          {pieces.map((piece) => (
            <RecheckRow key={piece.id} vehicle={vehicle} piece={piece} found={foundOf(piece)} past={past} words={words} when={when} />
          ))}
        </ul>
        {unseen.length > 1 && (
          <button
            type="button"
            class="primary wide deed"
            onClick={() =>
              when.tell(
                unseen.map((piece) => ({ what: "rechecked", piece: piece.id, finding: "sound" })),
                words.say("rechecks.all-said", { reference: vehicle.reference, count: unseen.length }),
              )
            }
          >
            {words.say("rechecks.all-sound", { count: unseen.length, some: unseen.length < pieces.length ? "yes" : "no" })}
          </button>
        )}
      </section>
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

const findings = ["sound", "lifting", "redone"] as const satisfies Recheck[];
type Found = RecordedEvent & { what: "rechecked" };

function foundWords(found: Found, now: Date, words: Words): string {
  const values = { when: words.when(found.at, now), finding: words.say(`words.recheck-${found.finding}`) };
  return found.zone ? words.say("rechecks.found-at", { ...values, zone: words.zone(found.zone) }) : words.say("rechecks.found", values);
}

// What was found is one tap; where it lifts is asked after it, and may be left unsaid.
function RecheckRow(props: { vehicle: Vehicle; piece: Piece; found: Found | undefined; past: boolean; words: Words; when: When }): JSX.Element {
  const { vehicle, piece, found, past, words, when } = props;
  const now = useNow();
  const name = words.piece(piece);
  const [where, setWhere] = useState<Recheck | null>(null);
  const [shown, show] = useState(false);
  const told = (finding: Recheck, zone?: ZoneKind): void => {
    setWhere(null);
    when.tell({ what: "rechecked", piece: piece.id, finding, ...(zone ? { zone } : {}) }, words.say("rechecks.said", { piece: name, finding: words.say(`words.recheck-${finding}`) }));
  };
  const label = (
    <>
      <PieceName piece={piece} words={words} apart />
      <small>{found ? foundWords(found, now, words) : words.say("rechecks.not-yet")}</small>
    </>
  );
  return (
    <li>
      <article aria-label={name}>
        <AnswerRow
          name={
            past ? (
              <span class="name">{label}</span>
            ) : (
              <a
                class="name"
                href={`#/vehicle/${vehicle.id}?piece=${piece.id}`}
                aria-expanded={shown}
                onClick={(event) => {
                  event.preventDefault();
                  show(!shown);
                }}
              >
                {label}
              </a>
            )
          }
        >
          <div class="deed sights" role="group" aria-label={name}>
            {findings.map((finding) => (
              <button type="button" class="sight" key={finding} onClick={() => (finding === "sound" ? told(finding) : setWhere(finding))}>
                <Sign of={finding} />
                <span>{words.title(`words.recheck-${finding}`)}</span>
              </button>
            ))}
          </div>
        </AnswerRow>
        {where && (
          <div class="choice where-seen" role="group" aria-label={words.say("vehicle.look-where", { finding: words.say(`words.recheck-${where}`) })}>
            <p>{words.say("vehicle.look-where", { finding: words.title(`words.recheck-${where}`) })}</p>
            <div>
              {piece.zones.map((zone) => (
                <button type="button" key={zone} onClick={() => told(where, zone)}>
                  {sentence(words.zone(zone))}
                </button>
              ))}
              <button type="button" onClick={() => told(where)}>
                {words.say("rechecks.not-said")}
              </button>
            </div>
          </div>
        )}
        {shown && <PastCourse vehicle={vehicle} piece={piece} words={words} />}
      </article>
    </li>
  );
}
