// A vehicle that came in without a connection: it stands on the board until the daemon has it, and pieces can be laid.
import type { JSX } from "preact";
import type { Board, Vehicle } from "../data/api";
import { Back, Title } from "./parts";
import type { Waiting } from "../data/queue";
import type { Words } from "../words/words";

export function withWaiting(board: Board, waiting: Waiting[]): Board {
  const here = new Set(board.vehicles.filter((one) => !one.released).map((one) => one.reference));
  const more = waiting.flatMap(({ deed, at, stand_in }): Vehicle[] =>
    deed.what === "vehicle-in" && stand_in !== undefined && !here.has(deed.reference)
      ? [
          {
            id: stand_in,
            reference: deed.reference,
            bay: deed.bay,
            arrived: at,
            hand_over: deed.hand_over ?? null,
            released: null,
            to_lay: [],
            pieces: [],
            release_probability: 0,
            release_look: null,
            release_ready: null,
            release_announces: null,
            release_expected: { early: null, likely: null, late: null },
            full_strength: null,
            held_by: { key: "", values: [] },
            hand_over_probability: null,
          },
        ]
      : [],
  );
  return more.length > 0 ? { ...board, vehicles: [...board.vehicles, ...more] } : board;
}

export function WaitingVehicle({ vehicle, words }: { vehicle: Vehicle; words: Words }): JSX.Element {
  return (
    <>
      <Back to="#/">{words.say("page.board")}</Back>
      <Title words={words}>
        {vehicle.reference} <small>{words.bay(vehicle.bay)}</small>
      </Title>
      <p class="empty">{words.say("vehicle.waits-for-connection")}</p>
      <p class="actions">
        <a class="button primary" href={`#/vehicle/${vehicle.id}/lay`}>
          {words.say("lay.lay-a-piece")}
        </a>
      </p>
    </>
  );
}
