// What happens to a piece more rarely.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { HeatSource, Piece } from "../data/api";
import type { When } from "./late";
import { Caution, Choice } from "./parts";
import { cautions, type Words } from "../words/words";

export function PieceMore({ piece, words, when }: { piece: Piece; words: Words; when: When }): JSX.Element {
  const name = words.piece(piece);
  return (
    <details class="deed">
      <summary>More for this piece</summary>
      <p class="actions">
        <button type="button" onClick={() => when.tell({ what: "edge-opened", piece: piece.id }, `${name}: edge opened${when.after}`)}>
          Edge opened
        </button>
      </p>
      <p class="small">Lifted an edge to let water out, or to look under it.</p>
      <Heat piece={piece} name={name} words={words} when={when} />
    </details>
  );
}

const sources: { value: HeatSource; text: string }[] = [
  { value: "heat-gun", text: "Heat gun" },
  { value: "lamp", text: "Lamp" },
  { value: "sun", text: "Sun" },
];

function Heat(props: { piece: Piece; name: string; words: Words; when: When }): JSX.Element {
  const { piece, name, words, when } = props;
  const [source, setSource] = useState<HeatSource>("heat-gun");
  const [surface, setSurface] = useState("");
  const [minutes, setMinutes] = useState("");
  const celsius = words.celsius(surface);
  const possible = celsius === null || (celsius >= 0 && celsius <= 150);
  return (
    <form
      class="sheet"
      aria-label={`Heat on ${name}`}
      onSubmit={(event) => {
        event.preventDefault();
        if (celsius === null || !possible) {
          return;
        }
        const kept = when.tell(
          { what: "heat-applied", piece: piece.id, source, surface_c: celsius, minutes: Number(minutes) },
          `${name}: heat, ${words.temperature(celsius)} for ${minutes} min${when.after}`,
        );
        if (kept) {
          setSurface("");
          setMinutes("");
        }
      }}
    >
      <h4>Heat applied</h4>
      <Caution>{cautions.heat}</Caution>
      {words.alcohol(piece.solution) > 0 && <Caution>{cautions.solvent}</Caution>}
      <Choice label="With" options={sources} value={source} onChoose={setSource} />
      <label class="field">
        <span>Temperature measured on the film, °{words.site.temperature_unit}</span>
        <input required inputMode="decimal" pattern="[0-9]+([.,][0-9]+)?" value={surface} onInput={(event) => setSurface(event.currentTarget.value)} />
      </label>
      {!possible && <p class="old">Between {words.temperature(0)} and {words.temperature(150)}.</p>}
      <label class="field">
        <span>For how many minutes</span>
        <input type="number" required min="1" max="240" step="1" value={minutes} onInput={(event) => setMinutes(event.currentTarget.value)} />
      </label>
      <button type="submit" class="wide">
        Heat applied
      </button>
    </form>
  );
}
