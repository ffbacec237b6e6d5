// One vehicle: its pieces, and what can be done to it.
import type { JSX } from "preact";
import type { Vehicle } from "../data/api";
import { Release } from "./board";
import { useWhen, WhenBar } from "../parts/late";
import { AllEvents } from "../parts/events";
import { Back, Caution, laidNow, useNow } from "../parts/parts";
import { PersonalPart } from "../parts/personal";
import { PieceCard } from "../parts/piece";
import { ToLayList } from "../parts/plan";
import { RecheckScreen } from "./recheck";
import { RecordLinks } from "../parts/record_links";
import { VehicleMore } from "../parts/vehicle_more";
import { cautions, type Words } from "../words/words";

export function VehicleScreen(props: { vehicle: Vehicle; bays: string[]; applied: number; open: number | null; words: Words }): JSX.Element {
  const { vehicle, words } = props;
  const now = useNow();
  const when = useWhen(words);
  if (vehicle.released) {
    return <RecheckScreen vehicle={vehicle} applied={props.applied} words={words} />;
  }
  const ended = vehicle.pieces.filter((piece) => piece.removed || piece.replaced_by !== null);
  return (
    <>
      <Back to="#/">Board</Back>
      <h2>
        {vehicle.reference} <small>{vehicle.bay}</small>
      </h2>
      <Release vehicle={vehicle} words={words} />
      <PersonalPart vehicle={vehicle} />
      <p class="actions">
        <a class="button primary deed" href={`#/vehicle/${vehicle.id}/lay`}>
          Lay a piece
        </a>
        <a class="button deed" href={`#/vehicle/${vehicle.id}/release`}>
          Release
        </a>
      </p>
      <ToLayList vehicle={vehicle} words={words} />
      {laidNow(vehicle).length > 0 && (
        <div class="cautions">
          <Caution>{cautions.advice}</Caution>
          <Caution>{cautions.heat}</Caution>
          <Caution>{cautions.systems}</Caution>
        </div>
      )}
      {laidNow(vehicle).length > 0 && (
        <p class="small">
          1 g/m² of water is a layer one thousandth of a millimetre thin. A standard hour dries as much as one hour at {words.temperature(21)} and 50 % humidity.
        </p>
      )}
      <WhenBar when={when} />
      {laidNow(vehicle).map((piece) => (
        <PieceCard key={piece.id} vehicle={vehicle} piece={piece} words={words} open={piece.id === props.open} when={when} />
      ))}
      {ended.length > 0 && (
        <details>
          <summary>Pulled or laid again ({ended.length})</summary>
          <ul class="plain">
            {ended.map((piece) => (
              <li key={piece.id}>
                {words.piece(piece)}, laid {words.when(piece.laid, now)},{" "}
                {piece.replaced_by !== null ? "laid again since" : "pulled off"}
              </li>
            ))}
          </ul>
        </details>
      )}
      <p class="actions">
        <RecordLinks vehicle={vehicle} />
      </p>
      <AllEvents vehicle={vehicle} applied={props.applied} words={words} />
      <VehicleMore vehicle={vehicle} bays={props.bays} words={words} when={when} />
    </>
  );
}
