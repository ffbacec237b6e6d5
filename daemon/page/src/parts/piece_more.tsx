// What happens to a piece more rarely.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { bounds, type HeatSource, type Piece } from "../data/api";
import type { When } from "./late";
import { celsiusLimits, NumberField, numberWithin } from "./fields";
import { Caution, Choice } from "./parts";
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

const sources: HeatSource[] = ["heat-gun", "lamp", "sun"];

// "heat, 55 °C for 3 min"
export function heatWords(celsius: number, minutes: number, words: Words): string {
  const span = words.say("units.minutes", { n: words.number(minutes, 1) });
  return words.say("vehicle.heat", { temperature: words.temperature(celsius), span });
}

function Heat(props: { piece: Piece; name: string; words: Words; when: When }): JSX.Element {
  const { piece, name, words, when } = props;
  const [source, setSource] = useState<HeatSource>("heat-gun");
  const [surface, setSurface] = useState("");
  const [minutes, setMinutes] = useState("");
  const limits = celsiusLimits(bounds.HeatAppliedEvent.surface_c, words);
  return (
    <form
      class="sheet"
      aria-label={words.say("vehicle.heat-on", { piece: name })}
      onSubmit={(event) => {
        event.preventDefault();
        const celsius = numberWithin(surface, limits);
        if (celsius === null) {
          return;
        }
        const kept = when.tell(
          { what: "heat-applied", piece: piece.id, source, surface_c: celsius, minutes: Number(minutes) },
          words.about(name, heatWords(celsius, Number(minutes), words)),
        );
        if (kept) {
          setSurface("");
          setMinutes("");
        }
      }}
    >
      <h4>{words.say("vehicle.heat-applied")}</h4>
      <Caution>{words.say("cautions.heat")}</Caution>
      {words.alcohol(piece.solution) > 0 && <Caution>{words.say("cautions.solvent")}</Caution>}
      <Choice
        label={words.say("vehicle.heat-with")}
        options={sources.map((value) => ({ value, text: words.title(`words.heat-${value}`) }))}
        value={source}
        onChoose={setSource}
      />
      <NumberField
        label={words.say("vehicle.heat-surface", { unit: words.degrees() })}
        text={surface}
        limits={limits}
        words={words}
        onInput={setSurface}
        required
      />
      <label class="field">
        <span>{words.say("vehicle.heat-minutes")}</span>
        <input type="number" required min="1" max={bounds.HeatAppliedEvent.minutes.high} step="1" value={minutes} onInput={(event) => setMinutes(event.currentTarget.value)} />
      </label>
      <button type="submit" class="wide">
        {words.say("vehicle.heat-applied")}
      </button>
    </form>
  );
}
