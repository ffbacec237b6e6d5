// Handing over: what is still wet is said, told and kept.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Piece, Vehicle } from "../data/api";
import { Release } from "./board";
import { useWhen, WhenBar } from "../parts/late";
import { Back, Caution, laidNow } from "../parts/parts";
import { cautions, type Words } from "../words/words";

const dry = (piece: Piece): boolean => piece.milestones.some((one) => one.which === "dry" && one.announced !== null);

export function ReleaseScreen({ vehicle, words }: { vehicle: Vehicle; words: Words }): JSX.Element {
  const [advised, setAdvised] = useState("");
  const when = useWhen(words);
  const wet = laidNow(vehicle).filter((piece) => !dry(piece));
  const early = vehicle.release_ready === null && laidNow(vehicle).length > 0;
  return (
    <>
      <Back to={`#/vehicle/${vehicle.id}`}>{vehicle.reference}</Back>
      <h2>Release {vehicle.reference}</h2>
      <Release vehicle={vehicle} words={words} />
      {wet.length > 0 && (
        <section aria-labelledby="wet">
          <h3 id="wet">Still wet</h3>
          <ul class="plain">
            {wet.map((piece) => (
              <li key={piece.id}>
                <b>{words.piece(piece)}</b> {words.sentence(piece.milestones.find((one) => one.which === "dry")?.held_by ?? "")}
              </li>
            ))}
          </ul>
        </section>
      )}
      <Caution>{cautions.advice}</Caution>
      <Caution>{cautions.systems}</Caution>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (when.tell({ what: "released", vehicle: vehicle.id, ...(advised === "" ? {} : { advised }) }, `${vehicle.reference} released${when.after}`)) {
            location.hash = "#/";
          }
        }}
      >
        {early && (
          <label class="field">
            <span>What the customer was told</span>
            <textarea
              required
              rows={3}
              maxLength={1000}
              value={advised}
              placeholder="Keep it dry and out of the wash until ...; edges to be looked at on ..."
              onInput={(event) => setAdvised(event.currentTarget.value)}
            />
          </label>
        )}
        <WhenBar when={when} />
        <button type="submit" class="primary wide">
          {early ? "Release early" : "Release"}
        </button>
      </form>
    </>
  );
}
