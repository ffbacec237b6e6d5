// When a vehicle is to be handed over, as the shop's clock will show it.
import type { JSX } from "preact";
import type { Words } from "./words";

// `value` is "2026-03-08T08:40" or empty: shop_time.ts turns it into an instant.
export function HandOverField(props: { value: string; words: Words; onChange: (value: string) => void }): JSX.Element {
  const elsewhere = Intl.DateTimeFormat().resolvedOptions().timeZone !== props.words.site.time_zone;
  return (
    <label class="field">
      <span>Hand-over agreed for (may be left empty)</span>
      <input
        type="datetime-local"
        value={props.value}
        onInput={(event) => props.onChange(event.currentTarget.value)}
        {...(elsewhere ? { "aria-describedby": "shop-clock" } : {})}
      />
      {elsewhere && <small id="shop-clock">By the shop's clock ({props.words.site.time_zone.replace("_", " ")}), not this phone's.</small>}
    </label>
  );
}
