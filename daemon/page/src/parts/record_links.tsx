// What can be taken away from a vehicle: its evidence, and the customer's receipt and sheet.
import type { JSX } from "preact";
import type { Vehicle } from "../data/api";

export function RecordLinks({ vehicle }: { vehicle: Vehicle }): JSX.Element {
  const at = `/api/v1/vehicles/${vehicle.id}`;
  return (
    <>
      <a class="button" href={`${at}/receipt.pdf`} download>
        Receipt
      </a>
      <a class="button" href={`${at}/handover.pdf`} download>
        Hand-over sheet
      </a>
      <a class="button" href={`${at}/record.pdf`} download>
        Record
      </a>
      <a class="button" href={`${at}/record.zip`} download>
        Record with data
      </a>
    </>
  );
}
