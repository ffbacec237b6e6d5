// Plate and customer of one vehicle: shown where somebody looks for them, and erased for good when asked.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { getPersonal, type Personal, type Vehicle } from "../data/api";
import { tell, useKnown } from "../data/store";

export function PersonalPart({ vehicle }: { vehicle: Vehicle }): JSX.Element | null {
  const [kept, setKept] = useState<Personal | null>(null);
  const [asking, setAsking] = useState(false);
  const { last } = useKnown();
  useEffect(() => {
    let current = true;
    getPersonal(vehicle.id)
      .then((answer) => current && setKept(answer))
      .catch(() => undefined); // the link's state tells
    return () => {
      current = false;
    };
  }, [vehicle.id, last]);
  if (!kept || (kept.plate === null && kept.customer === null)) {
    return null;
  }
  return (
    <section class="deed personal" aria-label="Plate and customer">
      <p>
        {kept.plate !== null && (
          <>
            Plate <b>{kept.plate}</b>{" "}
          </>
        )}
        {kept.customer !== null && (
          <>
            Customer <b>{kept.customer}</b>
          </>
        )}
      </p>
      {!asking && (
        <button type="button" onClick={() => setAsking(true)}>
          Erase plate and customer
        </button>
      )}
      {asking && (
        <div role="alertdialog" aria-label="Erase plate and customer">
          <p>
            Erase plate and customer of {vehicle.reference} for good? This cannot be undone. The drying record stays and still
            verifies; printed sheets, saved records and back-ups keep what they have.
          </p>
          <p class="actions">
            <button
              type="button"
              onClick={() => {
                setAsking(false);
                tell({ what: "forgotten", vehicle: vehicle.id }, `${vehicle.reference}: plate and customer erased`);
              }}
            >
              Erase for good
            </button>
            <button type="button" onClick={() => setAsking(false)}>
              Keep them
            </button>
          </p>
        </div>
      )}
    </section>
  );
}
