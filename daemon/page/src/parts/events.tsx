// Everything that was told about a vehicle, by whom and when: what the record will hold.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { getEvents, type Piece, type RecordedEvent, type Vehicle } from "../data/api";
import { useNow } from "./parts";
import { type Words, zoneWords } from "../words/words";

const deeds: Record<string, string> = {
  "vehicle-in": "came in",
  "vehicle-moved": "moved",
  "hand-over": "hand-over agreed",
  lay: "laid",
  "edge-opened": "edge opened",
  "edge-wrapped": "wrapped",
  trimmed: "trimmed",
  "piece-removed": "pulled off",
  inspected: "looked at",
  "heat-applied": "heated",
  lamp: "lamp",
  refitted: "refitted",
  released: "released",
  rechecked: "rechecked",
  superseded: "taken back",
  note: "noted",
  forgotten: "plate and customer erased",
  planned: "planned",
};

export function AllEvents({ vehicle, applied, words }: { vehicle: Vehicle; applied: number; words: Words }): JSX.Element {
  const now = useNow();
  const [open, setOpen] = useState(false);
  const [told, setTold] = useState<RecordedEvent[]>([]);
  useEffect(() => {
    let current = true;
    if (open) {
      getEvents(vehicle.id)
        .then(({ events }) => current && setTold(events))
        .catch(() => undefined); // the link's state tells
    }
    return () => {
      current = false;
    };
  }, [open, vehicle.id, applied]);
  const withdrawn = new Set(told.flatMap((one) => (one.what === "superseded" ? [one.event] : [])));
  const pieces = new Map<number, Piece>(vehicle.pieces.map((piece) => [piece.id, piece]));
  const about = (one: RecordedEvent): string => {
    const piece = pieces.get("piece" in one ? one.piece : one.seq);
    return piece ? `${words.piece(piece)} ` : "";
  };
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Everything told</summary>
      <ul class="plain">
        {[...told].reverse().map((one) => (
          <li key={one.seq}>
            {words.when(one.at, now)} <b>{about(one)}{deeds[one.what] ?? one.what}</b>
            {"zone" in one && one.zone && ` ${zoneWords[one.zone].toLowerCase()}`}
            {"finding" in one && `: ${one.finding}`}
            {one.who && `, by ${one.who}`}
            {one.note && `. ${one.note}`}
            {withdrawn.has(one.seq) && " (taken back)"}
          </li>
        ))}
      </ul>
    </details>
  );
}
