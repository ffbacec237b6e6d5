// Plate and customer of one vehicle: shown where somebody looks for them, and erased for good when asked.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { getPersonal, type Vehicle } from "../data/api";
import { useAnswer } from "./asked";
import { tell, useKnown } from "../data/store";
import type { Words } from "../words/words";

export function PersonalPart({ vehicle, words }: { vehicle: Vehicle; words: Words }): JSX.Element | null {
  const [asking, setAsking] = useState(false);
  const { last } = useKnown();
  const { answer: kept } = useAnswer(() => getPersonal(vehicle.id), [vehicle.id, last]);
  if (!kept || (kept.plate === null && kept.customer === null)) {
    return null;
  }
  return (
    <section class="deed personal" aria-label={words.say("arrive.plate-and-customer")}>
      <p>
        {kept.plate !== null && (
          <>
            {words.say("arrive.plate")} <b>{kept.plate}</b>{" "}
          </>
        )}
        {kept.customer !== null && (
          <>
            {words.say("arrive.customer")} <b>{kept.customer}</b>
          </>
        )}
      </p>
      {!asking && (
        <button type="button" onClick={() => setAsking(true)}>
          {words.say("arrive.erase")}
        </button>
      )}
      {asking && (
        <div role="alertdialog" aria-label={words.say("arrive.erase")}>
          <p>{words.say("arrive.erase-question", { reference: vehicle.reference })}</p>
          <p class="actions">
            <button
              type="button"
              onClick={() => {
                setAsking(false);
                tell({ what: "forgotten", vehicle: vehicle.id }, words.about(vehicle.reference, words.say("vehicle.event-forgotten")));
              }}
            >
              {words.say("arrive.erase-for-good")}
            </button>
            <button type="button" onClick={() => setAsking(false)}>
              {words.say("arrive.keep-them")}
            </button>
          </p>
        </div>
      )}
    </section>
  );
}
