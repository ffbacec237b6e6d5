// What happens to a vehicle more rarely: it moves, another time is agreed, a lamp goes on, something is noted.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Deed, Vehicle } from "../data/api";
import { HandOverField } from "./hand_over";
import type { When } from "./late";
import { useNow } from "./parts";
import { instantOf, wallClock } from "../data/shop_time";
import type { Words } from "../words/words";

interface Props {
  vehicle: Vehicle;
  words: Words;
  when: When;
}

export function VehicleMore(props: Props & { bays: string[] }): JSX.Element {
  const { vehicle, when } = props;
  const say = (deed: Deed, said: string): void => void when.tell(deed, `${vehicle.reference}: ${said}${when.after}`);
  const elsewhere = [...new Set([...props.bays, "outside"])].filter((bay) => bay !== vehicle.bay);
  return (
    <details class="deed">
      <summary>More for {vehicle.reference}</summary>
      {when.late && <p class="old">Told late: counts as done{when.after}</p>}
      <fieldset class="choice">
        <legend>Moved from {vehicle.bay} to</legend>
        <div>
          {elsewhere.map((bay) => (
            <button type="button" key={bay} onClick={() => say({ what: "vehicle-moved", vehicle: vehicle.id, bay }, `moved to ${bay}`)}>
              {bay}
            </button>
          ))}
        </div>
      </fieldset>
      <HandOver {...props} say={say} />
      <Lamp {...props} say={say} />
      <NoteForm vehicle={vehicle} when={when} />
    </details>
  );
}

type Say = (deed: Deed, said: string) => void;

function HandOver({ vehicle, words, say }: Props & { say: Say }): JSX.Element {
  const now = useNow();
  const zone = words.site.time_zone;
  const [agreed, setAgreed] = useState(vehicle.hand_over ? wallClock(new Date(vehicle.hand_over), zone) : "");
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        const by = instantOf(agreed, zone);
        say(
          { what: "hand-over", vehicle: vehicle.id, hand_over: by?.toISOString() ?? null },
          by ? `hand-over agreed for ${words.when(by, now)}` : "no hand-over agreed",
        );
      }}
    >
      <HandOverField value={agreed} words={words} onChange={setAgreed} />
      <button type="submit">Change the hand-over</button>
    </form>
  );
}

function Lamp({ vehicle, say }: Props & { say: Say }): JSX.Element {
  const [heat, setHeat] = useState("");
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        say({ what: "lamp", vehicle: vehicle.id, on: true, heat_w_m2: Number(heat) }, "lamp on");
      }}
    >
      <label class="field">
        <span>Lamp or sun: heat taken up by the panels, W/m²</span>
        <input type="number" required min="1" max="5000" step="1" value={heat} onInput={(event) => setHeat(event.currentTarget.value)} aria-describedby="lamp-heat" />
        <small id="lamp-heat">Full sun is about 700.</small>
      </label>
      <p class="actions">
        <button type="submit">Lamp on</button>
        <button type="button" onClick={() => say({ what: "lamp", vehicle: vehicle.id, on: false }, "lamp off")}>
          Lamp off
        </button>
      </p>
    </form>
  );
}

export function NoteForm({ vehicle, when }: { vehicle: Vehicle; when: When }): JSX.Element {
  const [note, setNote] = useState("");
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        if (when.tell({ what: "note", vehicle: vehicle.id, note: note.trim() }, `${vehicle.reference}: noted${when.after}`)) {
          setNote("");
        }
      }}
    >
      <label class="field">
        <span>Note</span>
        <textarea required rows={2} maxLength={1000} value={note} onInput={(event) => setNote(event.currentTarget.value)} />
      </label>
      <button type="submit">Keep the note</button>
    </form>
  );
}
