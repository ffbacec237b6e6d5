// What can be taken away from a vehicle: its evidence, and the customer's receipt and sheet.
import type { JSX } from "preact";
import type { Vehicle } from "../data/api";
import type { Words } from "../words/words";

export function RecordLinks({ vehicle, words }: { vehicle: Vehicle; words: Words }): JSX.Element {
  const at = `/api/v1/vehicles/${vehicle.id}`;
  return (
    <>
      <a class="button" href={`${at}/receipt.pdf`} download>
        {words.say("vehicle.receipt")}
      </a>
      <a class="button" href={`${at}/handover.pdf`} download>
        {words.say("vehicle.hand-over-sheet")}
      </a>
      <a class="button" href={`${at}/record.pdf`} download>
        {words.say("vehicle.record")}
      </a>
      <a class="button" href={`${at}/record.zip`} download>
        {words.say("vehicle.record-with-data")}
      </a>
    </>
  );
}
