// A vehicle comes in.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { type Board, baysOf, bounds } from "../data/api";
import { HandOverField } from "../parts/hand_over";
import { useWhen, WhenBar } from "../parts/late";
import { celsiusLimits, NumberField, numberWithin } from "../parts/fields";
import { Back, Choice, Title } from "../parts/parts";
import { instantOf } from "../data/shop_time";
import type { Words } from "../words/words";

export function ArriveScreen({ board, words }: { board: Board; words: Words }): JSX.Element {
  const bays = baysOf(board);
  const [reference, setReference] = useState("");
  const [bay, setBay] = useState(bays[0] ?? "outside");
  const [agreed, setAgreed] = useState("");
  const [cold, setCold] = useState("");
  const [plate, setPlate] = useState("");
  const [customer, setCustomer] = useState("");
  const [note, setNote] = useState("");
  const when = useWhen(words);
  const cold_limits = celsiusLimits(bounds.VehicleInEvent.panel_c, words);

  const arrive = (event: SubmitEvent): void => {
    event.preventDefault();
    const by = instantOf(agreed, words.site.time_zone);
    const hand_over = by ? { hand_over: by.toISOString() } : {};
    const celsius = numberWithin(cold, cold_limits);
    const panel_c = celsius === null ? {} : { panel_c: celsius };
    const given = { plate: plate.trim(), customer: customer.trim(), note: note.trim() };
    const more = Object.fromEntries(Object.entries(given).filter(([, text]) => text !== ""));
    const named = { reference: reference.trim() };
    if (when.tell({ what: "vehicle-in", ...named, bay, ...hand_over, ...panel_c, ...more }, words.say("arrive.is-in", named))) {
      location.hash = "#/";
    }
  };
  return (
    <>
      <Back to="#/">{words.say("page.board")}</Back>
      <Title words={words}>{words.say("arrive.vehicle-in")}</Title>
      <form onSubmit={arrive}>
        <label class="field">
          <span>{words.say("arrive.name")}</span>
          <input required maxLength={60} value={reference} onInput={(event) => setReference(event.currentTarget.value)} aria-describedby="call" />
          <small id="call">{words.say("arrive.name-hint")}</small>
        </label>
        <Choice
          label={words.say("arrive.where")}
          options={[...new Set([...bays, "outside"])].map((value) => ({ value, text: words.bay(value) }))}
          value={bay}
          onChoose={setBay}
        />
        <HandOverField value={agreed} words={words} onChange={setAgreed} />
        <NumberField label={words.say("arrive.cold", { unit: words.degrees() })} text={cold} limits={cold_limits} words={words} onInput={setCold} />
        <label class="field">
          <span>{words.say("arrive.note")}</span>
          <textarea rows={2} maxLength={500} value={note} onInput={(event) => setNote(event.currentTarget.value)} />
        </label>
        <details>
          <summary>{words.say("arrive.plate-and-customer")}</summary>
          <p class="small" id="apart">
            {words.say("arrive.apart")}
          </p>
          <label class="field">
            <span>{words.say("arrive.plate")}</span>
            <input maxLength={40} autocomplete="off" value={plate} onInput={(event) => setPlate(event.currentTarget.value)} aria-describedby="apart" />
          </label>
          <label class="field">
            <span>{words.say("arrive.customer")}</span>
            <input maxLength={100} autocomplete="off" value={customer} onInput={(event) => setCustomer(event.currentTarget.value)} aria-describedby="apart" />
          </label>
        </details>
        <WhenBar when={when} words={words} />
        <button type="submit" class="primary wide">
          {words.say("arrive.vehicle-in")}
        </button>
      </form>
    </>
  );
}
