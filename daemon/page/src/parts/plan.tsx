// What is to be laid on a vehicle: a usual set of pieces, chosen once; the rest shrinks as pieces are laid.
import type { JSX } from "preact";
import type { Catalogue, PieceToLay, PlannedPiece, Vehicle } from "../data/api";
import { useNow } from "./parts";
import { tell } from "../data/store";
import type { Words } from "../words/words";

// "Front bumper", "Mirror, 2 of 2": each a tap.
export function ToLay(props: {
  vehicle: Vehicle;
  words: Words;
  laid: string;
  isBarred: (panel: string) => boolean;
  onLay: (piece: PieceToLay) => void;
}): JSX.Element | null {
  const { vehicle, words, laid, isBarred, onLay } = props;
  const now = useNow();
  if (vehicle.to_lay.length === 0) {
    return null;
  }
  return (
    <section aria-labelledby="to-lay">
      <h3 id="to-lay">{words.say("lay.to-lay-tap", { laid })}</h3>
      <div class="tiles">
        {vehicle.to_lay.map((piece) => (
          <button type="button" class="planned" key={`${piece.panel} ${piece.part}`} disabled={isBarred(piece.panel)} onClick={() => onLay(piece)}>
            {words.piece(piece)}
            <small>{words.layBy(piece, now)}</small>
          </button>
        ))}
      </div>
    </section>
  );
}

// What is missing, in the order of the work, and until when each may be laid.
export function ToLayList({ vehicle, words }: { vehicle: Vehicle; words: Words }): JSX.Element | null {
  const now = useNow();
  if (vehicle.to_lay.length === 0) {
    return null;
  }
  return (
    <section aria-labelledby="still-to-lay">
      <h3 id="still-to-lay">{words.say("lay.still-to-lay")}</h3>
      <ul class="plain">
        {vehicle.to_lay.map((piece) => (
          <li key={`${piece.panel} ${piece.part}`}>
            {words.piece(piece)} <b>{words.layBy(piece, now)}</b>
          </li>
        ))}
      </ul>
      {vehicle.to_lay.some((piece) => piece.lay_by) && (
        <p class="small">{words.say("lay.by-hint")}</p>
      )}
    </section>
  );
}

// "3 still to lay, the first by Sat 14:20"
export function toLayWords(vehicle: Vehicle, words: Words, now: Date): string {
  const due = vehicle.to_lay.map((piece) => piece.lay_by).filter((at) => at !== null);
  const late = vehicle.to_lay.some((piece) => !piece.lay_by && piece.chance_now !== null);
  const first = due.sort()[0];
  const count = words.number(vehicle.to_lay.length, 0);
  return late
    ? words.say("lay.count-late", { count })
    : first
      ? words.say("lay.count-first", { count, when: words.when(first, now) })
      : words.say("lay.count", { count });
}

export function PlanChoice({ vehicle, catalogue, words }: { vehicle: Vehicle; catalogue: Catalogue; words: Words }): JSX.Element | null {
  if (catalogue.templates.length === 0 || vehicle.id < 0) {
    return null;
  }
  const plan = (pieces: PlannedPiece[], said: string): void =>
    tell({ what: "planned", vehicle: vehicle.id, pieces }, words.about(vehicle.reference, said));
  return (
    <details class="deed">
      <summary>{words.say("lay.plan")}</summary>
      <p class="small">{words.say("lay.plan-hint")}</p>
      <div class="tiles">
        {catalogue.templates.map((one) => (
          <button type="button" key={one.key} onClick={() => plan(one.pieces, words.say("lay.planned", { set: words.template(one.key) }))}>
            {words.template(one.key)}
            <small>{words.say("lay.pieces", { count: one.pieces.length })}</small>
          </button>
        ))}
        {vehicle.to_lay.length > 0 && (
          <button type="button" onClick={() => plan([], words.say("lay.nothing-planned"))}>
            {words.say("lay.nothing-more")}
          </button>
        )}
      </div>
    </details>
  );
}
