// One vehicle: the board's lists of its pieces alone, and what can be done to it.
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { baysOf, type Board, type Vehicle } from "../data/api";
import { useWhen, WhenBar } from "../parts/late";
import { AllEvents } from "../parts/events";
import { Back, Caution, Title, useNow } from "../parts/parts";
import { PersonalPart } from "../parts/personal";
import { type Filter, FilterBar, no_filter, passes } from "../parts/filter";
import { PieceLists } from "../parts/piece_lists";
import { ToLayList } from "../parts/plan";
import { RecheckScreen } from "./recheck";
import { Release } from "../parts/release_state";
import { RecordLinks } from "../parts/record_links";
import { laidNow } from "../parts/steps";
import { VehicleMore } from "../parts/vehicle_more";
import type { Words } from "../words/words";

const filtered_from = 8; // pieces: fewer are seen at a glance

interface Props {
  vehicle: Vehicle;
  board: Board;
  open: number | null;
  words: Words;
}

export function VehicleScreen(props: Props): JSX.Element {
  const { vehicle, board, words } = props;
  const now = useNow();
  const when = useWhen(words);
  const [filter, setFilter] = useState<Filter>(no_filter);
  if (vehicle.released) {
    return <RecheckScreen vehicle={vehicle} applied={board.applied} words={words} />;
  }
  const laid = laidNow(vehicle);
  const ended = vehicle.pieces.filter((piece) => piece.removed || piece.replaced_by !== null);
  return (
    <>
      <Back to="#/">{words.say("page.board")}</Back>
      <Title words={words}>
        {vehicle.reference} <small>{words.bay(vehicle.bay)}</small>
      </Title>
      <Release vehicle={vehicle} words={words} />
      <p class="actions">
        <a class="button primary deed" href={`#/vehicle/${vehicle.id}/lay`}>
          {words.say("lay.lay-a-piece")}
        </a>
        <a class="button deed" href={`#/vehicle/${vehicle.id}/release`}>
          {words.say("release.release")}
        </a>
      </p>
      {laid.length > 0 && <WhenBar when={when} words={words} />}
      {laid.length > filtered_from && <FilterBar pieces={laid} filter={filter} words={words} onFilter={setFilter} />}
      <PieceLists vehicles={[vehicle]} bays={board.bays} words={words} when={when} open={props.open} only={(line) => passes(line, filter)} />
      <ToLayList vehicle={vehicle} words={words} />
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
      <PersonalPart vehicle={vehicle} words={words} />
      <p class="actions">
        <RecordLinks vehicle={vehicle} words={words} />
      </p>
      <AllEvents vehicle={vehicle} applied={board.applied} words={words} />
      {laid.length > 0 && (
        <details>
          <summary>{words.say("settings.cautions")}</summary>
          <Caution>{words.say("cautions.advice")}</Caution>
          <Caution>{words.say("cautions.heat")}</Caution>
          <Caution>{words.say("cautions.systems")}</Caution>
        </details>
      )}
      <VehicleMore vehicle={vehicle} bays={baysOf(board)} words={words} when={when} />
    </>
  );
}
