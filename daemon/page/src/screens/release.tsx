// Handing over: what should not leave yet is said, told and kept.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Piece, Vehicle } from "../data/api";
import { useWhen, WhenBar } from "../parts/late";
import { Back, Caution, Title } from "../parts/parts";
import { Release } from "../parts/release_state";
import { laidNow, milestoneOf } from "../parts/steps";
import type { Words } from "../words/words";

const mayLeave = (piece: Piece): boolean => milestoneOf(piece, "may-leave")?.announced != null;
function heldBack(piece: Piece, words: Words): string {
  const leaving = milestoneOf(piece, "may-leave");
  return leaving ? words.sentence(leaving.held_by) : "";
}

export function ReleaseScreen({ vehicle, words }: { vehicle: Vehicle; words: Words }): JSX.Element {
  const [advised, setAdvised] = useState("");
  const when = useWhen(words);
  const waiting = laidNow(vehicle).filter((piece) => !mayLeave(piece));
  const early = vehicle.release_ready === null && laidNow(vehicle).length > 0;
  return (
    <>
      <Back to={`#/vehicle/${vehicle.id}`}>{vehicle.reference}</Back>
      <Title words={words}>{words.say("release.title", { reference: vehicle.reference })}</Title>
      <Release vehicle={vehicle} words={words} />
      {waiting.length > 0 && (
        <section aria-labelledby="not-yet">
          <h3 id="not-yet">{words.say("release.not-yet")}</h3>
          <ul class="plain">
            {waiting.map((piece) => (
              <li key={piece.id}>
                <b>{words.piece(piece)}</b> {heldBack(piece, words)}
              </li>
            ))}
          </ul>
        </section>
      )}
      <Caution>{words.say("cautions.advice")}</Caution>
      <Caution>{words.say("cautions.systems")}</Caution>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          const told = advised.trim();
          if (early && told === "") {
            setAdvised(""); // blanks say nothing: the field asks again
            return;
          }
          const said = words.say("release.said", { reference: vehicle.reference });
          if (when.tell({ what: "released", vehicle: vehicle.id, ...(told === "" ? {} : { advised: told }) }, said)) {
            location.hash = "#/";
          }
        }}
      >
        {early && (
          <label class="field">
            <span>{words.say("release.advised")}</span>
            <textarea
              required
              rows={3}
              maxLength={1000}
              value={advised}
              placeholder={words.say("release.advised-example")}
              onInput={(event) => setAdvised(event.currentTarget.value)}
            />
          </label>
        )}
        <WhenBar when={when} words={words} />
        <button type="submit" class="primary wide">
          {words.say(early ? "release.release-early" : "release.release")}
        </button>
      </form>
    </>
  );
}
