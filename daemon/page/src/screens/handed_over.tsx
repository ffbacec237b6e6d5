// Vehicles that have left: which are due for their recheck, and each as it was.
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import { getHandedOver, getPastVehicle, type HandedOver, Refusal, type Vehicle } from "../data/api";
import { Back, Title, useNow } from "../parts/parts";
import { RecheckScreen } from "./recheck";
import type { Words } from "../words/words";

const asked_again = 15 * 60_000; // ms: weeks do not hurry
const tried_again = 10_000; // where no answer came

// `applied`: the board's last event; after each the list is asked for again.
export function useHandedOver(applied: number): HandedOver[] | null {
  const now = useNow();
  const [list, setList] = useState<HandedOver[] | null>(null);
  const [missed, setMissed] = useState(false);
  const turn = Math.floor(now.getTime() / (missed ? tried_again : asked_again));
  useEffect(() => {
    let current = true;
    getHandedOver()
      .then(({ vehicles }) => {
        if (current) {
          setList(vehicles);
          setMissed(false);
        }
      })
      .catch(() => current && setMissed(true)); // the link's state tells
    return () => {
      current = false;
    };
  }, [applied, turn]);
  return list;
}

const isDone = (vehicle: HandedOver): boolean => vehicle.pieces.every((piece) => piece.rechecked !== null); // where no film is too
export const isDue = (vehicle: HandedOver, now: Date): boolean => !isDone(vehicle) && now >= new Date(vehicle.recheck_from);

function state(vehicle: HandedOver, now: Date, words: Words): string {
  if (vehicle.pieces.length === 0) {
    return words.say("limits.no-film");
  }
  const lifting = vehicle.pieces.filter((piece) => piece.finding === "lifting").length;
  if (isDone(vehicle)) {
    return words.say("rechecks.rechecked", { lifting });
  }
  return now < new Date(vehicle.recheck_from)
    ? words.say("rechecks.from", { day: words.dayOf(vehicle.recheck_from) })
    : now <= new Date(vehicle.recheck_until)
      ? words.say("rechecks.due-until", { day: words.dayOf(vehicle.recheck_until) })
      : words.say("rechecks.was-due", { day: words.dayOf(vehicle.recheck_until) });
}

export function HandedOverRow({ vehicle, words }: { vehicle: HandedOver; words: Words }): JSX.Element {
  const now = useNow();
  return (
    <li>
      <a href={`#/past/${vehicle.id}`}>
        <b>{vehicle.reference}</b> {state(vehicle, now, words)}
      </a>
    </li>
  );
}

export function HandedOverScreen({ applied, words }: { applied: number; words: Words }): JSX.Element {
  const list = useHandedOver(applied);
  return (
    <>
      <Back to="#/">{words.say("page.board")}</Back>
      <Title words={words}>{words.say("rechecks.handed-over")}</Title>
      <p class="small">{words.say("rechecks.handed-over-hint")}</p>
      {list === null && <p class="empty">{words.say("rechecks.asking")}</p>}
      {list?.length === 0 && <p class="empty">{words.say("rechecks.none-handed-over")}</p>}
      <ul class="rows">
        {list?.map((vehicle) => (
          <HandedOverRow key={vehicle.id} vehicle={vehicle} words={words} />
        ))}
      </ul>
    </>
  );
}

export function PastScreen({ id, applied, words }: { id: number; applied: number; words: Words }): JSX.Element {
  const [vehicle, setVehicle] = useState<Vehicle | null>(null);
  const [failed, setFailed] = useState<string | null>(null); // why; empty: no answer
  useEffect(() => {
    let current = true;
    getPastVehicle(id)
      .then((past) => current && setVehicle(past))
      .catch((error: unknown) => current && setFailed(error instanceof Refusal ? error.message : ""));
    return () => {
      current = false;
    };
  }, [id]);
  return vehicle ? (
    <RecheckScreen vehicle={vehicle} applied={applied} past words={words} />
  ) : (
    <>
      <Back to="#/handed-over">{words.say("rechecks.handed-over")}</Back>
      <p class="empty" role="status">
        {failed === null ? words.say("rechecks.reading") : failed || words.say("page.no-answer-later")}
      </p>
    </>
  );
}
