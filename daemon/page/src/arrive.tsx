// A vehicle comes in.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Board } from "./api";
import { Back, Choice } from "./parts";
import { tell } from "./store";
import type { Words } from "./words";

export function ArriveScreen({ board, words }: { board: Board; words: Words }): JSX.Element {
  const bays = board.bays.map((bay) => bay.name);
  const [reference, setReference] = useState("");
  const [bay, setBay] = useState(bays[0] ?? "outside");
  const [agreed, setAgreed] = useState("");
  const [cold, setCold] = useState("");
  const unit = words.site.temperature_unit;

  const arrive = (event: SubmitEvent): void => {
    event.preventDefault();
    // The field gives the device's local time; a phone in the shop is in the shop's time zone.
    const hand_over = agreed === "" ? {} : { hand_over: new Date(agreed).toISOString() };
    const degrees = Number(cold.replace(",", "."));
    const panel_c = cold === "" || Number.isNaN(degrees) ? {} : { panel_c: unit === "F" ? ((degrees - 32) * 5) / 9 : degrees };
    tell({ what: "vehicle-in", reference: reference.trim(), bay, ...hand_over, ...panel_c }, `${reference.trim()} is in`);
    location.hash = "#/";
  };
  return (
    <>
      <Back to="#/">Board</Back>
      <h2>Vehicle in</h2>
      <form onSubmit={arrive}>
        <label class="field">
          <span>What you call it</span>
          <input required maxLength={60} value={reference} onInput={(event) => setReference(event.currentTarget.value)} aria-describedby="call" />
          <small id="call">A job number or "grey estate": no customer's name is needed.</small>
        </label>
        <Choice label="Where" options={[...bays, "outside"].map((value) => ({ value, text: value }))} value={bay} onChoose={setBay} />
        <label class="field">
          <span>Hand-over agreed for (may be left empty)</span>
          <input type="datetime-local" value={agreed} onInput={(event) => setAgreed(event.currentTarget.value)} />
        </label>
        <label class="field">
          <span>Panel temperature now, °{unit}, if it came in cold (may be left empty)</span>
          <input inputMode="decimal" pattern="-?[0-9]+([.,][0-9]+)?" value={cold} onInput={(event) => setCold(event.currentTarget.value)} />
        </label>
        <button type="submit" class="primary wide">
          Vehicle in
        </button>
      </form>
    </>
  );
}
