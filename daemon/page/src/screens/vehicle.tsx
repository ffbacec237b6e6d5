// One vehicle: its pieces, and what can be done to it.
import type { JSX } from "preact";
import type { Vehicle } from "../data/api";
import { Release } from "./board";
import { useWhen, WhenBar } from "../parts/late";
import { AllEvents } from "../parts/events";
import { Back, Caution, useNow } from "../parts/parts";
import { PersonalPart } from "../parts/personal";
import { PieceCard } from "../parts/piece";
import { ToLayList } from "../parts/plan";
import { RecheckScreen } from "./recheck";
import { RecordLinks } from "../parts/record_links";
import { laidNow } from "../parts/steps";
import { VehicleMore } from "../parts/vehicle_more";
import type { Words } from "../words/words";

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
      <Back to="#/">{words.say("page.board")}</Back>
      <h2>
        {vehicle.reference} <small>{words.bay(vehicle.bay)}</small>
      </h2>
      <Release vehicle={vehicle} words={words} />
      <PersonalPart vehicle={vehicle} words={words} />
      <p class="actions">
        <a class="button primary deed" href={`#/vehicle/${vehicle.id}/lay`}>
          {words.say("lay.lay-a-piece")}
        </a>
        <a class="button deed" href={`#/vehicle/${vehicle.id}/release`}>
          {words.say("release.release")}
        </a>
      </p>
      <ToLayList vehicle={vehicle} words={words} />
      {laidNow(vehicle).length > 0 && (
        <div class="cautions">
          <Caution>{words.say("cautions.advice")}</Caution>
          <Caution>{words.say("cautions.heat")}</Caution>
          <Caution>{words.say("cautions.systems")}</Caution>
        </div>
      )}
      {laidNow(vehicle).length > 0 && (
        <p class="small">
          {words.say("vehicle.units", {
            water: words.say("units.water", { n: words.number(1, 0) }),
            air: words.temperature(21),
            humidity: words.percent(50),
          })}
        </p>
      )}
      <WhenBar when={when} words={words} />
      {laidNow(vehicle).map((piece) => (
        <PieceCard key={piece.id} vehicle={vehicle} piece={piece} words={words} open={piece.id === props.open} when={when} />
      ))}
      {ended.length > 0 && (
        <details>
          <summary>{words.say("vehicle.ended", { count: words.number(ended.length, 0) })}</summary>
          <ul class="plain">
            {ended.map((piece) => (
              <li key={piece.id}>
                {words.say(piece.replaced_by !== null ? "vehicle.ended-laid-again" : "vehicle.ended-pulled-off", {
                  piece: words.piece(piece),
                  when: words.when(piece.laid, now),
                })}
              </li>
            ))}
          </ul>
        </details>
      )}
      <p class="actions">
        <RecordLinks vehicle={vehicle} words={words} />
      </p>
      <AllEvents vehicle={vehicle} applied={props.applied} words={words} />
      <VehicleMore vehicle={vehicle} bays={props.bays} words={words} when={when} />
    </>
  );
}
