// What happens to a vehicle more rarely: it moves, another time is agreed, a lamp goes on, something is noted.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Deed, Vehicle } from "../data/api";
import { HandOverField } from "./hand_over";
import { Lamp } from "./lamp";
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
  const { vehicle, words, when } = props;
  const say = (deed: Deed, said: string): void =>
    void when.tell(deed, words.about(vehicle.reference, said));
  const elsewhere = [...new Set([...props.bays, "outside"])].filter((bay) => bay !== vehicle.bay);
  return (
    <details class="deed">
      <summary>{words.say("vehicle.more", { reference: vehicle.reference })}</summary>
      {when.late && <p class="old">{words.say("when.told-late", { when: when.then })}</p>}
      <fieldset class="choice">
        <legend>{words.say("vehicle.moved-from", { bay: words.bay(vehicle.bay) })}</legend>
        <div>
          {elsewhere.map((bay) => (
            <button
              type="button"
              key={bay}
              onClick={() => say({ what: "vehicle-moved", vehicle: vehicle.id, bay }, words.say("vehicle.moved-to", { bay: words.bay(bay) }))}
            >
              {words.bay(bay)}
            </button>
          ))}
        </div>
      </fieldset>
      <HandOver key={vehicle.hand_over} {...props} say={say} />
      <Lamp {...props} say={say} />
      <NoteForm vehicle={vehicle} words={words} when={when} />
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
          by ? words.say("vehicle.hand-over-agreed", { when: words.when(by, now) }) : words.say("vehicle.no-hand-over"),
        );
      }}
    >
      <HandOverField value={agreed} words={words} onChange={setAgreed} />
      <button type="submit">{words.say("vehicle.change-hand-over")}</button>
    </form>
  );
}

export function NoteForm({ vehicle, words, when }: Props): JSX.Element {
  const [note, setNote] = useState("");
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        const said = words.about(vehicle.reference, words.say("vehicle.event-note"));
        if (when.tell({ what: "note", vehicle: vehicle.id, note: note.trim() }, said)) {
          setNote("");
        }
      }}
    >
      <label class="field">
        <span>{words.say("vehicle.note")}</span>
        <textarea required rows={2} maxLength={1000} value={note} onInput={(event) => setNote(event.currentTarget.value)} />
      </label>
      <button type="submit">{words.say("vehicle.keep-note")}</button>
    </form>
  );
}
