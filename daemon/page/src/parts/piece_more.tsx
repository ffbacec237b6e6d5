// What happens to a piece more rarely.
import type { JSX } from "preact";
import type { Piece } from "../data/api";
import { Heat } from "./heat";
import type { When } from "./late";
import { sentence, type Words } from "../words/words";

export function PieceMore({ piece, words, when }: { piece: Piece; words: Words; when: When }): JSX.Element {
  const name = words.piece(piece);
  const opened = words.say("vehicle.event-edge-opened");
  return (
    <details class="deed">
      <summary>{words.say("vehicle.more-piece")}</summary>
      <p class="actions">
        <button type="button" onClick={() => when.tell({ what: "edge-opened", piece: piece.id }, words.about(name, opened))}>
          {sentence(opened)}
        </button>
      </p>
      <p class="small">{words.say("vehicle.edge-opened-hint")}</p>
      <Heat piece={piece} name={name} words={words} when={when} />
    </details>
  );
}
