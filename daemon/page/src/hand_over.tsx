// When a vehicle is to be handed over, as the shop's clock will show it.
import type { JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { Choice } from "./parts";
import { instantsOf, wallOf, withMeant } from "./shop_time";
import type { Words } from "./words";

interface Props {
  value: string; // "2026-03-08T08:40" or empty: shop_time.ts turns it into an instant
  words: Words;
  onChange: (value: string) => void;
}

// Twice a year the clock on the wall skips an hour, or shows one twice: then it is asked which is meant.
export function HandOverField({ value, words, onChange }: Props): JSX.Element {
  const field = useRef<HTMLInputElement>(null);
  const zone = words.site.time_zone;
  const elsewhere = Intl.DateTimeFormat().resolvedOptions().timeZone !== zone;
  const wall = wallOf(value);
  const instants = wall === "" ? [] : instantsOf(wall, zone);
  const wrong =
    wall !== "" && instants.length === 0
      ? "The clocks are put forward over this time: it does not exist."
      : instants.length > 1 && value === wall
        ? "The clocks are put back over this time: it comes twice. Say which is meant."
        : "";
  useEffect(() => field.current?.setCustomValidity(wrong), [wrong]);
  return (
    <>
      <label class="field">
        <span>Hand-over agreed for (may be left empty)</span>
        <input
          ref={field}
          type="datetime-local"
          value={wall}
          onInput={(event) => onChange(event.currentTarget.value)}
          {...(elsewhere ? { "aria-describedby": "shop-clock" } : {})}
        />
        {elsewhere && <small id="shop-clock">By the shop's clock ({zone.replace("_", " ")}), not this phone's.</small>}
        {wrong !== "" && <small role="alert">{wrong}</small>}
      </label>
      {instants.length > 1 && (
        <Choice
          label="Which of the two"
          options={instants.map((one, index) => ({
            value: withMeant(wall, one),
            text: index === 0 ? "The first, before the clocks are put back" : "The second, after it",
          }))}
          value={value}
          onChoose={onChange}
        />
      )}
    </>
  );
}
