// How a piece dried so far: asked for and drawn only when it is opened.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { getEvents, getHistory, type Piece, type RecordedEvent, type Vehicle, withdrawnIn } from "../data/api";
import type { Mark } from "../plots/plot_course";
import { useAnswer } from "./asked";
import { Drawn } from "./drawn";
import { heatWords } from "./heat";
import { useNow } from "./parts";
import { sentence, steps, type Words } from "../words/words";

interface NamedMark extends Mark {
  name: string;
}

interface Props {
  vehicle: Vehicle;
  piece: Piece;
  words: Words;
}

export function Course(props: Props): JSX.Element {
  const [open, setOpen] = useState(false);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{props.words.say("course.course")}</summary>
      {open && <PastCourse {...props} />}
    </details>
  );
}

export function PastCourse({ vehicle, piece, words }: Props): JSX.Element {
  const now = useNow();
  // Whatever happens to the piece brings a new board, and with it another `piece`.
  const state = JSON.stringify([piece.as_of, piece.early_steps, piece.wrapped, piece.trimmed, piece.refitted]);
  const { answer: past, failed } = useAnswer(async () => {
    const [{ points }, { events }] = await Promise.all([getHistory(piece.id), getEvents(vehicle.id)]);
    return { points, marks: marksOf(vehicle, piece, events, words) };
  }, [vehicle.id, piece.id, state, words]);
  const zones = piece.zones.map((kind) => ({ kind, name: sentence(words.zone(kind)) }));

  return (
    <>
      {failed && <p class="old">{words.say("course.failed")}</p>}
      {past?.points.length === 0 && <p class="empty">{words.say("course.nothing")}</p>}
      <Drawn
        class="plots course"
        draw={past && past.points.length > 0 ? ({ drawCourse }, place) => drawCourse(place, past.points, zones, past.marks, words) : null}
        on={[past, words]}
        failed={words.say("course.failed")}
      />
      {past && (
        <ol class="marks">
          {past.marks.map((mark, index) => (
            <li key={index}>
              <b class={mark.ready ? "round" : ""}>{index + 1}</b> {mark.name} <span>{words.when(mark.at, now)}</span>
            </li>
          ))}
        </ol>
      )}
      <p class="small">{words.say("course.legend")}</p>
    </>
  );
}

// What was done to the piece, or to its vehicle while it lay on it, in order of time.
function marksOf(vehicle: Vehicle, piece: Piece, recorded: RecordedEvent[], words: Words): NamedMark[] {
  const withdrawn = withdrawnIn(recorded);
  const until = piece.removed ?? vehicle.pieces.find((one) => one.id === piece.replaced_by)?.laid ?? null;
  const marks: NamedMark[] = [{ at: new Date(piece.laid), ready: false, name: words.title("vehicle.event-lay") }];
  const add = (at: string | null, ready: boolean, name: string): void => {
    if (at !== null) {
      marks.push({ at: new Date(at), ready, name });
    }
  };
  for (const { which, announced, by_word } of piece.milestones) {
    add(announced, true, words.say("course.ready", { step: words.step(which), by_word: by_word ? "yes" : "no" }));
  }
  for (const { at, event } of steps) {
    if (at && event) {
      add(piece[at], false, sentence(words.done(event)));
    }
  }
  for (const one of recorded) {
    const concerns = "piece" in one && typeof one.piece === "number" ? one.piece === piece.id : one.at >= piece.laid && (until === null || one.at <= until);
    const name = concerns ? deedWords(one, words) : null;
    if (name && !withdrawn.has(one.seq)) {
      add(one.at, false, name);
    }
  }
  return marks.sort((a, b) => a.at.getTime() - b.at.getTime());
}

// Null for what the piece's own fields tell, or what leaves the water as it is.
function deedWords(one: RecordedEvent, words: Words): string | null {
  switch (one.what) {
    case "inspected":
      return words.say("course.inspected", { zone: words.zone(one.zone), finding: words.finding(one.finding) });
    case "edge-opened":
      return words.title("vehicle.event-edge-opened");
    case "heat-applied":
      return sentence(heatWords(one.surface_c, one.minutes, words));
    case "lamp":
      return words.title(one.on ? "vehicle.lamp-on" : "vehicle.lamp-off");
    case "vehicle-moved":
      return words.say("course.moved");
    case "released":
      return words.title("words.done-released");
    default:
      return null;
  }
}
