// When a vehicle is to be handed over, as the shop's clock will show it.
import type { JSX } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { instantsOf, wallOf } from "../data/shop_time";
import { WhichOfTwo, wrongWith } from "./wall_time";
import type { Words } from "../words/words";

interface Props {
  value: string; // "2026-03-08T08:40" or empty: shop_time.ts turns it into an instant
  words: Words;
  onChange: (value: string) => void;
}

export function HandOverField({ value, words, onChange }: Props): JSX.Element {
  const field = useRef<HTMLInputElement>(null);
  const zone = words.site.time_zone;
  const elsewhere = Intl.DateTimeFormat().resolvedOptions().timeZone !== zone;
  const wall = wallOf(value);
  const instants = wall === "" ? [] : instantsOf(wall, zone);
  const wrong = wrongWith(value, instants, words);
  useEffect(() => field.current?.setCustomValidity(wrong), [wrong]);
  return (
    <>
      <label class="field">
        <span>{words.say("when.hand-over")}</span>
        <input
          ref={field}
          type="datetime-local"
          value={wall}
          onInput={(event) => onChange(event.currentTarget.value)}
          {...(elsewhere ? { "aria-describedby": "shop-clock" } : {})}
        />
        {elsewhere && <small id="shop-clock">{words.say("when.shop-clock", { zone: words.timeZone() })}</small>}
        {wrong !== "" && <small role="alert">{wrong}</small>}
      </label>
      <WhichOfTwo text={value} instants={instants} words={words} onChoose={onChange} />
    </>
  );
}
