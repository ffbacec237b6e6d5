// The coupon test: a plate with film and a little water under it, weighed for a day.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Catalogue } from "../data/api";
import { Back, Choice, Pick, useNow } from "../parts/parts";
import { type Coupon, getCoupons } from "../data/api";
import { useAsked } from "./sensors";
import { tell } from "../data/store";
import type { Words } from "../words/words";

const numberOf = (text: string): number | null => {
  const value = Number(text.replace(",", "."));
  return text.trim() !== "" && Number.isFinite(value) && value > 0 ? value : null;
};

function NumberField(props: { label: string; value: string; onInput: (text: string) => void }): JSX.Element {
  return (
    <label class="field">
      <span>{props.label}</span>
      <input inputMode="decimal" value={props.value} onInput={(event) => props.onInput(event.currentTarget.value)} />
    </label>
  );
}

// "4.5e+9" as people print it.
function inPrint(value: number): string {
  const [digits = "", power = "0"] = value.toExponential(1).split("e");
  return `${digits} × 10${[...String(Number(power))].map((one) => (one === "-" ? "⁻" : "⁰¹²³⁴⁵⁶⁷⁸⁹"[Number(one)])).join("")}`;
}

function Weighed({ coupon, label, words }: { coupon: Coupon; label: string; words: Words }): JSX.Element {
  const now = useNow();
  const [grams, setGrams] = useState("");
  const value = numberOf(grams);
  const { measured, result } = coupon;
  return (
    <article class="card">
      <h3>
        {label} {coupon.lot && <small>lot {coupon.lot}</small>} <small>bay {coupon.bay}</small>
      </h3>
      <p class="small">Laid {words.when(coupon.laid, now)}.</p>
      <ul class="plain">
        {coupon.weighings.map((weighing) => (
          <li key={weighing.event}>
            {words.when(weighing.at, now)}: <b>{weighing.grams.toFixed(2)} g</b>
          </li>
        ))}
      </ul>
      {measured ? (
        <p>
          Kept: {inPrint(measured.resistance)} m² s Pa/kg within {Math.round(100 * measured.relative_uncertainty)} %.
        </p>
      ) : (
        <>
          <p role="status">{words.sentence(coupon.text)}</p>
          <form
            class="own"
            onSubmit={(event) => {
              event.preventDefault();
              if (value !== null) {
                tell({ what: "coupon-weighed", coupon: coupon.coupon, grams: value }, `${value} g`);
                setGrams("");
              }
            }}
          >
            <NumberField label="Grams now" value={grams} onInput={setGrams} />
            <button type="submit" disabled={value === null}>
              Weighed
            </button>
          </form>
          {result && (
            <button type="button" class="primary wide" onClick={() => tell(result, `${label} measured`)}>
              Keep this for what is laid from now on
            </button>
          )}
        </>
      )}
    </article>
  );
}

export function CouponScreen({ catalogue, bays, words }: { catalogue: Catalogue; bays: string[]; words: Words }): JSX.Element {
  const { answer } = useAsked<{ coupons: Coupon[] }>(getCoupons);
  const [film, setFilm] = useState(catalogue.films[0]?.key ?? "");
  const [bay, setBay] = useState(bays[0] ?? "");
  const [lot, setLot] = useState("");
  const [area, setArea] = useState("0.09");
  const [water, setWater] = useState("0.9");
  const area_m2 = numberOf(area);
  const water_grams = numberOf(water);
  return (
    <>
      <Back to="#/settings">Settings</Back>
      <h2>What a film resists</h2>
      <div class="cards">
        {answer?.coupons.map((coupon) => (
          <Weighed
            key={coupon.coupon}
            coupon={coupon}
            label={catalogue.films.find((one) => one.key === coupon.film)?.label ?? coupon.film}
            words={words}
          />
        ))}
      </div>
      <section aria-labelledby="begin">
        <h3 id="begin">Lay a test plate</h3>
        <p class="small">
          A painted plate, film with a little water under it, its edges sealed with tape. Weigh it to 0.01 g, now and about every hour for a
          day, lying beside the bay's sensor.
        </p>
        <Pick label="Film" options={catalogue.films} value={film} onPick={setFilm} />
        <label class="field">
          <span>Lot of the roll</span>
          <input value={lot} maxLength={60} onInput={(event) => setLot(event.currentTarget.value)} />
          <small>Left empty: it counts for every lot.</small>
        </label>
        <Choice label="Beside the sensor of bay" options={bays.map((value) => ({ value, text: value }))} value={bay} onChoose={setBay} />
        <NumberField label="Area with water under it, m²" value={area} onInput={setArea} />
        <NumberField label="Water under it, g" value={water} onInput={setWater} />
        <button
          type="button"
          class="primary wide"
          disabled={area_m2 === null || water_grams === null}
          onClick={() => {
            if (area_m2 !== null && water_grams !== null) {
              tell({ what: "coupon-laid", film, lot, bay, area_m2, water_grams }, "Test plate laid");
            }
          }}
        >
          Laid now
        </button>
      </section>
    </>
  );
}
