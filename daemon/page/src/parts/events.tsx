// Everything that was told about a vehicle, by whom and when: what the record will hold.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { getEvents, type Piece, type RecordedEvent, type Vehicle, withdrawnIn } from "../data/api";
import { useAnswer } from "./asked";
import { useNow } from "./parts";
import { heatWords } from "./heat";
import type { Words } from "../words/words";

function deedWords(one: RecordedEvent, now: Date, words: Words): string {
  switch (one.what) {
    case "edge-wrapped":
    case "trimmed":
    case "refitted":
    case "released":
      return words.done(one.what);
    case "lamp":
      return words.say(one.on ? "vehicle.lamp-on" : "vehicle.lamp-off");
    case "hand-over":
      return one.hand_over ? words.say("vehicle.hand-over-agreed", { when: words.when(one.hand_over, now) }) : words.say("vehicle.no-hand-over");
    case "vehicle-moved":
      return words.say("vehicle.moved-to", { bay: words.bay(one.bay) });
    case "heat-applied":
      return heatWords(one.surface_c, one.minutes, words);
    case "not-needed":
      return words.say("vehicle.event-not-needed", { step: words.step(one.which), needed: one.needed ? "yes" : "no" });
    case "planned":
      return words.say(one.pieces.length > 0 ? "vehicle.event-planned" : "lay.nothing-planned");
    case "vehicle-in":
    case "lay":
    case "edge-opened":
    case "piece-removed":
    case "inspected":
    case "rechecked":
    case "superseded":
    case "note":
    case "forgotten":
      return words.say(`vehicle.event-${one.what}`);
    default:
      return one.what; // concerns the shop
  }
}

// "edge: hazy", "by AB"
function detailsOf(one: RecordedEvent, withdrawn: boolean, words: Words): string {
  const finding = one.what === "inspected" ? words.finding(one.finding) : one.what === "rechecked" ? words.say(`words.recheck-${one.finding}`) : "";
  const zone = "zone" in one && one.zone ? words.zone(one.zone) : "";
  return [
    zone && finding ? words.about(zone, finding) : zone || finding,
    one.who ? words.say("vehicle.by", { who: one.who }) : "",
    one.note ?? "",
    withdrawn ? words.say("vehicle.event-superseded") : "",
  ]
    .filter((text) => text !== "")
    .join("; ");
}

// `applied`: the board's last event; after each the list is asked for again.
interface Props {
  vehicle: Vehicle;
  applied: number;
  words: Words;
}

export function AllEvents(props: Props): JSX.Element {
  const [open, setOpen] = useState(false);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{props.words.say("vehicle.everything-told")}</summary>
      {open && <List {...props} />}
    </details>
  );
}

function List({ vehicle, applied, words }: Props): JSX.Element {
  const now = useNow();
  const { answer } = useAnswer(() => getEvents(vehicle.id), [vehicle.id, applied]);
  const recorded = answer?.events ?? [];
  const withdrawn = withdrawnIn(recorded);
  const pieces = new Map<number, Piece>(vehicle.pieces.map((piece) => [piece.id, piece]));
  const about = (one: RecordedEvent): string => {
    const piece = pieces.get("piece" in one && typeof one.piece === "number" ? one.piece : one.seq);
    const event = deedWords(one, now, words);
    return piece ? words.say("vehicle.event-of-piece", { piece: words.piece(piece), event }) : event;
  };
  return (
    <ul class="plain">
      {[...recorded].reverse().map((one) => (
        <li key={one.seq}>
          {words.when(one.at, now)} <b>{about(one)}</b> {detailsOf(one, withdrawn.has(one.seq), words)}
        </li>
      ))}
    </ul>
  );
}
