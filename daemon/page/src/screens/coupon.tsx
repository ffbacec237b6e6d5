// The coupon tests: a plate with film and a little water under it, weighed for a day or two; strips that are pulled.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { bounds, type Catalogue, type Coupon, type Coupons, getCoupons } from "../data/api";
import { useAsked } from "../parts/asked";
import { NumberField, numberWithin, plainLimits } from "../parts/fields";
import { Back, Choice, FilmPick, Title, useNow } from "../parts/parts";
import { tell } from "../data/store";
import type { Words } from "../words/words";
import { BondStrips } from "./bond_strips";

const gramsWords = (grams: number, words: Words): string => words.say("units.mass", { n: words.fixed(grams, 2) });

function Weighed({ coupon, label, words }: { coupon: Coupon; label: string; words: Words }): JSX.Element {
  const now = useNow();
  const [grams, setGrams] = useState("");
  const limits = plainLimits(bounds.CouponWeighedEvent.grams, words);
  const value = numberWithin(grams, limits);
  const { measured, result } = coupon;
  return (
    <article class="card">
      <h3>
        {label} {coupon.lot && <small>{words.say("lay.lot-of", { lot: coupon.lot })}</small>}{" "}
        <small>{words.bayTitle(coupon.bay)}</small>
      </h3>
      <p class="small">{words.say("coupon.laid-at", { when: words.when(coupon.laid, now) })}</p>
      <ul class="plain">
        {coupon.weighings.map((weighing) => (
          <li key={weighing.event}>
            {words.when(weighing.at, now)}: <b>{gramsWords(weighing.grams, words)}</b>
          </li>
        ))}
      </ul>
      {measured ? (
        <p>
          {words.say("coupon.kept", {
            resistance: words.resistance(measured.resistance),
            share: words.share(measured.relative_uncertainty),
          })}
        </p>
      ) : (
        <>
          <p role="status">{words.sentence(coupon.what)}</p>
          <form
            class="own"
            onSubmit={(event) => {
              event.preventDefault();
              if (value !== null) {
                tell({ what: "coupon-weighed", coupon: coupon.coupon, grams: value }, gramsWords(value, words));
                setGrams("");
              }
            }}
          >
            <NumberField label={words.say("coupon.grams-now")} text={grams} limits={limits} words={words} onInput={setGrams} />
            <button type="submit" disabled={value === null}>
              {words.say("coupon.weighed")}
            </button>
          </form>
          {result && (
            <button type="button" class="primary wide" onClick={() => tell(result, words.say("coupon.measured", { film: label }))}>
              {words.say("coupon.keep")}
            </button>
          )}
        </>
      )}
    </article>
  );
}

export function CouponScreen({ catalogue, bays, words }: { catalogue: Catalogue; bays: string[]; words: Words }): JSX.Element {
  const { answer } = useAsked<Coupons>(getCoupons);
  const [film, setFilm] = useState(catalogue.films[0]?.key ?? "");
  const [bay, setBay] = useState(bays[0] ?? "");
  const [lot, setLot] = useState("");
  const [area, setArea] = useState(words.number(0.09, 2));
  const [water, setWater] = useState(words.number(0.9, 1));
  const area_limits = plainLimits(bounds.CouponLaidEvent.area_m2, words);
  const water_limits = plainLimits(bounds.CouponLaidEvent.water_grams, words);
  const area_m2 = numberWithin(area, area_limits);
  const water_grams = numberWithin(water, water_limits);
  return (
    <>
      <Back to="#/settings">{words.say("settings.settings")}</Back>
      <Title words={words}>{words.say("coupon.title")}</Title>
      <div class="cards">
        {answer?.coupons.map((coupon) => (
          <Weighed key={coupon.coupon} coupon={coupon} label={words.film(coupon.film)} words={words} />
        ))}
        {answer?.bond_coupons.map((coupon) => (
          <BondStrips key={coupon.coupon} coupon={coupon} words={words} />
        ))}
      </div>
      <section aria-labelledby="begin">
        <h3 id="begin">{words.say("coupon.begin")}</h3>
        <p class="small">{words.say("coupon.how", { precision: gramsWords(0.01, words) })}</p>
        <FilmPick catalogue={catalogue} value={film} words={words} onPick={setFilm} />
        <label class="field">
          <span>{words.say("coupon.lot")}</span>
          <input value={lot} maxLength={60} onInput={(event) => setLot(event.currentTarget.value)} />
          <small>{words.say("coupon.lot-hint")}</small>
        </label>
        <Choice
          label={words.say("coupon.beside")}
          options={bays.map((value) => ({ value, text: words.bay(value) }))}
          value={bay}
          onChoose={setBay}
        />
        <NumberField label={words.say("coupon.area")} text={area} limits={area_limits} words={words} onInput={setArea} />
        <NumberField label={words.say("coupon.water")} text={water} limits={water_limits} words={words} onInput={setWater} />
        <button
          type="button"
          class="primary wide"
          disabled={area_m2 === null || water_grams === null}
          onClick={() => {
            if (area_m2 !== null && water_grams !== null) {
              tell({ what: "coupon-laid", film, lot: lot.trim(), bay, area_m2, water_grams }, words.say("coupon.plate-laid"));
            }
          }}
        >
          {words.title("lay.laid-now", { again: "no" })}
        </button>
      </section>
      <section aria-labelledby="begin-bond">
        <h3 id="begin-bond">{words.say("coupon.begin-bond")}</h3>
        <p class="small">{words.say("coupon.how-bond")}</p>
        <button
          type="button"
          class="wide"
          onClick={() => tell({ what: "bond-coupon-laid", film, lot: lot.trim(), bay }, words.say("coupon.strips-laid"))}
        >
          {words.say("coupon.strips-laid")}
        </button>
      </section>
    </>
  );
}
