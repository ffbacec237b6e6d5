// What can be taken away from a vehicle: its evidence, and the customer's receipt and sheet.
import type { JSX } from "preact";
import type { Vehicle } from "../data/api";
import type { Words } from "../words/words";

const papers = [
  ["receipt.pdf", "vehicle.receipt"],
  ["handover.pdf", "vehicle.hand-over-sheet"],
  ["record.pdf", "vehicle.record"],
  ["record.zip", "vehicle.record-with-data"],
] as const;

export function RecordLinks({ vehicle, words }: { vehicle: Vehicle; words: Words }): JSX.Element {
  return (
    <>
      {papers.map(([file, label]) => (
        <a key={file} class="button" href={`/api/v1/vehicles/${vehicle.id}/${file}?language=${words.site.language}`} download>
          {words.say(label)}
        </a>
      ))}
    </>
  );
}
