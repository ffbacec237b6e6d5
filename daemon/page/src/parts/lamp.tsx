// A lamp, or the sun, on a vehicle or on a part of one piece: how much heat, where, and what it draws.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { bounds, type Deed, type Vehicle, type ZoneKind } from "../data/api";
import { NumberField, isWrong, numberWithin, plainLimits } from "./fields";
import { Choice, Pick } from "./parts";
import { sentence, type Words } from "../words/words";

const nowhere = { piece: "", zone: "" as ZoneKind | "", area: "" }; // "": all of it

export function Lamp(props: { vehicle: Vehicle; words: Words; say: (deed: Deed, said: string) => void }): JSX.Element {
  const { vehicle, words, say } = props;
  const [form, setForm] = useState({ ...nowhere, heat: "", watts: "" });
  const change = (news: Partial<typeof form>): void => setForm({ ...form, ...news });
  const area_limits = plainLimits(bounds.LampEvent.area_m2, words);
  const watt_limits = plainLimits(bounds.LampEvent.tool_w, words);
  const pieces = vehicle.pieces.filter((piece) => !piece.removed && piece.replaced_by === null);
  const lit = pieces.find((piece) => String(piece.id) === form.piece);
  const where = lit ? words.piece(lit) : "";
  const wrong = isWrong(form.area, area_limits) || isWrong(form.watts, watt_limits);
  const there = lit ? { piece: lit.id, ...(form.zone ? { zone: form.zone } : {}) } : {};
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        const area_m2 = lit ? numberWithin(form.area, area_limits) : null;
        const tool_w = numberWithin(form.watts, watt_limits);
        const more = { ...(area_m2 === null ? {} : { area_m2 }), ...(tool_w === null ? {} : { tool_w }) };
        if (!wrong) {
          const said = words.say("vehicle.lamp-on");
          say({ what: "lamp", vehicle: vehicle.id, on: true, heat_w_m2: Number(form.heat), ...there, ...more }, lit ? words.about(where, said) : said);
        }
      }}
    >
      <label class="field">
        <span>{words.say("vehicle.lamp-heat")}</span>
        <input
          type="number"
          required
          min="1"
          max={bounds.LampEvent.heat_w_m2.high}
          step="1"
          value={form.heat}
          onInput={(event) => change({ heat: event.currentTarget.value })}
          aria-describedby="lamp-heat"
        />
        <small id="lamp-heat">{words.say("vehicle.lamp-heat-hint")}</small>
      </label>
      {pieces.length > 0 && (
        <Pick
          label={words.say("vehicle.lamp-lights")}
          options={[
            { key: "", label: words.say("vehicle.lamp-lights-all") },
            ...pieces.map((piece) => ({ key: String(piece.id), label: words.piece(piece) })),
          ]}
          value={form.piece}
          onPick={(piece) => change({ ...nowhere, piece })}
        />
      )}
      {lit && lit.zones.length > 1 && (
        <Choice
          label={words.say("vehicle.lamp-where", { piece: where })}
          options={[
            { value: "" as ZoneKind | "", text: words.say("vehicle.lamp-all-of-it") },
            ...lit.zones.map((value) => ({ value, text: sentence(words.zone(value)) })),
          ]}
          value={form.zone}
          onChoose={(zone) => change({ zone })}
        />
      )}
      {lit && (
        <NumberField
          label={words.say("vehicle.lamp-area")}
          text={form.area}
          limits={area_limits}
          words={words}
          onInput={(area) => change({ area })}
        />
      )}
      <NumberField
        label={words.say("vehicle.lamp-watts")}
        text={form.watts}
        limits={watt_limits}
        words={words}
        onInput={(watts) => change({ watts })}
      />
      <p class="actions">
        <button type="submit">{words.title("vehicle.lamp-on")}</button>
        <button
          type="button"
          onClick={() =>
            say(
              { what: "lamp", vehicle: vehicle.id, on: false, ...(lit ? { piece: lit.id } : {}) },
              lit ? words.about(where, words.say("vehicle.lamp-off")) : words.say("vehicle.lamp-off"),
            )
          }
        >
          {words.title("vehicle.lamp-off")}
        </button>
      </p>
    </form>
  );
}
