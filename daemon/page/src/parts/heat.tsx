// Heat on a part of a piece.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { bounds, type HeatSource, type Piece, type ZoneKind } from "../data/api";
import { celsiusLimits, NumberField, numberWithin, plainLimits } from "./fields";
import type { When } from "./late";
import { Caution, Choice } from "./parts";
import { sentence, type Words } from "../words/words";

const sources: HeatSource[] = ["heat-gun", "lamp", "sun"];

// What stands in the form: a heat gun as it is mostly held.
export const usual_heat = { source: "heat-gun", surface_c: 60, minutes: 3, tool_w: 2000 } as const;

// "heat, 55 °C for 3 min"
export function heatWords(celsius: number, minutes: number, words: Words): string {
  const span = words.say("units.minutes", { n: words.number(minutes, 1) });
  return words.say("vehicle.heat", { temperature: words.temperature(celsius), span });
}

export function Heat(props: { piece: Piece; name: string; words: Words; when: When }): JSX.Element {
  const { piece, name, words, when } = props;
  const { zones } = piece;
  const along = zones.includes("edge");
  const usual = {
    source: usual_heat.source as HeatSource,
    zone: (along ? "" : (zones[0] ?? "")) as ZoneKind | "", // "": along the edges
    surface: words.number(words.inScale(usual_heat.surface_c), 1),
    minutes: String(usual_heat.minutes),
    watts: String(usual_heat.tool_w),
  };
  const [form, setForm] = useState(usual);
  const change = (news: Partial<typeof form>): void => setForm({ ...form, ...news });
  const surface_limits = celsiusLimits(bounds.HeatAppliedEvent.surface_c, words);
  const watt_limits = plainLimits(bounds.HeatAppliedEvent.tool_w, words);
  const others = zones.filter((kind) => kind !== "edge").map((value) => ({ value, text: sentence(words.zone(value)) }));
  return (
    <form
      class="sheet"
      aria-label={words.say("vehicle.heat-on", { piece: name })}
      onSubmit={(event) => {
        event.preventDefault();
        const { source, zone } = form;
        const surface_c = numberWithin(form.surface, surface_limits);
        const tool_w = source === "sun" ? null : numberWithin(form.watts, watt_limits);
        const minutes = Number(form.minutes);
        if (surface_c === null || (source !== "sun" && tool_w === null)) {
          return;
        }
        const kept = when.tell(
          { what: "heat-applied", piece: piece.id, source, surface_c, minutes, ...(zone ? { zone } : {}), ...(tool_w === null ? {} : { tool_w }) },
          words.about(name, heatWords(surface_c, minutes, words)),
        );
        if (kept) {
          setForm(usual);
        }
      }}
    >
      <h4>{words.say("vehicle.heat-applied")}</h4>
      <Caution>{words.say("cautions.heat")}</Caution>
      {words.alcohol(piece.solution) > 0 && <Caution>{words.say("cautions.solvent")}</Caution>}
      <Choice
        label={words.say("vehicle.heat-with")}
        options={sources.map((value) => ({ value, text: words.title(`words.heat-${value}`) }))}
        value={form.source}
        onChoose={(source) => change({ source })}
      />
      <Choice
        label={words.say("vehicle.heat-where", { piece: name })}
        options={[...(along ? [{ value: "" as const, text: words.say("vehicle.heat-along-edge") }] : []), ...others]}
        value={form.zone}
        onChoose={(zone) => change({ zone })}
      />
      <NumberField
        label={words.say("vehicle.heat-surface", { unit: words.degrees() })}
        text={form.surface}
        limits={surface_limits}
        words={words}
        onInput={(surface) => change({ surface })}
        required
      />
      <label class="field">
        <span>{words.say("vehicle.heat-minutes")}</span>
        <input
          type="number"
          required
          min="1"
          max={bounds.HeatAppliedEvent.minutes.high}
          step="1"
          value={form.minutes}
          onInput={(event) => change({ minutes: event.currentTarget.value })}
        />
      </label>
      {form.source !== "sun" && (
        <NumberField
          label={words.say("vehicle.heat-watts")}
          text={form.watts}
          limits={watt_limits}
          words={words}
          onInput={(watts) => change({ watts })}
          required
        />
      )}
      <button type="submit" class="wide">
        {words.say("vehicle.heat-applied")}
      </button>
    </form>
  );
}
