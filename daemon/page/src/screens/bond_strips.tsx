// The bond coupon: strips of a film laid dry, and pulled off one by one over three days.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { bounds, type BondCoupon } from "../data/api";
import { NumberField, numberWithin, plainLimits } from "../parts/fields";
import { useNow } from "../parts/parts";
import { tell } from "../data/store";
import type { Words } from "../words/words";

export function BondStrips({ coupon, words }: { coupon: BondCoupon; words: Words }): JSX.Element {
  const now = useNow();
  const [peel, setPeel] = useState("");
  const limits = plainLimits(bounds.BondCouponPulledEvent.peel, words);
  const value = numberWithin(peel, limits);
  const film = words.film(coupon.film);
  const { measured, result } = coupon;
  return (
    <article class="card">
      <h3>
        {words.say("coupon.strips-of", { film })} {coupon.lot && <small>{words.say("lay.lot-of", { lot: coupon.lot })}</small>}{" "}
        <small>{words.bayTitle(coupon.bay)}</small>
      </h3>
      <p class="small">{words.say("coupon.laid-at", { when: words.when(coupon.laid, now) })}</p>
      <ul class="plain">
        {coupon.pulls.map((pull) => (
          <li key={pull.event}>
            {words.when(pull.at, now)}: <b>{words.number(pull.peel, 2)}</b>
          </li>
        ))}
      </ul>
      <p role="status">{words.sentence(coupon.what)}</p>
      {!measured && (
        <form
          class="own"
          onSubmit={(event) => {
            event.preventDefault();
            if (value !== null) {
              tell({ what: "bond-coupon-pulled", coupon: coupon.coupon, peel: value }, words.say("coupon.pulled"));
              setPeel("");
            }
          }}
        >
          <NumberField label={words.say("coupon.peel-now")} text={peel} limits={limits} words={words} onInput={setPeel} />
          <button type="submit" disabled={value === null}>
            {words.say("coupon.pulled")}
          </button>
        </form>
      )}
      {!measured && result && (
        <button type="button" class="primary wide" onClick={() => tell(result, words.say("coupon.bond-measured", { film }))}>
          {words.say("coupon.keep-bond")}
        </button>
      )}
    </article>
  );
}
